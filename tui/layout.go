package tui

// The smallest terminal that the explorer is laid out for.
const (
	leastWidth  = 80
	leastHeight = 24
)

// rect is a part of the screen in cells, from the top left corner.
type rect struct{ x, y, w, h int }

func (r rect) holds(x, y int) bool { return x >= r.x && x < r.x+r.w && y >= r.y && y < r.y+r.h }

// panes says where each pane lies. The header takes the first line, the footer
// the last.
type panes struct {
	side, chart, figures, bolts rect
}

// layout divides a screen. Wide screens have three columns: the side view, the
// map, the figures with the bolts below; narrower ones two, with the map below
// the side view. The figures keep the width that they need.
func layout(w, h int) panes {
	const top = 1
	body := h - 2
	right := 42
	switch {
	case w >= 150:
		right = 50
	case w >= 110:
		right = 46
	}
	figures := figureLines
	if body <= tightBody {
		figures = figureLines - 1
	}
	if w >= 150 {
		figures = figureLines + 1
	}
	left := w - right - 1
	p := panes{
		figures: rect{left + 1, top, right, figures},
		bolts:   rect{left + 1, top + figures, right, body - figures},
	}
	if w >= 150 {
		side := left*55/100 - 1
		p.side = rect{0, top, side, body}
		p.chart = rect{side + 1, top, left - side - 1, body}
		return p
	}
	side := body * 55 / 100
	p.side = rect{0, top, left, side}
	p.chart = rect{0, top + side, left, body - side}
	return p
}

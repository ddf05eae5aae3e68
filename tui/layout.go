package tui

import (
	"stanchion/tui/widgets"
)

// The smallest terminal that the explorer is laid out for.
const (
	minWidth  = 80
	minHeight = 24
)

// panes says where each pane lies. The header takes the first line, the footer
// the last.
type panes struct {
	side, chart, figures, bolts widgets.Rect
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
		figures: widgets.Rect{X: left + 1, Y: top, W: right, H: figures},
		bolts:   widgets.Rect{X: left + 1, Y: top + figures, W: right, H: body - figures},
	}
	if w >= 150 {
		side := left*55/100 - 1
		p.side = widgets.Rect{X: 0, Y: top, W: side, H: body}
		p.chart = widgets.Rect{X: side + 1, Y: top, W: left - side - 1, H: body}
		return p
	}
	side := body * 55 / 100
	p.side = widgets.Rect{X: 0, Y: top, W: left, H: side}
	p.chart = widgets.Rect{X: 0, Y: top + side, W: left, H: body - side}
	return p
}

package tui

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"stanchion/model"
	"stanchion/model/bolting"
	"stanchion/tui/widgets"
)

// cellText draws one cell: the figure, its shade and its marks.
func (m Model) cellText(p *painted, at bolting.Cell, w int) string {
	if m.grid.Columns[at.Column].Slot != "" {
		return m.slotText(p, at, w)
	}
	s, ok := m.grid.Setting(at)
	if !ok {
		return strings.Repeat(" ", w)
	}
	r := &m.table.Rows[s.Row]
	text := "–"
	if v := p.values[s.Row]; !math.IsNaN(v) {
		text = paintings()[m.paint].cell(m, r, v)
	}
	open, shut := " ", m.markOf(r)
	style := m.shadeOf(p, s.Row)
	if shut != " " {
		style = outsideBrush
	} else if slices.Contains(m.added, s.Row) {
		shut, style = "+", newBrush
	}
	switch {
	case s.ID == m.row().ID:
		open, shut, style = "[", strings.TrimSpace(shut)+"]", selectedBrush
	case s.ID == m.keptID:
		open, shut, style = "(", strings.TrimSpace(shut)+")", keptBrush
	case s.ID == m.onCar:
		open, shut, style = "<", strings.TrimSpace(shut)+">", keptBrush
	}
	text = open + text + shut
	n := ansi.StringWidth(text)
	if n > w && open == " " {
		text = text[1:]
		n--
	}
	if n > w {
		return style.Paint(ansi.Truncate(text, w, ""))
	}
	left := w - n
	if shut == " " || len([]rune(shut)) == 1 {
		left = max(0, w-n-max(0, (w-7)/2))
	}
	return strings.Repeat(" ", left) + style.Paint(text) + strings.Repeat(" ", w-n-left)
}

// markOf is the mark of a setting that breaks a limit or is stalled.
func (m Model) markOf(r *model.Row) string {
	switch {
	case !r.Within():
		return "×"
	case r.Stalled:
		return "~"
	}
	return " "
}

// plainBrush paints nothing.
var plainBrush = widgets.NewBrush(titleStyle.Bold(false))

// shadeOf is the shade of a row's value.
func (m Model) shadeOf(p *painted, row int) *widgets.Brush {
	if k := p.step(p.values[row], len(shadeBrushes)); k >= 0 {
		return shadeBrushes[k]
	}
	return plainBrush
}

// slotText draws the places of a slot as one band, from the figure at its one end to that at its
// other, with a mark where the bolt is.
func (m Model) slotText(p *painted, at bolting.Cell, w int) string {
	fits := len(m.grid.Columns[at.Column].Fits)
	here, _ := m.grid.Cell(m.row().ID)
	kept, _ := m.grid.Cell(m.keptID)
	end := func(place int) string {
		s, ok := m.grid.Setting(bolting.Cell{Line: at.Line, Column: at.Column, Place: place})
		if !ok || math.IsNaN(p.values[s.Row]) {
			return "–"
		}
		return paintings()[m.paint].cell(m, &m.table.Rows[s.Row], p.values[s.Row])
	}
	first, last := end(0), end(fits-1)
	n := w - 16
	var b strings.Builder
	b.WriteString(fmt.Sprintf(" %6s ", first))
	for x := range n {
		place := 0
		if n > 1 {
			place = int(math.Round(float64(x) / float64(n-1) * float64(fits-1)))
		}
		cell := bolting.Cell{Line: at.Line, Column: at.Column, Place: place}
		s, ok := m.grid.Setting(cell)
		sign, style := " ", plainBrush
		if ok {
			sign, style = "─", m.shadeOf(p, s.Row)
			if !m.table.Rows[s.Row].Within() {
				sign, style = "×", outsideBrush
			}
		}
		mid := int(math.Round(float64(here.Place) / float64(max(fits-1, 1)) * float64(n-1)))
		switch {
		case here.Line == at.Line && here.Column == at.Column && x == mid:
			sign, style = "◆", selectedBrush
		case m.keptID != "" && kept.Line == at.Line && kept.Column == at.Column && place == kept.Place:
			sign, style = "◇", keptBrush
		}
		b.WriteString(style.Paint(sign))
	}
	b.WriteString(fmt.Sprintf(" %-6s ", last))
	return b.String()
}

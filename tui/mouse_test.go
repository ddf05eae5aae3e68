package tui

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model/bolting"
	"stanchion/tui/widgets"
)

func click(x, y int) tea.MouseMsg {
	return tea.MouseMsg{X: x, Y: y, Action: tea.MouseActionPress, Button: tea.MouseButtonLeft}
}

// A click on a figure of the map of places or on a cell of the table goes to its setting, at home and on the
// large ones.
func TestMouseSelects(t *testing.T) {
	m := opened(t, "coupe", 120, 40)
	for i := range m.table.Rows {
		p := m.panes()
		c := m.chartFor(p.chart.W, p.chart.H-1-len(m.mapLegend(p.chart.W, p.chart.H-1)))
		x, y := c.cell(&m.table.Rows[i])
		if got := send(m, click(p.chart.X+c.left+1+x, p.chart.Y+1+y)); got.current != i {
			t.Errorf("a click on setting %d of the map goes to %d", i, got.current)
		}
		cell, _ := m.grid.Cell(m.table.Rows[i].ID)
		l, _ := m.holeTableIn(p.table.W, p.table.H-1-len(m.tableLegend(p.table.W)))
		if got := send(m, click(p.table.X+l.left+l.xs[cell.Column]+3, p.table.Y+1+l.head+cell.Line)); got.row().ID != m.table.Rows[i].ID {
			t.Errorf("a click on %s in the table goes to %s", m.table.Rows[i].ID, got.row().ID)
		}
	}
	if got := send(m, click(0, 0)); got.current != m.current || !got.walking() {
		t.Error("a click on the header does something")
	}
	large := keys(t, m, "t")
	c := large.chartFor(120, 40-3-1-1-len(large.mapLegend(120, 40-3-1-1)))
	x, y := c.cell(&large.table.Rows[0])
	if got := send(large, click(c.left+1+x, 2+y)); got.current != 0 {
		t.Errorf("a click on the large map goes to %d", got.current)
	}
}

// A click on a hole of the close view goes to the nearest setting with a bolt in it, one on a figure asks why.
func TestMouseOnPictureAndFigures(t *testing.T) {
	m := opened(t, "coupe", 120, 40)
	p := m.panes()
	s := &scene{Canvas: widgets.NewCanvas(p.head.W, p.head.H-1, looks, m.glyphs), m: m, sight: seeJoint, joint: 1}
	s.frame(m.row())
	part := s.partPoses(m.row())[1]
	for _, h := range part.part.Holes {
		if h.Joint != "head" {
			continue
		}
		x, y := s.cellAt(part.pose.Apply(h.At()))
		got := send(m, click(p.head.X+x, p.head.Y+1+y))
		if bolts := strings.Join(boltNames(got), " "); !strings.Contains(" "+bolts+" ", " "+h.ID+" ") || !strings.HasPrefix(bolts, "4 ") {
			t.Errorf("a click on %s goes to %s", h.ID, bolts)
		}
	}
	why := send(m, click(p.figures.X+3, p.figures.Y+3))
	if pg, ok := in[pageMode](why); !ok || pg.sheet != "y" || !strings.Contains(why.View(), "why: drag") {
		t.Errorf("a click on the drag does not ask why:\n%s", why.View())
	}
}

// boltNames are the lower holes of a setting's bolts.
func boltNames(m Model) (names []string) {
	for _, joint := range m.car.Bolts(m.row().Setting) {
		for _, p := range joint {
			names = append(names, p[0])
		}
	}
	return names
}

// The wheel scrolls a page, zooms over the picture and walks over table and map.
func TestWheel(t *testing.T) {
	m := opened(t, "coupe", 80, 24)
	wheel := func(m Model, x, y int, b tea.MouseButton) Model {
		return send(m, tea.MouseMsg{X: x, Y: y, Action: tea.MouseActionPress, Button: b})
	}
	page := wheel(keys(t, m, "enter"), 5, 5, tea.MouseButtonWheelDown)
	if as[pageMode](page).scroll != 3 {
		t.Errorf("the page scrolls to %d", as[pageMode](page).scroll)
	}
	if page = wheel(wheel(page, 5, 5, tea.MouseButtonWheelUp), 5, 5, tea.MouseButtonWheelUp); as[pageMode](page).scroll != 0 {
		t.Errorf("the page scrolls back to %d", as[pageMode](page).scroll)
	}
	p := m.panes()
	if got := wheel(m, p.head.X+2, p.head.Y+2, tea.MouseButtonWheelDown); got.sight == m.sight {
		t.Error("the wheel does not zoom")
	}
	at, _ := m.grid.Cell(m.row().ID)
	got := wheel(m, p.table.X+2, p.table.Y+4, tea.MouseButtonWheelDown)
	if to, _ := got.grid.Cell(got.row().ID); to != (bolting.Cell{Line: at.Line + 1, Column: at.Column}) {
		t.Errorf("the wheel goes from %v to %v", at, to)
	}
}

package tui

import (
	"math"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/holes/plane"
	"stanchion/model/choose"
	"stanchion/tui/widgets"
)

// mouse selects what is under a click, and scrolls or zooms by the wheel.
func (m Model) mouse(msg tea.MouseMsg) (Model, tea.Cmd) {
	if m.width < MinWidth || m.height < MinHeight || msg.Action != tea.MouseActionPress {
		return m, nil
	}
	if c, ok := m.open.(clickable); ok {
		return c.mouse(m, msg)
	}
	if !m.walking() || m.row() == nil {
		return m, nil
	}
	switch msg.Button {
	case tea.MouseButtonLeft:
		return m.click(msg.X, msg.Y)
	case tea.MouseButtonWheelUp, tea.MouseButtonWheelDown:
		return m.wheel(msg.X, msg.Y, msg.Button == tea.MouseButtonWheelUp)
	}
	return m, nil
}

// clickable is a mode that the mouse does something in.
type clickable interface {
	mouse(m Model, msg tea.MouseMsg) (Model, tea.Cmd)
}

// inside returns where in a pane a cell of the screen lies, its title left out.
func inside(r widgets.Rect, x, y int) (px, py int, ok bool) {
	return x - r.X, y - r.Y - 1, r.Holds(x, y) && y > r.Y
}

// click goes to the setting under it.
func (m Model) click(x, y int) (Model, tea.Cmd) {
	p := m.panes()
	if m.large != notLarge {
		whole := widgets.Rect{X: 0, Y: 1, W: m.width, H: m.height - 3}
		if m.large != largeSide {
			whole.H -= len(m.underLarge())
		}
		p = panes{size: p.size}
		switch m.large {
		case largeTable:
			p.table = whole
		case largeMap:
			p.chart = whole
		case largeSide:
			p.head = whole
		}
	}
	if px, py, ok := inside(p.table, x, y); ok {
		if id, ok := m.tableAt(px, py, p.table.W, p.table.H-1); ok {
			m.message = ""
			return m.show(id), nil
		}
	}
	if px, py, ok := inside(p.chart, x, y); ok {
		if i, ok := m.mapAt(px, py, p.chart.W, p.chart.H-1); ok {
			m.message = ""
			return m.goTo(i), nil
		}
	}
	if px, py, ok := inside(p.head, x, y); ok {
		joint := m.focusJoint()
		if p.size == widest && m.large == notLarge {
			joint = len(m.car.Joints) - 1
		}
		return m.clickHole(m.headSight(p.size), joint, px, py, p.head.W, p.head.H-1), nil
	}
	if _, py, ok := inside(p.figures, x, y); ok {
		return m.clickFigure(py, p.figures.H-1)
	}
	return m, nil
}

// clickHole goes to the nearest setting that has a bolt in the hole of a joint under a click on a picture.
func (m Model) clickHole(see sight, joint, x, y, w, h int) Model {
	s := &scene{Canvas: widgets.NewCanvas(w, h, looks, m.glyphs), m: m, sight: see, joint: joint}
	s.frame(m.row())
	part := s.partPoses(m.row())[joint]
	hole, nearest := -1, 3.5
	for i, o := range part.part.Holes {
		if cx, cy := s.cellAt(part.pose.Apply(o.At())); math.Hypot(float64(cx-x), 2*float64(cy-y)) < nearest {
			hole, nearest = i, math.Hypot(float64(cx-x), 2*float64(cy-y))
		}
	}
	if hole < 0 {
		return m
	}
	best, off := "", math.Inf(1)
	for i := range m.table.Rows {
		for _, way := range m.table.Rows[i].Ways() {
			takes, d := false, 0.0
			for j, f := range way.Fits {
				if j == joint {
					for _, q := range f.Pairs {
						takes = takes || q.Lower == hole
					}
				} else if f != m.row().Fits[j] {
					d += 100
				}
			}
			r := &m.table.Rows[i]
			d += math.Abs(r.Angle-m.row().Angle)/plane.Deg + math.Abs(r.Height-m.row().Height)/10
			if takes && d < off {
				best, off = way.ID, d
			}
		}
	}
	if best == "" {
		m.message = "no setting has a bolt in " + part.part.Holes[hole].ID
		return m
	}
	m.message = ""
	return m.show(best)
}

// clickFigure opens the page on the figure of a line of the pane.
func (m Model) clickFigure(line, h int) (Model, tea.Cmd) {
	k, _ := m.reference()
	if k != nil && k.ID != m.row().ID {
		line--
		h--
	}
	lines := shown(m.paneLines(), h-2)
	switch {
	case line < 0 || line > len(lines)+1:
		return m, nil
	case line == len(lines):
		return m.press("s")
	case line == len(lines)+1:
		return m.press("c")
	}
	for i, key := range m.whyKeys() {
		if key == lines[line].Key {
			m.asking = i
		}
	}
	return openPage("y")(m)
}

// wheel zooms over a picture, and walks over table and map.
func (m Model) wheel(x, y int, up bool) (Model, tea.Cmd) {
	p := m.panes()
	by := -1
	if up {
		by = 1
	}
	if m.large == notLarge && (p.head.Holds(x, y) || p.whole.Holds(x, y)) || m.large == largeSide {
		if up {
			m.sight = seeJoint
			return m, nil
		}
		return m.zoom()
	}
	if m.large == largeMap || m.large == notLarge && p.chart.Holds(x, y) {
		way, none := choose.HeightUp, "none is higher"
		if !up {
			way, none = choose.HeightDown, "none is lower"
		}
		return step(way, none)(m)
	}
	return upward(by)(m)
}

// mouse scrolls a page by the wheel.
func (p pageMode) mouse(m Model, msg tea.MouseMsg) (Model, tea.Cmd) {
	by := 0
	switch msg.Button {
	case tea.MouseButtonWheelUp:
		by = -3
	case tea.MouseButtonWheelDown:
		by = 3
	}
	p.scroll = min(max(p.scroll+by, 0), max(0, len(p.wrapped(m))-p.room(m)))
	return m.with(p), nil
}

// mouse chooses a job by a click, and scrolls by the wheel.
func (j jobsMode) mouse(m Model, msg tea.MouseMsg) (Model, tea.Cmd) {
	all, _ := j.jobs()
	switch msg.Button {
	case tea.MouseButtonWheelUp:
		j.at = max(j.at-3, 0)
	case tea.MouseButtonWheelDown:
		j.at = min(j.at+3, len(all)-1)
	case tea.MouseButtonLeft:
		win := window(min(j.at, len(all)-1), len(all), jobsRoom(m.height))
		i := win[0] + msg.Y - 2
		if msg.Y < 2 || i >= win[1] {
			return m, nil
		}
		if i == j.at {
			return m.closed().press(all[i].keys[0])
		}
		j.at = i
	}
	return m.with(j), nil
}

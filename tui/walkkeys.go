package tui

import (
	"fmt"
	"math"
	"slices"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/holes/plane"
	"stanchion/model/bolting"
	"stanchion/model/calibrate"
	"stanchion/model/choose"
	"stanchion/model/logbook"
	"stanchion/model/units"
)

// across walks along a line of the table of holes, or by angle on the large map of places.
func across(by int) func(Model) (Model, tea.Cmd) {
	way, none := choose.AngleUp, "no larger angle"
	if by < 0 {
		way, none = choose.AngleDown, "no smaller angle"
	}
	return func(m Model) (Model, tea.Cmd) {
		if m.large == largeMap {
			return step(way, none)(m)
		}
		if m.order == bolting.ByHole {
			none = "no further hole this way"
		}
		return m.stepGrid(0, by, none+" with these bolts below")
	}
}

// upward walks from line to line of the table of holes, or by height on the large map of places.
func upward(by int) func(Model) (Model, tea.Cmd) {
	way, none := choose.HeightUp, "none is higher"
	if by < 0 {
		way, none = choose.HeightDown, "none is lower"
	}
	return func(m Model) (Model, tea.Cmd) {
		if m.large == largeMap {
			return step(way, none)(m)
		}
		return m.stepGrid(-by, 0, none+" with these holes of the wing")
	}
}

func (m Model) stepGrid(lines, columns int, none string) (Model, tea.Cmd) {
	at, ok := m.grid.Cell(m.row().ID)
	if !ok {
		return m, nil
	}
	to, ok := m.grid.Step(at, lines, columns)
	if !ok {
		m.message = none
		return m, nil
	}
	s, _ := m.grid.Setting(to)
	return m.show(s.ID), nil
}

// step walks to a neighbour, or says that there is none.
func step(way choose.Step, none string) func(Model) (Model, tea.Cmd) {
	return func(m Model) (Model, tea.Cmd) {
		i, ok := choose.StepFrom(m.table, m.current, way)
		if !ok {
			m.message = none
			return m, nil
		}
		from, to := m.row().Position, m.table.Rows[i].Position
		m = m.goTo(i)
		switch off := to.Height - from.Height; {
		case (way == choose.AngleUp || way == choose.AngleDown) && math.Abs(off) > 10:
			m.message = fmt.Sprintf("height changed by %s: %s there", m.units.Length(off), none)
		case (way == choose.HeightUp || way == choose.HeightDown) && math.Abs(to.Angle-from.Angle) > plane.Deg:
			m.message = fmt.Sprintf("angle changed by %s°: %s there", units.Signed((to.Angle-from.Angle)/plane.Deg, 1), none)
		}
		return m, nil
	}
}

// along moves in the list.
func along(by int) func(Model) (Model, tea.Cmd) {
	return func(m Model) (Model, tea.Cmd) {
		to := min(max(m.current+by, 0), len(m.table.Rows)-1)
		if to == m.current {
			m.message = "the list ends here"
		}
		return m.goTo(to), nil
	}
}

func (m Model) keep() (Model, tea.Cmd) {
	if m.keptID == m.row().ID {
		m.keptID, m.message = "", "no setting kept"
	} else {
		m.keptID, m.message = m.row().ID, "kept: walk on, each figure shows its change"
	}
	return m.pick()
}

func (m Model) swap() (Model, tea.Cmd) {
	to := m.keptID
	m.keptID = m.row().ID
	return m.show(to).pick()
}

// markOnCar marks the setting as the one that is bolted on, in the notebook too where there is one.
func (m Model) markOnCar() (Model, tea.Cmd) {
	id := m.row().ID
	if m.onCar == id {
		m.message = "it is marked as on the car already"
		return m, nil
	}
	m.onCar = id
	m, pick := m.pick()
	m.message = m.table.Name(m.row().Setting) + " is on the car: walk on, each figure shows its change from it"
	if m.src.AddNote == nil || m.saving || m.book.Newer {
		m.message += "; there is no notebook to keep that in"
		return m, pick
	}
	n := logbook.Blank()
	n.At, n.Setting, n.Fitted, n.Speed, n.Expected = time.Time{}, id, true, m.table.Speed, calibrate.Expected(m.table, m.row())
	n.Adjustments = m.carried("", id).Adjustments // they are as they were
	m.saving = true
	add, notes := m.src.AddNote, m.src.Notes
	return m, tea.Batch(pick, func() tea.Msg {
		var msg savedMsg
		msg.fitted = true
		if msg.note, msg.setAside, msg.err = add(n); msg.err != nil {
			return msg
		}
		if b, err := notes(); err == nil {
			msg.book = &b
		}
		return msg
	})
}

// reorder changes how columns of the table of holes follow one another.
func (m Model) reorder() (Model, tea.Cmd) {
	m.order = (m.order + 1) % 2
	m.grid = bolting.NewGrid(m.table, m.order)
	m.message = "columns by angle"
	if m.order == bolting.ByHole {
		m.message = "columns in the order of the part's holes"
	}
	return m, nil
}

// enlarge turns from the home screen to the large map, to the large table and back.
func (m Model) enlarge() (Model, tea.Cmd) {
	next := []large{notLarge, largeMap, largeTable}
	if m.words { // which have no map
		next = []large{notLarge, largeTable}
	}
	if sizeOf(m.width, m.height) == phone {
		next = []large{notLarge, largeTable, largeMap}
	}
	at := max(slices.Index(next, m.large), 0)
	m.large = next[(at+1)%len(next)]
	return m, nil
}

// zoom turns from the close view of the joint that was changed to the whole rear, to the uprights, and
// back.
func (m Model) zoom() (Model, tea.Cmd) {
	m.sight = (m.sight + 1) % sightCount
	if sizeOf(m.width, m.height) >= wide && m.sight == seeWhole {
		m.sight++ // it has a pane of its own
	}
	return m, nil
}

// enlargeSide shows the side view over the whole screen, or no longer.
func (m Model) enlargeSide() (Model, tea.Cmd) {
	if m.words {
		m.message = "there is no picture in words: c says how near it comes to body and lid"
		return m, nil
	}
	if m.large == largeSide {
		m.large = notLarge
	} else {
		m.large = largeSide
	}
	return m, nil
}

package tui

import (
	"fmt"
	"math"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/bolting"
	"stanchion/model/choose"
	"stanchion/model/units"
)

func (m Model) typeFind() (Model, tea.Cmd) {
	return m.prompt("find", "a name (4 B2), holes (A A3), or a figure: 7.5deg, >500N, 49%, 1300mm", Model.typedFind)
}

// typedFind goes to the setting that a figure asks for, or else to the next setting, after the current one,
// that the words name.
func (m Model) typedFind(text string) (Model, tea.Cmd, error) {
	found := m.table.Named(splitWords(text))
	if q, ok := readQuestion(text); ok && len(found) == 0 {
		return m.findFigure(q)
	}
	if len(found) == 0 {
		return m, nil, fmt.Errorf("no setting with %q", text)
	}
	to, nth := found[0], 1
	for k, r := range found {
		if i, _ := m.table.Index(r.ID); i > m.current {
			to, nth = r, k+1
			break
		}
	}
	m = m.show(to.ID)
	if len(found) > 1 {
		m.message = fmt.Sprintf("%d of %d with %s: find again for the next", nth, len(found), text)
	}
	return m, nil, nil
}

// splitWords parts a text at blanks and commas.
func splitWords(text string) []string {
	return strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ',' })
}

// question is a figure that a setting is wanted with: near a value, or on one side of it.
type question struct {
	value float64
	side  int // above, below, or near it
	of    func(*model.Row) float64
	angle bool
}

// readQuestion reads a figure with its unit, with < or > before it; ok is false for anything else.
func readQuestion(text string) (q question, ok bool) {
	text = strings.ReplaceAll(strings.TrimSpace(text), " ", "")
	switch {
	case strings.HasPrefix(text, ">"):
		q.side = 1
	case strings.HasPrefix(text, "<"):
		q.side = -1
	}
	text = strings.ReplaceAll(strings.TrimLeft(text, "<>"), "°", "deg")
	if !strings.ContainsAny(text, "0123456789") || strings.Trim(text, "0123456789.-+−") == "" {
		return q, false // a bare number is a hole
	}
	for _, kind := range []struct {
		unit  units.Unit
		of    func(*model.Row) float64
		angle bool
	}{
		{units.Angles, func(r *model.Row) float64 { return r.Angle }, true},
		{units.Forces, func(r *model.Row) float64 { return r.Downforce }, false},
		{units.Unit{"%": 0.01}, func(r *model.Row) float64 { return r.Share }, false},
		{units.Lengths, func(r *model.Row) float64 { return r.Height }, false},
	} {
		if v, err := kind.unit.Parse(text, ""); err == nil {
			q.value, q.of, q.angle = v, kind.of, kind.angle
			return q, true
		}
	}
	return q, false
}

// findFigure goes to the setting that keeps all limits and comes nearest to what is asked, to a tenth of a
// per cent; of those as near to the one with the fewest bolts to move, then the one nearest in height. In a slot the place for an angle is said to a tenth of a
// millimetre.
func (m Model) findFigure(q question) (Model, tea.Cmd, error) {
	off := func(r *model.Row) (float64, bool) {
		d := q.of(r) - q.value
		return math.Abs(d), r.Within() && !math.IsNaN(d) && !(q.side > 0 && d < 0 || q.side < 0 && d > 0)
	}
	near := math.Inf(1)
	for i := range m.table.Rows {
		if d, ok := off(&m.table.Rows[i]); ok {
			near = min(near, d)
		}
	}
	best, work, climb, way := -1, choose.Work{}, 0.0, ""
	same := near + 1e-3*math.Abs(q.value)
	for i := range m.table.Rows {
		r := &m.table.Rows[i]
		if d, ok := off(r); !ok || d > same {
			continue
		}
		id, w := choose.LeastWork(m.row().Setting, r.Setting)
		up := math.Abs(r.Height - m.row().Height)
		if c := w.Compare(work); best < 0 || c < 0 || c == 0 && up < climb {
			best, work, climb, way = i, w, up, id
		}
	}
	if best < 0 {
		return m, nil, fmt.Errorf("no setting that keeps all limits has that")
	}
	moved := best != m.current
	m = m.show(way)
	m.message = "the nearest that keeps all limits"
	if !moved {
		m.message = "this one is the nearest that keeps all limits"
	}
	switch r := m.row(); {
	case r.Stalled:
		m.message = "STALLED, and " + m.message
	case r.Lifts():
		m.message = "it LIFTS the car, and is " + strings.TrimPrefix(m.message, "this one is ")
	}
	if q.angle && q.side == 0 {
		if at, ok := bolting.SlotFor(m.table, m.row(), q.value); ok {
			m.message = fmt.Sprintf("%s° is at %s in slot %s", units.Fixed(q.value/plane.Deg, 1), at.Slot.Where(at.Distance), at.Slot.ID)
			if math.Abs(m.row().Angle-q.value) > math.Abs(at.PerMM)*at.Slot.Step { // not between places that were checked
				m.message += ", which breaks a limit; shown is the nearest that keeps all"
			}
		}
	}
	return m, nil, nil
}

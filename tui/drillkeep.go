package tui

import (
	"fmt"
	"math"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model/drill"
	"stanchion/model/words"
)

// broken says which rule forbids the hole where it is; "" when none does.
func (d drillMode) broken(m Model) string {
	all := d.all()
	for i, h := range all {
		car := drill.With(m.car, all[:i]...)
		if rule, broken := drill.Broken(drill.HoleRules(&car.Parts[h.Part], h.Hole)); broken {
			return "cannot be drilled there: " + words.Broken(rule, m.units)
		}
	}
	return ""
}

// done ends placing the hole.
func (d drillMode) done(m Model) Model {
	if d.stop != nil {
		d.stop()
		d.end()
	}
	return m.closed()
}

// toDrill is the hole as it is kept: its place to a tenth of a millimetre.
func (d drillMode) toDrill() drill.NewHole {
	h := d.hole
	h.X, h.Z = math.Round(h.X*10)/10, math.Round(h.Z*10)/10
	return h
}

func (d drillMode) keep(m Model, _ string) (Model, tea.Cmd) {
	d.hole = d.toDrill()
	if why := d.broken(m); why != "" {
		m.message = why
		return m, nil
	}
	m = d.done(m).remember("hole " + d.hole.ID)
	m.unsaved = append(m.unsaved[:len(m.unsaved):len(m.unsaved)], d.all()...)
	m.message = fmt.Sprintf("%s is kept until you quit; it is not in the car file", d.hole.ID)
	if n := len(d.also); n > 0 {
		m.message = fmt.Sprintf("%d holes are kept until you quit; they are not in the car file", n+1)
	}
	if m.proposed != nil {
		m.message = d.hole.ID + " is in the proposal; W writes all of it to a new car file"
	}
	return m.ask(m.laidOn(m.base), nil)
}

func (d drillMode) write(m Model, _ string) (Model, tea.Cmd) {
	d.hole = d.toDrill()
	if why := d.broken(m); why != "" {
		m.message = why
		return m, nil
	}
	if d.trial != nil && !d.trial.Verdict.Good() && !d.sure {
		d.sure = true
		m.message = "it " + words.Trial(d.trial, m.units) + ": W again writes it all the same"
		return m.with(d), nil
	}
	if m.proposed != nil {
		m.message = "enter keeps the hole in the proposal; then W writes all of it to a new car file"
		return m, nil
	}
	if m.src.AddHole == nil {
		m.message = "a demo car cannot be changed: stanchion new FILE --demo NAME makes a copy"
		return m, nil
	}
	src, car, all := m.src, m.car, append(m.unsaved[:len(m.unsaved):len(m.unsaved)], d.all()...)
	return m, func() tea.Msg {
		msg := writtenMsg{}
		for _, h := range all {
			if msg.err = src.AddHole(car.Parts[h.Part].Name, h.Hole); msg.err != nil {
				return msg
			}
			msg.holes++
		}
		msg.can = src.canUndo()
		return msg
	}
}

func (d drillMode) drop(m Model, _ string) (Model, tea.Cmd) {
	m = d.done(m)
	m.message = "hole dropped"
	return m, nil
}

// writtenMsg says how many holes were put in the car file, and what went wrong
// with the next.
type writtenMsg struct {
	holes int
	can   can
	err   error
}

func (msg writtenMsg) take(m Model) (Model, tea.Cmd) {
	for range msg.holes {
		before := m.laidNow()
		m.unsaved = m.unsaved[min(1, len(m.unsaved)):]
		m.changes = append(m.changes[:len(m.changes):len(m.changes)], change{what: "a hole written to the car file", file: true, before: before})
		m.undone, m.can = nil, msg.can
	}
	if msg.err != nil {
		m.message = msg.err.Error()
		return m, nil
	}
	if d, ok := m.drilling(); ok {
		m = d.done(m)
	}
	m.message = fmt.Sprintf("%d holes are in the car file; U takes the last back", msg.holes)
	if msg.holes == 1 {
		m.message = "the hole is in the car file; U takes it back, on another day too"
	}
	return m, nil
}

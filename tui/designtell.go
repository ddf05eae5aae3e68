package tui

import (
	"context"
	"fmt"
	"maps"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model"
	"stanchion/model/design"
	"stanchion/model/strength"
	"stanchion/model/units"
	"stanchion/model/words"
)

// plateTold is what takes longer to say of a proposal: nil where it is still being worked out.
type plateTold struct {
	accuracy  *design.Accuracy
	holds     *plateHolds
	lightened *design.Proposal // with its cut-outs, where they are wanted
}

// plateHolds is how the settings of a proposal hold that break no limit.
type plateHolds struct {
	verdict strength.Verdict
	brief   string // for the table
	text    string
}

// toldMsg says more of a proposal of the search with the number asked.
type toldMsg struct {
	asked, n int
	plateTold
	of *model.Table // of the proposal as it was then; nil for any
}

// untold is what is worked out next of the proposals: what errors of drilling do to them, then their cut-outs, then how they hold.
func (p plating) untold() (n int, what string) {
	first := func(lacks func(n int) bool) int {
		for n := range p.told {
			if lacks(n) {
				return n
			}
		}
		return -1
	}
	if n = first(func(n int) bool { return p.told[n].accuracy == nil }); n >= 0 {
		return n, "errors of drilling"
	}
	if n = first(func(n int) bool { return p.wish.lighten && p.found.Proposals[n].Lightened == nil }); n >= 0 {
		return n, "cut-outs"
	}
	return first(func(n int) bool { return p.told[n].holds == nil }), "strength"
}

// tellPlates works out the next thing of the proposals in the background.
func (m Model) tellPlates() (Model, tea.Cmd) {
	p := m.plates
	if p.found == nil || p.telling || p.halted {
		return m, nil
	}
	n, what := p.untold()
	if n < 0 {
		return m, nil
	}
	if p.stop == nil { // it was stopped before
		p.ctx, p.stop = context.WithCancel(context.Background())
	}
	p.telling = true
	m.plates = p
	one, asked, off, ctx := &p.found.Proposals[n], p.asked, p.wish.off, p.ctx
	return m, func() tea.Msg {
		told := plateTold{}
		switch what {
		case "cut-outs":
			with := *one
			l, err := with.Lighten(ctx)
			if ctx.Err() != nil {
				return nil
			}
			if err != nil {
				with, l = *one, design.Lightening{Why: design.NotSettled}
			}
			with.Lightened = &l
			told.lightened = &with
		case "strength":
			h, err := holdsOf(ctx, one)
			if err != nil {
				return nil // it was stopped
			}
			told.holds = &h
		default:
			a := one.Accuracy(off)
			told.accuracy = &a
		}
		return toldMsg{asked, n, told, one.Table}
	}
}

// tellingText says what is being worked out; "" for nothing.
func (m Model) tellingText() string {
	if !m.plates.telling || m.plates.found == nil {
		return ""
	}
	n, what := m.plates.untold()
	if n < 0 {
		return ""
	}
	text := fmt.Sprintf("working out %s, plate %d of %d", what, n+1, len(m.plates.told))
	if what == "cut-outs" {
		text += ", solving each setting as drawn"
	}
	return text + " · x stops it"
}

// haltPlates stops what is being worked out of the proposals, or goes on with it.
func haltPlates(m Model, _ string) (Model, tea.Cmd) {
	if m.plates.halted {
		m.plates.halted, m.message = false, ""
		return m.tellPlates()
	}
	n, what := m.plates.untold()
	if n < 0 {
		m.message = "nothing is being worked out"
		return m, nil
	}
	m = m.stopPlates()
	m.plates.halted = true
	m.message = what + " not worked out to the end: x goes on"
	return m, nil
}

// holdsOf works out how a proposal holds; the error is that of ctx.
func holdsOf(ctx context.Context, one *design.Proposal) (h plateHolds, err error) {
	u := one.Car.System()
	f, s, err := one.Strength(ctx)
	switch {
	case f == nil:
		return plateHolds{strength.NotChecked, words.PlateHolds(strength.Scope{}), "Strength NOT CHECKED: " + units.Printable(err.Error())}, nil
	case err != nil:
		return h, err
	}
	text := words.ScopeHeadline(f, s, u)
	if s.Worst.Row == nil {
		text = "Strength NOT CHECKED: " + words.NoPlateLoads(f, s, u)
	}
	return plateHolds{s.Verdict(), words.PlateHolds(s), text}, nil
}

func (msg toldMsg) take(m Model) (Model, tea.Cmd) {
	if msg.asked != m.plates.asked || m.plates.found == nil || msg.n >= len(m.plates.told) {
		return m, nil
	}
	m.plates.telling = false
	if msg.of != nil && msg.of != m.plates.found.Proposals[msg.n].Table { // it was drawn otherwise meanwhile
		return m.tellPlates()
	}
	told := slices.Clone(m.plates.told)
	if msg.accuracy != nil {
		told[msg.n].accuracy = msg.accuracy
	}
	if msg.holds != nil {
		told[msg.n].holds = msg.holds
	}
	m.plates.told = told
	var cmd tea.Cmd
	if msg.lightened != nil {
		m, cmd = m.lightenedPlate(msg.n, msg.lightened)
	}
	m, next := m.tellPlates()
	return m, tea.Batch(cmd, next)
}

// lightenedPlate puts a proposal with its cut-outs in the place of the one without, where it is walked through too.
func (m Model) lightenedPlate(n int, one *design.Proposal) (Model, tea.Cmd) {
	found := *m.plates.found
	found.Proposals = slices.Clone(found.Proposals)
	changed := found.Proposals[n].Car != one.Car
	found.Proposals[n] = *one
	m.plates.found = &found
	if !changed {
		return m, nil
	}
	if s, ok := m.plates.saved[n]; ok { // without them
		s.holes = -1
		m.plates.saved = maps.Clone(m.plates.saved)
		m.plates.saved[n] = s
	}
	if m.proposed == nil || m.proposed.n != n {
		return m, nil
	}
	return m.rebased(one.Car)
}

// rebased shows a proposal whose plate is another one by now.
func (m Model) rebased(car *model.Car) (Model, tea.Cmd) {
	m.base = car
	m.src.Load = func() (*model.Car, error) { return car, nil }
	m = m.endSolving()
	return m.ask(m.laidOn(car), nil)
}

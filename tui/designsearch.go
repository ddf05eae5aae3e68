package tui

import (
	"context"
	"errors"
	"math"
	"sync/atomic"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model"
	"stanchion/model/design"
	"stanchion/model/drill"
	"stanchion/model/strength"
	"stanchion/model/units"
	"stanchion/model/words"
)

// plateSearch looks for plates; progress hears which part of the work is done.
type plateSearch func(ctx context.Context, car *model.Car, w design.Wish, progress func(float64)) (*design.Designed, error)

// plating is what is wanted of new plates, and what was found.
type plating struct {
	lines     []wishLine      // as they were left; nil before the first time
	unlooked  bool            // something is typed in them that was not looked for
	asked     int             // number of the last search
	ctx       context.Context // of the work on them
	stop      func()          // ends that; nil for none
	searching bool
	part      float64 // of the search that is done

	wish  plateWish
	car   *model.Car // that was designed for, as its file has it
	found *design.Designed
	told  []plateTold // of each proposal
	said  bool        // all of them were told in words
	at    int         // the proposal that is marked

	holes map[int][]drill.NewHole // that were added to proposals while they were walked through
	saved map[int]savedPlate      // proposals that were written to files
}

// savedPlate is where a proposal was written to, and with how many holes of the person's own.
type savedPlate struct {
	name  string
	holes int
}

// plateTold is what takes longer to say of a proposal: nil where it is still being worked out.
type plateTold struct {
	accuracy *design.Accuracy
	holds    *plateHolds
}

// plateHolds is how the settings of a proposal hold that break no limit.
type plateHolds struct {
	verdict strength.Verdict
	brief   string // for the table
	text    string
}

// plateSolves is how many ways of bolting a proposal have their plates solved at most, in the background: the most critical ones.
const plateSolves = 12

// foundMsg answers the search with the number asked.
type foundMsg struct {
	asked int
	found *design.Designed
	err   error
}

// partMsg says how far the search with the number asked is.
type partMsg struct {
	asked int
	part  float64
	done  *atomic.Uint64 // says how far it is later
}

// toldMsg says more of a proposal of the search with the number asked.
type toldMsg struct {
	asked, n int
	plateTold
	next tea.Cmd // says what is still to be said of it; nil for nothing
}

// progressEvery is how often the screen says how far a search is.
const progressEvery = 250 * time.Millisecond

// searchPlates looks for plates in the background; a search before ends.
func (m Model) searchPlates(w plateWish) (Model, tea.Cmd) {
	m = m.stopPlates()
	ctx, stop := context.WithCancel(context.Background())
	p := m.plates
	p.asked++
	p.ctx, p.stop, p.searching, p.part = ctx, stop, true, 0
	p.wish, p.car, p.found, p.told, p.at, p.holes, p.saved, p.unlooked, p.said = w, m.base, nil, nil, 0, nil, nil, false, false
	m.plates = p
	search := m.src.Plate
	if search == nil {
		search = design.Design
	}
	done := new(atomic.Uint64)
	car, asked := m.carToDesign(), p.asked
	find := func() tea.Msg {
		d, err := search(ctx, car, w.Wish, func(x float64) { done.Store(math.Float64bits(x)) })
		return foundMsg{asked, d, err}
	}
	if m.words { // where commands go one after the other
		return m, find
	}
	return m, tea.Batch(find, lookAt(asked, done))
}

// lookAt says after a moment how far a search is.
func lookAt(asked int, done *atomic.Uint64) tea.Cmd {
	return tea.Tick(progressEvery, func(time.Time) tea.Msg {
		return partMsg{asked, math.Float64frombits(done.Load()), done}
	})
}

// stopPlates ends the work on plates that is going on.
func (m Model) stopPlates() Model {
	if m.plates.stop != nil {
		m.plates.stop()
	}
	m.plates.stop, m.plates.searching = nil, false
	return m
}

func (msg partMsg) take(m Model) (Model, tea.Cmd) {
	if msg.asked != m.plates.asked || !m.plates.searching {
		return m, nil
	}
	m.plates.part = max(msg.part, m.plates.part)
	return m, lookAt(msg.asked, msg.done)
}

// take shows what was found; where nothing was, or something is wrong with the wish, the form is open again and says it.
func (msg foundMsg) take(m Model) (Model, tea.Cmd) {
	if msg.asked != m.plates.asked || !m.plates.searching || errors.Is(msg.err, context.Canceled) {
		return m, nil
	}
	m.plates.searching = false
	var fault *design.Fault
	_, here := in[plateMode](m)
	again := func(at int, why string) (Model, tea.Cmd) {
		m = m.stopPlates()
		if !here {
			m.message = "no plate: " + why
			return m, nil
		}
		f := newPlateForm(m)
		f.form, _ = f.form.Jumped(at)
		f.fault = why
		return m.with(f), nil
	}
	switch {
	case errors.As(msg.err, &fault):
		return again(lineOf(fault.What), words.WishFault(fault, m.units))
	case msg.err != nil:
		return again(0, units.Printable(msg.err.Error()))
	case len(msg.found.Proposals) == 0:
		return again(lineOf(design.Steps), words.NoPlate(msg.found, m.units))
	}
	m.plates.found, m.plates.told = msg.found, make([]plateTold, len(msg.found.Proposals))
	m.message = ""
	return m, m.plates.tellAccuracy(m.plates.ctx, 0)
}

// tellAccuracy works out what errors of drilling do to a proposal, then to those after it, then how each of them holds.
func (p plating) tellAccuracy(ctx context.Context, n int) tea.Cmd {
	if n >= len(p.found.Proposals) {
		return p.tellHolds(ctx, 0)
	}
	one, asked, off := &p.found.Proposals[n], p.asked, p.wish.off
	return func() tea.Msg {
		a := one.Accuracy(off)
		return toldMsg{asked, n, plateTold{accuracy: &a}, p.tellAccuracy(ctx, n+1)}
	}
}

func (p plating) tellHolds(ctx context.Context, n int) tea.Cmd {
	if n >= len(p.found.Proposals) {
		return nil
	}
	one, asked := &p.found.Proposals[n], p.asked
	return func() tea.Msg {
		h, err := holdsOf(ctx, one)
		if err != nil {
			return nil // it was stopped
		}
		return toldMsg{asked, n, plateTold{holds: &h}, p.tellHolds(ctx, n+1)}
	}
}

// holdsOf works out how a proposal holds; the error is that of ctx.
func holdsOf(ctx context.Context, one *design.Proposal) (h plateHolds, err error) {
	u := one.Car.System()
	f, err := strength.New(one.Car)
	if err != nil {
		return plateHolds{strength.NotChecked, words.PlateHolds(strength.Scope{}), "Strength NOT CHECKED: " + units.Printable(err.Error())}, nil
	}
	s, err := f.SolveAll(ctx, false, plateSolves)
	if err != nil {
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
	told := append([]plateTold(nil), m.plates.told...)
	if msg.accuracy != nil {
		told[msg.n].accuracy = msg.accuracy
	}
	if msg.holds != nil {
		told[msg.n].holds = msg.holds
	}
	m.plates.told = told
	return m, msg.next
}

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

	telling bool         // something of them is being worked out
	halted  bool         // that is not to go on
	from    *model.Table // of the plate whose holes the wish may keep
	before  *plating     // what was found before a search that goes on

	holes   map[int][]drill.NewHole  // that were added to proposals while they were walked through
	locks   map[int]map[string]bool  // holes of proposals that a search is to keep, by name
	asFound map[int]*design.Proposal // proposals that were drawn otherwise since, as they were found
	saved   map[int]savedPlate       // proposals that were written to files
}

// savedPlate is where a proposal was written to, and with how many holes of the person's own.
type savedPlate struct {
	name  string
	holes int
}

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

// progressEvery is how often the screen says how far a search is.
const progressEvery = 250 * time.Millisecond

// searchPlates looks for plates in the background; a search before ends.
func (m Model) searchPlates(w plateWish) (Model, tea.Cmd) {
	m = m.stopPlates()
	before := m.plates
	ctx, stop := context.WithCancel(context.Background())
	p := m.plates
	p.asked++
	p.ctx, p.stop, p.searching, p.part = ctx, stop, true, 0
	p.wish, p.car, p.found, p.told, p.at, p.holes, p.saved, p.unlooked, p.said = w, m.base, nil, nil, 0, nil, nil, false, false
	p.locks, p.asFound, p.telling, p.halted = nil, nil, false, false
	if p.before = nil; before.found != nil {
		before.before = nil
		p.before = &before
	}
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
	m.plates.stop, m.plates.searching, m.plates.telling = nil, false, false
	if b := m.plates.before; b != nil && m.plates.found == nil { // what was found before is there again
		b := *b
		b.lines, b.unlooked, b.asked, b.stop, b.searching, b.telling, b.from = m.plates.lines, true, m.plates.asked, nil, false, false, m.plates.from
		m.plates = b
	}
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
		if text := words.NoSwanNeck(msg.found, m.units); text != "" {
			return again(lineOf(design.BadAbove), text)
		}
		return again(lineOf(design.Steps), words.NoPlate(msg.found, m.units))
	}
	m.plates.found, m.plates.told, m.plates.before = msg.found, make([]plateTold, len(msg.found.Proposals)), nil
	for n := range msg.found.Proposals {
		m = m.lock(n, true, msg.found.Proposals[n].Kept...)
	}
	m.message = ""
	return m.tellPlates()
}

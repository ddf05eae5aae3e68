package tui

import (
	"maps"
	"math"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/design"
	"stanchion/model/drill"
	"stanchion/model/units"
)

// redrawMode is a proposal whose holes and edge the person moves: everything follows, until it is kept or dropped.
type redrawMode struct {
	n    int              // which of the proposals
	from *design.Proposal // as it was come to, with the holes that were added while it was walked through
	one  *design.Proposal // as it is drawn now, as far as it is worked out

	drawn        drawing // as the person has it
	done, undone []drawing
	at           int     // the hole that is chosen
	about        int     // the hole about which it moves along an arc; -1 for freely
	all          bool    // the edge is moved at all holes
	step         float64 // mm, of an arrow
	asked        int     // number of the last question; 0 once it is answered
	running      bool    // one is being worked on
	scroll       int     // pages of what is said
	dropping     bool    // esc was pressed with something changed

	then func(redrawMode, Model) (Model, tea.Cmd) // what is done once it is answered; nil for nothing
}

// drawing is what the person can change of a plate, and what the change was that led to it.
type drawing struct {
	holes []holes.Hole
	edges map[string]float64 // mm, from holes to the outline where it is not the usual
	what  string
}

// redrawSteps are the distances that an arrow moves a hole by, mm.
var redrawSteps = []float64{0.5, 5, 0.1}

// redrawnMsg answers what a drawing of a proposal gives.
type redrawnMsg struct {
	asked int
	one   *design.Proposal
	err   error
}

// needsProposal says why no plate can be reworked.
func needsProposal(m Model) string {
	if m.proposed == nil {
		return "this is for proposals of new plates: * designs some"
	}
	return ""
}

// startRedraw begins with the proposal that is walked through, or the marked one.
func (m Model) startRedraw() (Model, tea.Cmd) {
	one, n := m.marked(), m.plates.at
	if one == nil {
		return m, nil
	}
	if m.proposed == nil && m.platesStale() {
		m.message = "the car file has changed since these were looked for: i looks again"
		return m, nil
	}
	if own, _ := m.addedHoles(n); len(own) > 0 {
		with, err := one.With(m.plateWish(), own)
		if err != nil {
			m.message = units.Printable(err.Error())
			return m, nil
		}
		one = with
	}
	m.message = ""
	return m.with(redrawMode{n: n, from: one, one: one, about: -1, step: redrawSteps[0],
		drawn: drawing{holes: slices.Clone(one.Plate().Holes), edges: maps.Clone(one.Edges)}}), nil
}

// plateWish is the wish that the proposals are for.
func (m Model) plateWish() *design.Wish { return &m.plates.found.Wish }

// addedHoles are the holes that were added to a proposal while it was walked through: those of the plate, and others.
func (m Model) addedHoles(n int) (plate []holes.Hole, others []drill.NewHole) {
	added := m.plates.holes[n]
	if m.proposed != nil {
		added = m.unsaved
	}
	for _, h := range added {
		if h.Part == 1 {
			plate = append(plate, h.Hole)
		} else {
			others = append(others, h)
		}
	}
	return plate, others
}

// changed reports whether anything is drawn otherwise than it was come to.
func (d redrawMode) changed() bool {
	return !slices.Equal(d.drawn.holes, d.from.Plate().Holes) || !maps.Equal(d.drawn.edges, d.from.Edges)
}

// hole is the one that is chosen.
func (d redrawMode) hole() holes.Hole { return d.drawn.holes[d.at] }

// draw puts another drawing in its place; changes of one kind in a row are undone together.
func (d redrawMode) draw(m Model, next drawing) (Model, tea.Cmd) {
	if len(d.done) == 0 || d.drawn.what != next.what {
		d.done = append(slices.Clip(d.done), d.drawn)
	}
	d.drawn, d.undone, d.dropping, d.then = next, nil, false, nil
	return d.try(m)
}

// try sends off the question what the drawing gives, once the one before is answered.
func (d redrawMode) try(m Model) (Model, tea.Cmd) {
	m.trials++
	d.asked = m.trials
	if d.running {
		return m.with(d), nil
	}
	d.running = true
	from, w, drawn, asked := d.from, m.plateWish(), d.drawn, d.asked
	return m.with(d), func() tea.Msg {
		one, err := from.Drawn(w, drawn.holes, drawn.edges)
		return redrawnMsg{asked, one, err}
	}
}

// redrawing returns the proposal that is being drawn, also when a line is typed into over it.
func (m Model) redrawing() (redrawMode, bool) {
	if p, ok := in[promptMode](m); ok {
		d, over := p.back.(redrawMode)
		return d, over
	}
	return in[redrawMode](m)
}

func (msg redrawnMsg) take(m Model) (Model, tea.Cmd) {
	d, ok := m.redrawing()
	if !ok || !d.running {
		return m, nil
	}
	d.running = false
	var cmd tea.Cmd
	switch {
	case msg.asked != d.asked: // it has been moved on since
		open := m.open
		m, cmd = d.try(m)
		d, _ = in[redrawMode](m)
		if m = m.with(open); msg.err == nil {
			d.one = msg.one
		}
	case msg.err != nil:
		m.message = units.Printable(msg.err.Error())
		d.then = nil
	default:
		d.one, d.asked = msg.one, 0
	}
	if p, ok := in[promptMode](m); ok {
		p.back = d
		return m.with(p), cmd
	}
	if then := d.then; then != nil && d.asked == 0 {
		d.then = nil
		return then(d, m.with(d))
	}
	return m.with(d), cmd
}

// onceAnswered does something with the proposal as it is drawn, as soon as what it gives is known.
func (d redrawMode) onceAnswered(m Model, then func(redrawMode, Model) (Model, tea.Cmd)) (Model, tea.Cmd) {
	if d.asked == 0 {
		return then(d, m)
	}
	if d.then = then; !d.running { // it could not be worked out before
		return d.try(m)
	}
	return m.with(d), nil
}

// moveBy moves the chosen hole freely, or along the arc.
func (d redrawMode) moveBy(m Model, by plane.Point) (Model, tea.Cmd) {
	to := d.hole().At().Add(by)
	if d.about >= 0 {
		to = d.along(by.X + by.Z)
	}
	return d.moveTo(m, to)
}

// along is the place so many mm further along the arc about the other hole, at the spacing of the wing's bolts: to the rear and up is onward.
func (d redrawMode) along(by float64) plane.Point {
	pivot := d.drawn.holes[d.about].At()
	arm := d.hole().At().Sub(pivot)
	turn := by / d.from.Pitch
	if d.from.RoleOf(d.at) == design.AtFront { // which is ahead of its pivot: up turns it the other way
		turn = -turn
	}
	arm = arm.Times(d.from.Pitch / arm.Length())
	return pivot.Add(plane.Pose{Turn: turn}.Apply(arm))
}

// moveTo moves the chosen hole to a place of the plate, to hundredths of a millimetre.
func (d redrawMode) moveTo(m Model, to plane.Point) (Model, tea.Cmd) {
	h := d.hole()
	switch {
	case m.lockedHole(d.n, h.ID):
		m.message = h.ID + " is locked: space releases it"
		return m.with(d), nil
	case to.Length() > mostPlace:
		m.message = "that is further off than plates are large"
		return m.with(d), nil
	}
	next := drawing{slices.Clone(d.drawn.holes), d.drawn.edges, "move " + h.ID}
	next.holes[d.at].X, next.holes[d.at].Z = math.Round(to.X*100)/100, math.Round(to.Z*100)/100
	return d.draw(m, next)
}

// mostPlace is how far from the plate's origin a hole may be put, mm.
const mostPlace = 3000

// edgeTo draws the outline at a distance from the chosen hole, or from all.
func (d redrawMode) edgeTo(m Model, mm float64) (Model, tea.Cmd) {
	next := drawing{d.drawn.holes, maps.Clone(d.drawn.edges), "edge"}
	if next.edges == nil {
		next.edges = map[string]float64{}
	}
	for i, h := range d.drawn.holes {
		if i == d.at || d.all {
			next.edges[h.ID] = min(max(math.Round(mm*100)/100, h.D/2+design.LeastRim), design.MostEdge)
		}
	}
	if !d.all {
		next.what += " at " + d.hole().ID
	}
	return d.draw(m, next)
}

// edge is how far the outline is drawn from the chosen hole where nothing is in the way, mm.
func (d redrawMode) edge() float64 {
	if e, ok := d.drawn.edges[d.hole().ID]; ok {
		return e
	}
	p := *d.from
	p.Edges = nil
	return p.EdgeOf(d.hole())
}

// lockedHole reports whether a hole of a proposal is locked.
func (m Model) lockedHole(n int, id string) bool { return m.plates.locks[n][id] }

// lock locks holes of a proposal, or releases them.
func (m Model) lock(n int, on bool, ids ...string) Model {
	all := maps.Clone(m.plates.locks)
	if all == nil {
		all = map[int]map[string]bool{}
	}
	one := maps.Clone(all[n])
	if one == nil {
		one = map[string]bool{}
	}
	for _, id := range ids {
		if on {
			one[id] = true
		} else {
			delete(one, id)
		}
	}
	all[n] = one
	m.plates.locks = all
	return m
}

// locked names the locked holes of a proposal, in its plate's order.
func (m Model) locked(n int, plate *model.Part) (ids []string) {
	for _, h := range plate.Holes {
		if m.lockedHole(n, h.ID) {
			ids = append(ids, h.ID)
		}
	}
	return ids
}

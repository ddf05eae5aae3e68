package tui

import (
	"context"
	"errors"
	"math"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/bolting"
	"stanchion/model/choose"
	"stanchion/model/drill"
)

// drillMode is a hole that is being placed: it runs along a curve on which bolts go in, or is moved about
// freely, until it is dropped or kept.
type drillMode struct {
	existing *drill.Existing // what there is without it

	hole  drill.NewHole
	curve int          // of curves; -1 when it is moved freely
	turn  float64      // rad, along the curve
	step  float64      // mm that an arrow key moves it by when it is moved freely
	trial *drill.Trial // the last answer; nil until there is one
	grid  *bolting.Grid
	asked int    // number of the last question
	stop  func() // ends the work on it; nil for none

	whole context.Context // of the work on curve and best place, which goes on while the hole is moved
	end   func()          // ends that

	also       []drill.NewHole // that go with it, of an answer with several
	wanted     int             // number of the last question for what holes are to do
	stopWanted func()          // ends the work on it; nil for none

	curves  []drill.Curve
	strip   []drill.Place // how the places along the curve stand; nil until it is worked out
	stripOf int           // the curve that it is of
	moved   bool          // the person has moved it
	sure    bool          // W was pressed for a hole that is of no use
}

// drilling returns the hole that is being placed, also when a line is typed into over it.
func (m Model) drilling() (drillMode, bool) {
	if p, ok := in[promptMode](m); ok {
		d, over := p.back.(drillMode)
		return d, over
	}
	return in[drillMode](m)
}

// withDrill puts the changed hole in its place.
func (m Model) withDrill(d drillMode) Model {
	if p, ok := in[promptMode](m); ok {
		p.back = d
		return m.with(p)
	}
	return m.with(d)
}

// drillSteps are the distances that arrow keys can move a trial hole by, mm.
var drillSteps = []float64{10, 1, 0.1}

// steps along a curve, rad.
const (
	curveStep = 0.5 * plane.Deg
	curveFine = 0.1 * plane.Deg
)

// trialMsg answers what a hole at a place would change.
type trialMsg struct {
	asked int
	trial drill.Trial
	grid  *bolting.Grid
	err   error
}

// stripMsg answers how the places along a curve stand.
type stripMsg struct {
	curve  int
	table  *model.Table
	hole   string
	places []drill.Place
}

// bestMsg answers where a hole would help most.
type bestMsg struct {
	table *model.Table
	hole  string
	best  []drill.Suggestion
	err   error
}

// startDrill begins with a hole for the wing's joint beside a hole that is used, and goes to the best
// place as soon as that is known.
func (m Model) startDrill() (Model, tea.Cmd) {
	part := len(m.car.Parts) - 2
	d := drillMode{existing: drill.NewExisting(m.table), hole: drill.NewHole{Part: part, Hole: m.freshHole(part)}, step: 1, curves: drill.Curves(m.car, part)}
	d.whole, d.end = context.WithCancel(context.Background())
	d = d.ontoCurve(m)
	m.message = "looking for the best place…"
	m, try := d.try(m)
	d, _ = in[drillMode](m)
	table, hole := m.table, d.hole
	return m, tea.Batch(try, d.workOutStrip(m), func() tea.Msg {
		goal := drill.Goal{Fill: true, Count: 1, Grid: 0.5, Part: part, Joint: hole.Joint, D: hole.D, Name: func(int) string { return hole.ID }}
		found, err := drill.Suggest(d.whole, d.existing, goal, nil)
		return bestMsg{table, hole.ID, found.Best, err}
	})
}

// sameTable reports whether an answer is about the car that is shown, at its speed.
func (m Model) sameTable(t *model.Table) bool {
	return m.table != nil && t != nil && t.Car == m.table.Car && t.Speed == m.table.Speed
}

// take goes to the best place, unless the person has moved the hole.
func (msg bestMsg) take(m Model) (Model, tea.Cmd) {
	d, ok := in[drillMode](m)
	if !ok || msg.hole != d.hole.ID || d.moved || !m.sameTable(msg.table) {
		return m, nil
	}
	if msg.err != nil || len(msg.best) == 0 {
		if errors.Is(msg.err, context.Canceled) {
			return m, nil
		}
		m.message = "no place narrows a step: this one is beside the bolts in use"
		return m, nil
	}
	m.message = "the best place found; n goes to the next useful one along the curve"
	d.hole.Hole = msg.best[0].Holes[0].Hole
	before := d.curve
	d = d.ontoCurve(m)
	m, cmd := d.try(m)
	if d.curve != before {
		return m, tea.Batch(cmd, d.workOutStrip(m))
	}
	return m, cmd
}

// ontoCurve finds the curve that passes nearest to the hole, of those that come within its grid of it the
// one about a hole that is in use.
func (d drillMode) ontoCurve(m Model) drillMode {
	best, nearest := -1, 1.5
	used := map[int]bool{}
	if r := m.row(); r != nil && d.hole.Part < len(r.Fits) {
		for _, p := range r.Fits[d.hole.Part].Pairs {
			used[p.Lower] = true
		}
	}
	for i, k := range d.curves {
		turn, off := k.Nearest(m.car, d.hole.At())
		if used[k.Partner] {
			off -= 0.2
		}
		if math.Abs(turn) > m.car.Joints[d.hole.Part].MaxTurn+plane.Deg {
			continue
		}
		if off < nearest {
			best, nearest = i, off
		}
	}
	d.curve = best
	if best >= 0 {
		d.turn, _ = d.curves[best].Nearest(m.car, d.hole.At())
	}
	return d
}

// lean is what the angle to the ground is over the turn of the joint that the hole is for, with the other
// joints as they are.
func (d drillMode) lean(m Model) float64 {
	r := m.row()
	return r.Angle - r.Fits[d.hole.Part].Pose.Turn
}

// reach is the range of turns that the strip shows: what settings have, and 3° beyond.
func (d drillMode) reach(m Model) (from, to float64) {
	from, to = math.Inf(1), math.Inf(-1)
	for i := range m.table.Rows {
		turn := m.table.Rows[i].Fits[d.hole.Part].Pose.Turn
		from, to = min(from, turn), max(to, turn)
	}
	most := m.car.Joints[d.hole.Part].MaxTurn
	return max(from-3*plane.Deg, -most), min(to+3*plane.Deg, most)
}

// stripPlaces is how many places of a curve are judged; fewer settings than stripSettings are needed for it.
const (
	stripPlaces   = 72
	stripSettings = 20_000
)

// workOutStrip judges the places along the curve, in the background.
func (d drillMode) workOutStrip(m Model) tea.Cmd {
	if d.curve < 0 || len(m.table.Rows) > stripSettings {
		return nil
	}
	from, to := d.reach(m)
	curve, k, table, hole, lean, existing := d.curve, d.curves[d.curve], m.table, d.hole.Hole, d.lean(m), d.existing
	return func() tea.Msg {
		places, err := k.Along(d.whole, existing, hole, from, to, lean, stripPlaces)
		if err != nil {
			return nil
		}
		return stripMsg{curve, table, hole.ID, places}
	}
}

func (msg stripMsg) take(m Model) (Model, tea.Cmd) {
	d, ok := m.drilling()
	if !ok || msg.hole != d.hole.ID || !m.sameTable(msg.table) {
		return m, nil
	}
	d.strip, d.stripOf = msg.places, msg.curve
	return m.withDrill(d), nil
}

// freshHole returns a hole on the arc about the wing's front bolt: the place
// nearest to the rear bolt that can be drilled.
func (m Model) freshHole(part int) holes.Hole {
	front, rear := choose.WingBolts(m.row().Position, m.car.Parts[part+1].Part)
	p := m.car.Parts[part]
	pivot, bolt := p.Holes[front.Lower], p.Holes[rear.Lower]
	hole := func(turn float64) holes.Hole {
		at := plane.About(pivot.At(), turn*plane.Deg).Apply(bolt.At())
		return holes.Hole{ID: drill.FreeHoleName(m.car.Parts[part], 0), X: at.X, Z: at.Z, D: bolt.D,
			Joint: drill.DefaultJoint(m.car, part)}
	}
	for turn := 2.0; turn <= 40; turn++ {
		for _, sign := range [2]float64{1, -1} {
			h := hole(sign * turn)
			if _, broken := drill.Broken(drill.HoleRules(&p, h)); !broken {
				return h
			}
		}
	}
	return hole(8)
}

// try sends off the question what the hole would change where it is now. A question that
// is still being worked on ends.
func (d drillMode) try(m Model) (Model, tea.Cmd) {
	d.sure = false
	if d.stop != nil {
		d.stop()
	}
	m.trials++
	d.asked = m.trials
	ctx, cancel := context.WithCancel(context.Background())
	d.stop = cancel
	existing, asked, all, order := d.existing, d.asked, d.all(), m.order
	return m.with(d), func() tea.Msg {
		msg := trialMsg{asked: asked}
		if msg.trial, msg.err = existing.Try(ctx, all...); msg.err == nil {
			msg.grid = bolting.NewGrid(msg.trial.Table, order)
		}
		return msg
	}
}

// take shows the answer to the last question about the hole.
func (msg trialMsg) take(m Model) (Model, tea.Cmd) {
	d, ok := m.drilling()
	if !ok || msg.asked != d.asked {
		return m, nil
	}
	if errors.Is(msg.err, context.Canceled) {
		return m, nil
	}
	if msg.err != nil {
		m.message = msg.err.Error()
		return m, nil
	}
	d.trial, d.grid = &msg.trial, msg.grid
	return m.withDrill(d), nil
}

package tui

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/bolting"
	"stanchion/model/choose"
	"stanchion/model/drill"
	"stanchion/model/units"
	"stanchion/model/words"
)

// drillMode is a hole that is being placed: it runs along a curve on which bolts go in, or is moved about
// freely, until it is dropped or kept.
type drillMode struct {
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
	d := drillMode{hole: drill.NewHole{Part: part, Hole: m.freshHole(part)}, step: 1, curves: drill.Curves(m.car, part)}
	d.whole, d.end = context.WithCancel(context.Background())
	d = d.ontoCurve(m)
	m.message = "looking for the best place…"
	m, try := d.try(m)
	d, _ = in[drillMode](m)
	table, hole := m.table, d.hole
	return m, tea.Batch(try, d.workOutStrip(m), func() tea.Msg {
		goal := drill.Goal{Fill: true, Count: 1, Grid: 0.5, Part: part, Joint: hole.Joint, D: hole.D, Name: func(int) string { return hole.ID }}
		best, _, err := drill.Suggest(d.whole, table, goal, nil)
		return bestMsg{table, hole.ID, best, err}
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
	stripSettings = 3000
)

// workOutStrip judges the places along the curve, in the background.
func (d drillMode) workOutStrip(m Model) tea.Cmd {
	if d.curve < 0 || len(m.table.Rows) > stripSettings {
		return nil
	}
	from, to := d.reach(m)
	curve, k, table, hole, lean := d.curve, d.curves[d.curve], m.table, d.hole.Hole, d.lean(m)
	return func() tea.Msg {
		places, err := k.Along(d.whole, table, hole, from, to, lean, stripPlaces)
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
	table, asked, hole, order := m.table, d.asked, d.hole, m.order
	return m.with(d), func() tea.Msg {
		msg := trialMsg{asked: asked}
		if msg.trial, msg.err = drill.Try(ctx, table, hole); msg.err == nil {
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

func (drillMode) title() string { return "while a hole is placed" }

func (drillMode) typing() bool { return false }

func (d drillMode) bindings(m Model) []binding {
	place := func(run func(drillMode, Model, string) (Model, tea.Cmd)) func(Model, string) (Model, tea.Cmd) {
		return func(m Model, key string) (Model, tea.Cmd) {
			m.message = ""
			d, _ := in[drillMode](m)
			return run(d, m, key)
		}
	}
	arrows, free := "←→ curve", "f free"
	if d.curve < 0 && d.hole.ID != "" {
		arrows, free = "arrows move "+m.units.Fine(d.step), "f curve"
	}
	return []binding{
		{keys: []string{"left", "right", "h", "l"}, label: arrows, does: "along the curve by 0.5°; when it is moved freely, across", run: place(drillMode.move)},
		{keys: []string{"up", "down", "k", "j"}, does: "another row of the table; when the hole is moved freely, up and down", run: place(drillMode.move)},
		{keys: []string{"<", ">"}, label: "<> fine", does: "along the curve by 0.1°", run: place(drillMode.fine)},
		{keys: []string{"n", "p"}, label: "n next", does: "the next, or the previous, useful place along the curve", run: place(drillMode.nextUseful)},
		{keys: []string{"tab", "shift+tab"}, label: "tab partner", does: "the curve with another hole for the other bolt", run: place(drillMode.partner)},
		{keys: []string{"f"}, label: free, does: "leave the curve and move the hole freely, or go back to the nearest curve", run: place(drillMode.freely)},
		{keys: []string{"s"}, does: "how far an arrow moves it freely: 10, 1 or 0.1 mm", run: place(drillMode.nextStep)},
		{keys: []string{"x"}, label: "x type", does: "type its place as x,z, or the angle that it is to give", run: place(drillMode.typePlace)},
		{keys: []string{"enter"}, label: "enter keep", does: "keep the hole for this walk", run: place(drillMode.keep)},
		{keys: []string{"W"}, label: "W write", does: "write it, and others that are kept, to the car file", run: place(drillMode.write)},
		{keys: []string{"esc", "q"}, label: "esc drop", does: "drop the hole", run: place(drillMode.drop)},
		quitting(),
	}
}

// other takes a digit or a minus for the beginning of a place that is typed.
func (d drillMode) other(m Model, key tea.KeyMsg) (Model, tea.Cmd) {
	if k := key.String(); len(k) == 1 && strings.ContainsAny(k, "0123456789-") {
		m.message = ""
		m, cmd := d.typePlace(m, k)
		p, _ := in[promptMode](m)
		p.input.SetValue(k)
		p.input.CursorEnd()
		return m.with(p), cmd
	}
	m.message = "a hole is being placed: arrows move it, enter keeps it, esc drops it"
	return m, nil
}

// move runs along the curve, or moves the hole freely.
func (d drillMode) move(m Model, key string) (Model, tea.Cmd) {
	d.moved = true
	way := map[string][2]float64{
		"left": {-1, 0}, "right": {1, 0}, "up": {0, 1}, "down": {0, -1},
		"h": {-1, 0}, "l": {1, 0}, "k": {0, 1}, "j": {0, -1},
	}[key]
	if d.curve < 0 {
		d.hole.X = math.Round((d.hole.X+way[0]*d.step)*10) / 10
		d.hole.Z = math.Round((d.hole.Z+way[1]*d.step)*10) / 10
		return d.try(m)
	}
	if way[0] != 0 {
		return d.along(m, way[0]*curveStep)
	}
	m, cmd := upward(int(way[1]))(m.with(d)) // another row shows the hole with other bolts below
	return m, tea.Batch(cmd, d.workOutStrip(m))
}

// along moves by an angle along the curve, to whole steps.
func (d drillMode) along(m Model, by float64) (Model, tea.Cmd) {
	angle := d.turn + d.lean(m) + by
	size := math.Abs(by)
	return d.at(m, math.Round(angle/size)*size-d.lean(m))
}

// at goes to a turn of the curve, within what the joint allows.
func (d drillMode) at(m Model, turn float64) (Model, tea.Cmd) {
	most := m.car.Joints[d.hole.Part].MaxTurn
	if turn < -most || turn > most {
		m.message = "the joint turns no further: max_turn is " + units.Fixed(most/plane.Deg, 0) + "°"
		return m, nil
	}
	d.turn = turn
	at := d.curves[d.curve].At(m.car, turn)
	d.hole.X, d.hole.Z = at.X, at.Z
	return d.try(m)
}

func (d drillMode) fine(m Model, key string) (Model, tea.Cmd) {
	d.moved = true
	by := curveFine
	if key == "<" {
		by = -by
	}
	if d.curve < 0 {
		m.message = "it is off the curve: f goes back to it"
		return m, nil
	}
	return d.along(m, by)
}

// nextUseful goes to the next run of useful places along the curve.
func (d drillMode) nextUseful(m Model, key string) (Model, tea.Cmd) {
	d.moved = true
	if d.curve < 0 || d.stripOf != d.curve || d.strip == nil {
		m.message = "the places along the curve are still being worked out"
		return m, nil
	}
	order := slices.Clone(d.strip)
	ahead := func(p drill.Place) bool { return p.Turn > d.turn+1e-6 }
	if key == "p" {
		slices.Reverse(order)
		ahead = func(p drill.Place) bool { return p.Turn < d.turn-1e-6 }
	}
	for _, again := range [2]bool{false, true} { // from the other end when there is none ahead
		for _, p := range order {
			if (ahead(p) || again) && p.Holds == drill.NewStep {
				return d.at(m, p.Turn)
			}
		}
	}
	m.message = "no useful place along this curve: tab takes another partner"
	return m, nil
}

// partner takes the next curve that has a place near the angle that the hole gives now.
func (d drillMode) partner(m Model, key string) (Model, tea.Cmd) {
	d.moved = true
	if len(d.curves) == 0 {
		m.message = "the part above has no two holes that are apart"
		return m, nil
	}
	by := 1
	if key == "shift+tab" {
		by = -1
	}
	d.curve = (max(d.curve, 0) + by + len(d.curves)) % len(d.curves)
	m, cmd := d.at(m, d.turn)
	return m, tea.Batch(cmd, d.workOutStrip(m))
}

// freely leaves the curve, or goes back to the nearest one.
func (d drillMode) freely(m Model, _ string) (Model, tea.Cmd) {
	d.moved = true
	if d.curve >= 0 {
		d.curve = -1
		d.hole.X, d.hole.Z = math.Round(d.hole.X*10)/10, math.Round(d.hole.Z*10)/10
		m.message = "arrows move it freely; f goes back to the curve"
		return d.try(m)
	}
	best, nearest := -1, math.Inf(1)
	for i, k := range d.curves {
		turn, off := k.Nearest(m.car, d.hole.At())
		if off < nearest && math.Abs(turn) <= m.car.Joints[d.hole.Part].MaxTurn {
			best, nearest = i, off
		}
	}
	if best < 0 {
		m.message = "no curve passes near here"
		return m, nil
	}
	d.curve = best
	turn, _ := d.curves[best].Nearest(m.car, d.hole.At())
	m, cmd := d.at(m, turn)
	return m, tea.Batch(cmd, d.workOutStrip(m))
}

func (d drillMode) nextStep(m Model, _ string) (Model, tea.Cmd) {
	d.step = drillSteps[(slices.Index(drillSteps, d.step)+1)%len(drillSteps)]
	return m.with(d), nil
}

// typePlace asks for a place as numbers.
func (d drillMode) typePlace(m Model, _ string) (Model, tea.Cmd) {
	return m.promptOver(d, "place", "x,z in "+m.units.LengthUnit()+" such as -5, 445.5; or an angle such as 4.3°", func(m Model, text string) (Model, tea.Cmd, error) {
		return d.typedPlace(m, text)
	})
}

// typedPlace reads a place: two lengths, or an angle to the ground.
func (d drillMode) typedPlace(m Model, text string) (Model, tea.Cmd, error) {
	d.moved = true
	words := splitWords(text)
	if len(words) == 2 {
		var at [2]float64
		for i, w := range words {
			v, err := units.Lengths.Parse(w, m.units.LengthUnit())
			if err != nil {
				return m, nil, err
			}
			at[i] = v
		}
		d.hole.X, d.hole.Z, d.curve = at[0], at[1], -1
		d = d.ontoCurve(m)
		m, cmd := d.try(m)
		return m, tea.Batch(cmd, d.workOutStrip(m)), nil
	}
	if len(words) != 1 {
		return m, nil, fmt.Errorf("%q; give x and z, such as -5, 445.5, or an angle such as 4.3", text)
	}
	angle, err := units.Angles.Parse(strings.TrimSuffix(words[0], "°"), "deg")
	if err != nil {
		return m, nil, err
	}
	if d.curve < 0 {
		return m, nil, fmt.Errorf("it is off the curve: give x and z")
	}
	m, cmd := d.at(m, angle-d.lean(m))
	if m.open == nil { // it went nowhere
		m = m.with(d)
	}
	return m, cmd, nil
}

// broken says which rule forbids the hole where it is; "" when none does.
func (d drillMode) broken(m Model) string {
	if rule, broken := drill.Broken(drill.HoleRules(&m.car.Parts[d.hole.Part], d.hole.Hole)); broken {
		return "cannot be drilled there: " + words.Broken(rule, m.units)
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
	m.unsaved = append(m.unsaved[:len(m.unsaved):len(m.unsaved)], d.hole)
	m.message = fmt.Sprintf("%s is kept until you quit; it is not in the car file", d.hole.ID)
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
	if m.src.AddHole == nil {
		m.message = "a demo car cannot be changed: stanchion new FILE --demo NAME makes a copy"
		return m, nil
	}
	src, car, all := m.src, m.car, append(m.unsaved[:len(m.unsaved):len(m.unsaved)], d.hole)
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
		before := laidOn{m.unsaved, m.datum}
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

package tui

import (
	"context"
	"fmt"
	"math"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/calibrate"
	"stanchion/model/choose"
	"stanchion/model/drill"
	"stanchion/model/words"
	"stanchion/tui/widgets"
)

// drillMode is a hole that is being placed: it is moved about until it is dropped or
// kept.
type drillMode struct {
	hole  drill.NewHole
	step  float64      // mm that an arrow key moves it by
	trial *drill.Trial // the last answer; nil until there is one
	asked int          // number of the last question
	stop  func()       // ends the work on it; nil for none
}

// drillSteps are the distances that arrow keys can move a trial hole by, mm.
var drillSteps = []float64{10, 1, 0.1}

// trialMsg answers what a hole at a place would change.
type trialMsg struct {
	asked int
	trial drill.Trial
	err   error
}

// startDrill begins with a hole beside the wing's rear bolt, on the arc about
// the front bolt, where a new one is most likely wanted.
func (m Model) startDrill() (Model, tea.Cmd) {
	part := len(m.car.Parts) - 2
	return drillMode{hole: drill.NewHole{Part: part, Hole: m.freshHole(part)}, step: 1}.try(m)
}

// freshHole returns a hole on the arc about the wing's front bolt: the place
// nearest to the rear bolt that can be drilled.
func (m Model) freshHole(part int) holes.Hole {
	front, rear := choose.WingBolts(m.row().Position, m.car.Parts[part+1].Part)
	p := m.car.Parts[part]
	pivot, bolt := p.Holes[front.Lower], p.Holes[rear.Lower]
	hole := func(turn float64) holes.Hole {
		at := plane.About(pivot.At(), turn*plane.Deg).Apply(bolt.At())
		return holes.Hole{ID: drill.FreeHoleName(m.car.Parts[part], 0), X: math.Round(at.X), Z: math.Round(at.Z), D: bolt.D,
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
	if d.stop != nil {
		d.stop()
	}
	d.asked++
	ctx, cancel := context.WithCancel(context.Background())
	d.stop = cancel
	table, asked, hole := m.table, d.asked, d.hole
	return m.with(d), func() tea.Msg {
		tr, err := drill.Try(ctx, table, hole)
		return trialMsg{asked, tr, err}
	}
}

// take shows the answer to the last question about the hole.
func (msg trialMsg) take(m Model) (Model, tea.Cmd) {
	d, ok := in[drillMode](m)
	if !ok || msg.asked != d.asked {
		return m, nil
	}
	if msg.err != nil {
		m.message = msg.err.Error()
		return m, nil
	}
	d.trial = &msg.trial
	return m.with(d), nil
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
	step := m.units.Fine(d.step)
	return []binding{
		{keys: []string{"left", "right", "up", "down", "h", "l", "k", "j"}, label: "arrows move " + step, does: "move the hole", run: place(drillMode.move)},
		{keys: []string{"s"}, label: "s step", does: "how far an arrow moves it: 10, 1 or 0.1 mm", run: place(drillMode.nextStep)},
		{keys: []string{"enter"}, label: "enter keep", does: "keep the hole for this walk", run: place(drillMode.keep)},
		{keys: []string{"W"}, label: "W write to the file", does: "write it, and others that are kept, to the car file", run: place(drillMode.write)},
		{keys: []string{"esc", "q"}, label: "esc drop", does: "drop the hole", run: place(drillMode.drop)},
		quitting(),
	}
}

func (drillMode) other(m Model, _ tea.KeyMsg) (Model, tea.Cmd) {
	m.message = "a hole is being placed: arrows move it, enter keeps it, esc drops it"
	return m, nil
}

func (d drillMode) move(m Model, key string) (Model, tea.Cmd) {
	way := map[string][2]float64{
		"left": {-1, 0}, "right": {1, 0}, "up": {0, 1}, "down": {0, -1},
		"h": {-1, 0}, "l": {1, 0}, "k": {0, 1}, "j": {0, -1},
	}[key]
	d.hole.X = math.Round((d.hole.X+way[0]*d.step)*10) / 10
	d.hole.Z = math.Round((d.hole.Z+way[1]*d.step)*10) / 10
	return d.try(m)
}

func (d drillMode) nextStep(m Model, _ string) (Model, tea.Cmd) {
	d.step = drillSteps[(slices.Index(drillSteps, d.step)+1)%len(drillSteps)]
	return m.with(d), nil
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
	}
	return m.closed()
}

func (d drillMode) keep(m Model, _ string) (Model, tea.Cmd) {
	if why := d.broken(m); why != "" {
		m.message = why
		return m, nil
	}
	m = d.done(m).remember("hole " + d.hole.ID)
	m.unsaved = append(m.unsaved[:len(m.unsaved):len(m.unsaved)], d.hole)
	m.message = fmt.Sprintf("%s is kept until you quit; it is not in the car file", d.hole.ID)
	return m.ask(drill.With(m.car, d.hole), nil)
}

func (d drillMode) write(m Model, _ string) (Model, tea.Cmd) {
	if why := d.broken(m); why != "" {
		m.message = why
		return m, nil
	}
	if m.src.AddHole == nil {
		m.message = "a demo car cannot be changed: stanchion new FILE --demo NAME makes a copy"
		return m, nil
	}
	add, car, all := m.src.AddHole, m.car, append(m.unsaved[:len(m.unsaved):len(m.unsaved)], d.hole)
	return m, func() tea.Msg {
		msg := writtenMsg{}
		for _, h := range all {
			restore, err := add(car.Parts[h.Part].Name, h.Hole)
			if err != nil {
				msg.err = err
				return msg
			}
			msg.holes, msg.restores = msg.holes+1, append(msg.restores, restore)
		}
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
	holes    int
	restores []func() error // one for each, in their order
	err      error
}

func (msg writtenMsg) take(m Model) (Model, tea.Cmd) {
	m.unsaved = m.unsaved[min(msg.holes, len(m.unsaved)):]
	for _, r := range msg.restores {
		m.changes = append(m.changes[:len(m.changes):len(m.changes)], change{what: "a hole written to the car file", restore: r})
	}
	if msg.err != nil {
		m.message = msg.err.Error()
		return m, nil
	}
	m = m.closed()
	m.message = fmt.Sprintf("%d holes are in the car file; U takes the last back", msg.holes)
	if msg.holes == 1 {
		m.message = "the hole is in the car file; U takes it back"
	}
	return m, nil
}

// laidOn is a car with what was kept for this walk laid on it: holes that are not
// in its file, and the correction of its fixed part.
func (m Model) laidOn(car *model.Car) *model.Car {
	for _, h := range m.unsaved {
		if h.Part < len(car.Parts) {
			car = drill.With(car, h)
		}
	}
	if m.datum != nil {
		car = calibrate.Corrected(car, *m.datum)
	}
	return car
}

// laid says what is laid on the car, for the header; "" when nothing is.
func (m Model) laid() string {
	text := ""
	for _, h := range m.unsaved {
		text += " +" + h.ID
	}
	if m.datum != nil {
		text += " corrected"
	}
	if text != "" {
		text = " [not in the file:" + text + "]"
	}
	return text
}

// view leaves the walk there: the hole stands in the side view and the map, what it would
// change beside the figures.
func (drillMode) view(Model) (string, bool) { return "", false }

func (d drillMode) tell(w *walker) {
	for _, l := range d.lines(w.m, w.m.width, 100) {
		w.say("%s", plainText(l))
	}
	w.say("%s", plainText(w.m.footerOf(d)))
}

func (drillMode) typed(*walker, string) {}

// lines says what the hole would change.
func (d drillMode) lines(m Model, w, h int) []string {
	var lines []string
	add := func(format string, args ...any) {
		lines = append(lines, widgets.Wrap(fmt.Sprintf(format, args...), w)...)
	}
	u := m.units
	add("%s: x %s, z %s, %s wide", d.hole.ID, u.Dimension(d.hole.X), u.Dimension(d.hole.Z), u.Dimension(d.hole.D))
	if d.trial == nil {
		return append(lines, "trying it…")
	}
	for _, l := range widgets.Wrap(words.Trial(d.trial, m.units), w) {
		if d.trial.Verdict.Good() {
			l = withinStyle.Render(l)
		} else {
			l = outsideStyle.Render(l)
		}
		lines = append(lines, l)
	}
	add("new settings %d, of use %d; settings that gain a bolt %d", len(d.trial.Added), len(d.trial.Useful), len(d.trial.Further))
	for _, r := range d.trial.Rules {
		mark, minimum := "OK", "minimum "+u.Dimension(r.Need)
		if !r.Must {
			mark, minimum = "less than is usual", "usual "+u.Dimension(r.Need)
		} else if !r.OK {
			mark = "TOO LITTLE"
		}
		add("%s %s, %s: %s", words.Rule(r), u.Dimension(r.Have), minimum, mark)
	}
	return lines[:min(len(lines), max(h, 0))]
}

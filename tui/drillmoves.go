package tui

import (
	"fmt"
	"math"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/holes/plane"
	"stanchion/model/drill"
	"stanchion/model/units"
)

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
	arrows, next, partner, free := "←→ <> curve", "n next", "tab partner", "f free"
	if d.curve < 0 && d.hole.ID != "" {
		arrows, next, partner, free = "arrows move "+m.units.Fine(d.step), "", "", "f curve" // those two are about a curve
	}
	return []binding{
		{keys: []string{"left", "right", "h", "l"}, label: arrows, does: "along the curve by 0.5°; when it is moved freely, across", run: place(drillMode.move)},
		{keys: []string{"up", "down", "k", "j"}, does: "another row of the table; when the hole is moved freely, up and down", run: place(drillMode.move)},
		{keys: []string{"<", ">"}, does: "along the curve by 0.1°", run: place(drillMode.fine)},
		{keys: []string{"n", "p"}, label: next, does: "the next, or the previous, useful place along the curve", run: place(drillMode.nextUseful)},
		{keys: []string{"tab", "shift+tab"}, label: partner, does: "the curve with another hole for the other bolt", run: place(drillMode.partner)},
		{keys: []string{"f"}, label: free, does: "leave the curve and move the hole freely, or go back to the nearest curve", run: place(drillMode.freely)},
		{keys: []string{"s"}, does: "how far an arrow moves it freely: 10, 1 or 0.1 mm", run: place(drillMode.nextStep)},
		{keys: []string{"x"}, label: "x type", does: "type its place as x,z, the angle that it is to give, or what holes are to do: fill, fill 2, a downforce, between two settings, steps of a width, all bolts", run: place(drillMode.typePlace)},
		{keys: []string{"z"}, does: "its picture: the joint close, the whole rear, the uprights", run: place(func(_ drillMode, m Model, _ string) (Model, tea.Cmd) { return m.zoom() })},
		{keys: []string{"enter"}, label: "enter keep", does: "keep the hole for this walk", run: place(drillMode.keep)},
		{keys: []string{"W"}, label: "W write", does: "write it, and others that are kept, to the car file", run: place(drillMode.write)},
		{keys: []string{"esc", "q"}, label: "esc drop", does: "drop the hole", run: place(drillMode.drop)},
		{keys: []string{"ctrl+c"}, does: "stop a search for holes; without one, leave stanchion", run: place(drillMode.interrupt)},
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
	return m.promptOver(d, "place", goalHint, func(m Model, text string) (Model, tea.Cmd, error) {
		return d.typedPlace(m, text)
	})
}

// typedPlace reads a place: two lengths, or an angle to the ground.
func (d drillMode) typedPlace(m Model, text string) (Model, tea.Cmd, error) {
	d.moved = true
	if isGoal(text) {
		return d.typedGoal(m, text)
	}
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
		return m, nil, fmt.Errorf("%q; type x,z, 4.3°, %s", text, goalExamples)
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

// usefulText says in words which angles along the curve give something new.
func (d drillMode) usefulText() string {
	var parts []string
	for i := 0; i < len(d.strip); i++ {
		if d.strip[i].Holds != drill.NewStep {
			continue
		}
		from := i
		for i+1 < len(d.strip) && d.strip[i+1].Holds == drill.NewStep {
			i++
		}
		parts = append(parts, fmt.Sprintf("%s to %s degrees", units.Fixed(d.strip[from].Angle/plane.Deg, 1), units.Fixed(d.strip[i].Angle/plane.Deg, 1)))
	}
	if parts == nil {
		return "Nowhere along it is a new setting to be had."
	}
	return "New settings along it: from " + strings.Join(parts, ", from ") + "."
}

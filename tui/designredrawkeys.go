package tui

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model/design"
	"stanchion/model/units"
)

func (redrawMode) title() string { return "while a proposal is reworked" }

func (redrawMode) typing() bool { return false }

func (d redrawMode) bindings(m Model) []binding {
	do := func(run func(redrawMode, Model, string) (Model, tea.Cmd)) func(Model, string) (Model, tea.Cmd) {
		return func(m Model, key string) (Model, tea.Cmd) {
			m.message = ""
			d, _ := in[redrawMode](m)
			return run(d, m, key)
		}
	}
	answered := func(then func(redrawMode, Model) (Model, tea.Cmd)) func(redrawMode, Model, string) (Model, tea.Cmd) {
		return func(d redrawMode, m Model, _ string) (Model, tea.Cmd) { return d.onceAnswered(m, then) }
	}
	arrows, edges := "arrows", "E all edges"
	if d.from != nil {
		arrows += " " + m.units.Dimension(d.step)
	}
	if d.all {
		edges = "E one edge"
	}
	return []binding{
		{keys: []string{"left", "right", "up", "down", "h", "l", "k", "j"}, label: arrows, does: "move the hole; along the arc, right and up are onward", run: do(redrawMode.arrow)},
		{keys: []string{"n", "p"}, label: "n hole", does: "the next hole, or the one before; a click takes one too", run: do(redrawMode.nextHole)},
		{keys: []string{"+", "=", "-", "_"}, label: "± edge", does: "the outline further from the hole, or nearer to it, by as much as an arrow moves", run: do(redrawMode.moveEdge)},
		{keys: []string{" "}, label: "space lock", does: "lock the hole for the next search, or release it", run: do(redrawMode.toggleLock)},
		{keys: []string{"enter"}, label: "enter keep", does: "keep the proposal as it is now", run: do(answered(redrawMode.keep))},
		{keys: []string{"esc", "q", "#"}, label: "esc drop", does: "go back; what is changed is dropped, locks stay", run: do(redrawMode.drop)},
		{keys: []string{"pgdown"}, does: "more of what is said", run: do(redrawMode.page)},
		{keys: []string{"pgup"}, does: "what is said, back", run: do(redrawMode.page)},
		{keys: []string{"x"}, label: "x type", does: "type a place x,z, a hole's name, or the distance of the edge: edge 22", run: do(redrawMode.typePlace)},
		{keys: []string{"tab", "shift+tab"}, label: "tab arc", does: "along the arc about a hole for the wing's other bolt, the next one, and freely again", run: do(redrawMode.nextArc)},
		{keys: []string{"s"}, label: "s step", does: "how far an arrow moves it: 0.5, 5 or 0.1 mm", run: do(redrawMode.nextStep)},
		{keys: []string{"E"}, label: edges, does: "whether that moves the edge at this hole or at all of them", run: do(redrawMode.allEdges)},
		{keys: []string{"A"}, label: "A lock all", does: "lock all holes, or release all", run: do(redrawMode.lockAll)},
		{keys: []string{"U", "backspace"}, label: "U undo", does: "undo the last change", run: do(redrawMode.undo)},
		{keys: []string{"ctrl+r"}, does: "redo it", run: do(redrawMode.redo)},
		{keys: []string{"i"}, label: "i wish", does: "keep it, and change what is wanted: a search keeps what is locked", run: do(answered(redrawMode.toWish))},
		{keys: []string{"W"}, label: "W write", does: "keep it, and write it to a new car file", run: do(answered(redrawMode.write))},
		quitting(),
	}
}

// other takes a digit or a minus for the beginning of a place that is typed.
func (d redrawMode) other(m Model, key tea.KeyMsg) (Model, tea.Cmd) {
	if k := key.String(); len(k) == 1 && strings.ContainsAny(k, "0123456789") {
		m.message = ""
		m, cmd := d.typePlace(m, k)
		p, _ := in[promptMode](m)
		p.input.SetValue(k)
		p.input.CursorEnd()
		return m.with(p), cmd
	}
	return m, nil
}

func (d redrawMode) arrow(m Model, key string) (Model, tea.Cmd) {
	way := map[string]plane.Point{"left": {X: -1}, "right": {X: 1}, "up": {Z: 1}, "down": {Z: -1}, "h": {X: -1}, "l": {X: 1}, "k": {Z: 1}, "j": {Z: -1}}[key]
	return d.moveBy(m, way.Times(d.step))
}

// page turns the pages of what is said.
func (d redrawMode) page(m Model, key string) (Model, tea.Cmd) {
	by := 1
	if key == "pgup" {
		by = -1
	}
	d.scroll = min(max(d.scroll+by, 0), len(d.lines(m))/2)
	return m.with(d), nil
}

func (d redrawMode) nextHole(m Model, key string) (Model, tea.Cmd) {
	by := 1
	if key == "p" {
		by = -1
	}
	n := len(d.drawn.holes)
	return d.choose(m, (d.at+by+n)%n), nil
}

// choose takes another hole, which moves freely at first.
func (d redrawMode) choose(m Model, n int) Model {
	d.at, d.about, d.dropping, d.scroll = n, -1, false, 0
	return m.with(d)
}

func (d redrawMode) nextStep(m Model, _ string) (Model, tea.Cmd) {
	d.step = redrawSteps[(slices.Index(redrawSteps, d.step)+1)%len(redrawSteps)]
	return m.with(d), nil
}

// nearArc is how far off an arc a hole may be to be brought onto it, mm.
const nearArc = 4

// nextArc takes the next hole for the wing's other bolt as the middle of the arc, and after the last one none.
func (d redrawMode) nextArc(m Model, key string) (Model, tea.Cmd) {
	want := design.AtRear
	switch d.from.RoleOf(d.at) {
	case design.AtFoot:
		m.message = "holes of the foot stand in line with the bracket's: no arc"
		return m.with(d), nil
	case design.AtRear:
		want = design.AtFront
	}
	ways := []int{-1}
	for i, o := range d.drawn.holes {
		if d.from.RoleOf(i) == want && (i == d.about || math.Abs(o.At().Distance(d.hole().At())-d.from.Pitch) < nearArc) {
			ways = append(ways, i)
		}
	}
	if len(ways) == 1 {
		m.message = fmt.Sprintf("no hole for the other bolt is about %s away: no arc near", m.units.Dimension(d.from.Pitch))
		return m.with(d), nil
	}
	by := 1
	if key == "shift+tab" {
		by = -1
	}
	d.about = ways[(slices.Index(ways, d.about)+by+len(ways))%len(ways)]
	if d.about < 0 {
		m.message = "it moves freely"
		return m.with(d), nil
	}
	m.message = fmt.Sprintf("along the arc about %s, %s from it", d.drawn.holes[d.about].ID, m.units.Dimension(d.from.Pitch))
	return m.with(d), nil
}

func (d redrawMode) moveEdge(m Model, key string) (Model, tea.Cmd) {
	by := d.step
	if key == "-" || key == "_" {
		by = -by
	}
	return d.edgeTo(m, d.edge()+by)
}

func (d redrawMode) allEdges(m Model, _ string) (Model, tea.Cmd) {
	d.all = !d.all
	m.message = "± moves the edge at " + d.hole().ID
	if d.all {
		m.message = "± moves the edge at all holes"
	}
	return m.with(d), nil
}

func (d redrawMode) toggleLock(m Model, _ string) (Model, tea.Cmd) {
	id := d.hole().ID
	on := !m.lockedHole(d.n, id)
	m = m.lock(d.n, on, id)
	if m.message = id + " is released"; on {
		m.message = id + " is locked: a search from the form (i) keeps it as it is"
	}
	return m.with(d), nil
}

func (d redrawMode) lockAll(m Model, _ string) (Model, tea.Cmd) {
	var ids []string
	open := false
	for _, h := range d.drawn.holes {
		ids = append(ids, h.ID)
		open = open || !m.lockedHole(d.n, h.ID)
	}
	m = m.lock(d.n, open, ids...)
	if m.message = "all holes are released"; open {
		m.message = "all holes are locked: a search from the form (i) adds to them"
	}
	return m.with(d), nil
}

func (d redrawMode) undo(m Model, _ string) (Model, tea.Cmd) {
	n := len(d.done)
	if n == 0 {
		m.message = "nothing to undo"
		return m.with(d), nil
	}
	m.message = "undone: " + d.drawn.what + "; ctrl+r redoes it"
	d.undone = append(slices.Clip(d.undone), d.drawn)
	d.drawn, d.done = d.done[n-1], d.done[:n-1]
	return d.try(m)
}

func (d redrawMode) redo(m Model, _ string) (Model, tea.Cmd) {
	n := len(d.undone)
	if n == 0 {
		m.message = "nothing to redo"
		return m.with(d), nil
	}
	d.done = append(slices.Clip(d.done), d.drawn)
	d.drawn, d.undone = d.undone[n-1], d.undone[:n-1]
	m.message = "redone: " + d.drawn.what
	return d.try(m)
}

// typePlace asks for a place, a hole or a distance.
func (d redrawMode) typePlace(m Model, _ string) (Model, tea.Cmd) {
	return m.promptOver(d, "hole "+d.hole().ID, "its place x,z in the plate, another hole's name, or the distance of the edge: edge 22", func(m Model, text string) (Model, tea.Cmd, error) {
		return d.typed1(m, text)
	})
}

// typed1 takes what is typed.
func (d redrawMode) typed1(m Model, text string) (Model, tea.Cmd, error) {
	text = strings.TrimSpace(text)
	if n := slices.IndexFunc(d.drawn.holes, func(h holes.Hole) bool { return h.ID == text }); n >= 0 {
		return d.choose(m, n), nil, nil
	}
	read := func(text string) (float64, error) { return units.Lengths.Parse(text, m.units.LengthUnit()) }
	if rest, ok := strings.CutPrefix(text, "edge"); ok {
		mm, err := read(strings.TrimSpace(rest))
		if err != nil {
			return m, nil, err
		}
		if least := d.hole().D/2 + design.LeastRim; mm < least || mm > design.MostEdge {
			return m, nil, fmt.Errorf("the edge must be %s to %s from the hole's middle", m.units.Dimension(least), m.units.Dimension(design.MostEdge))
		}
		m, cmd := d.edgeTo(m, mm)
		return m, cmd, nil
	}
	words := splitWords(text)
	if len(words) != 2 {
		return m, nil, fmt.Errorf("%q; type a place such as 120,340.5, the name of a hole, or edge 22", text)
	}
	var at [2]float64
	for i, w := range words {
		v, err := read(w)
		if err != nil {
			return m, nil, err
		}
		at[i] = v
	}
	if to := (plane.Point{X: at[0], Z: at[1]}); to.Length() > mostPlace {
		return m, nil, errors.New("that is further off than plates are large")
	}
	d.about = -1
	m, cmd := d.moveTo(m, plane.Point{X: at[0], Z: at[1]})
	return m, cmd, nil
}

func (d redrawMode) tell(w *walker) {
	for _, l := range d.lines(w.m) {
		w.say("%s", plainText(l))
	}
	w.say("Holes: %s.", plainText(strings.Join(d.names(w.m), ", ")))
	w.say("%s", plainText(w.m.footerOf(d)))
}

func (redrawMode) typed(*walker, string) {}

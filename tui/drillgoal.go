package tui

import (
	"context"
	"errors"
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model"
	"stanchion/model/drill"
	"stanchion/model/given"
	"stanchion/model/units"
	"stanchion/model/words"
)

// goalHint says what can be typed while a hole is placed.
const goalHint = "x,z · 4° · fill, fill 2 · 350N · between A and B · steps 2° · all bolts"

// Bounds of what is asked from the screen.
const (
	drillGrid    = 0.5 // mm, of the drill
	stepsHoles   = 4   // the most for steps of a width
	goalExamples = "fill, 350N, between A and B, steps 2.5° or all bolts"
)

// wantedMsg answers which holes do what was wanted.
type wantedMsg struct {
	table *model.Table
	asked int
	holes []drill.NewHole
	text  string // what they do, or why there are none
	err   error
}

// isGoal reports whether what is typed says what a hole is to do, and not where it is to be.
func isGoal(text string) bool {
	text = strings.ToLower(strings.TrimSpace(text))
	for _, word := range []string{"fill", "between", "steps", "all bolts", "bolts"} {
		if strings.HasPrefix(text, word) {
			return true
		}
	}
	for _, unit := range []string{"n", "kgf", "lbf"} {
		if figure, ok := strings.CutSuffix(text, unit); ok && strings.Trim(figure, " 0123456789.") == "" && figure != "" {
			return true
		}
	}
	return false
}

// typedGoal asks for the holes that do what is typed.
func (d drillMode) typedGoal(m Model, text string) (Model, tea.Cmd, error) {
	text = strings.TrimSpace(text)
	lower := strings.ToLower(text)
	if strings.HasSuffix(lower, "bolts") {
		return d.askBolts(m)
	}
	part := d.hole.Part
	w := drill.Goal{Count: 1, Grid: drillGrid, Part: part, Joint: d.hole.Joint, D: d.hole.D,
		Name: func(n int) string { return drill.FreeHoleName(m.car.Parts[part], n) }}
	switch {
	case lower == "fill":
		w.Fill = true
	case lower == "fill 2", lower == "fill 2 holes":
		w.Fill, w.Count = true, 2
	case strings.HasPrefix(lower, "steps"):
		step, err := units.Angles.Parse(strings.TrimSuffix(strings.TrimSpace(lower[len("steps"):]), "°"), "deg")
		if err != nil {
			return m, nil, fmt.Errorf("%w; such as steps 2.5°", err)
		}
		if step < drill.LeastMaxStep {
			return m, nil, errors.New("steps must be 0.1° or more")
		}
		w.MaxStep, w.Count = given.Is(step), stepsHoles
		if r := m.row(); r != nil {
			w.Height = given.Is(r.Height)
		}
	case strings.HasPrefix(lower, "between"):
		b, err := m.betweenOf(text[len("between"):])
		if err != nil {
			return m, nil, err
		}
		w.Between = b
	case !strings.ContainsAny(lower[:1], "0123456789."):
		return m, nil, fmt.Errorf("%q; type %s, or fill 2", text, goalExamples)
	default:
		force, err := units.Forces.Parse(text, m.units.ForceUnit())
		if err != nil {
			return m, nil, err
		}
		w.Downforce = given.Is(force)
	}
	return d.askGoal(m, w)
}

// betweenOf reads two settings with an "and", and the figure behind a "by".
func (m Model) betweenOf(text string) (*drill.Between, error) {
	by := drill.ByDownforce
	if i := strings.LastIndex(text, " by "); i >= 0 {
		known := false
		for _, f := range []drill.Figure{drill.ByDownforce, drill.ByAngle, drill.ByHeight, drill.ByShare} {
			if strings.EqualFold(strings.TrimSpace(text[i+4:]), words.FigureName(f)) {
				by, known = f, true
			}
		}
		if !known {
			return nil, fmt.Errorf("by %q; use downforce, angle, height or front share", strings.TrimSpace(text[i+4:]))
		}
		text = text[:i]
	}
	a, b, ok := strings.Cut(text, " and ")
	if !ok {
		return nil, errors.New("name two settings: between row 4, B1 and row 4, B2")
	}
	between := &drill.Between{By: by}
	for _, x := range []struct {
		name string
		to   **model.Row
	}{{a, &between.A}, {b, &between.B}} {
		found := m.table.Named(strings.Fields(x.name))
		if len(found) != 1 || found[0].NoForces() {
			return nil, fmt.Errorf("%q names %s with known forces; name one", strings.TrimSpace(x.name), units.Count(len(found), "setting"))
		}
		*x.to = found[0]
	}
	if between.A.ID == between.B.ID {
		return nil, errors.New("both names are of one setting; name two")
	}
	return between, nil
}

// askGoal searches in the background.
func (d drillMode) askGoal(m Model, w drill.Goal) (Model, tea.Cmd, error) {
	return d.ask(m, func(ctx context.Context) ([]drill.NewHole, string, error) {
		found, err := drill.Suggest(ctx, d.existing, w, nil)
		switch {
		case err != nil:
			return nil, "", err
		case len(found.Best) == 0:
			if r, ok := drill.Served(d.existing, w); ok {
				return nil, "no new hole is needed: " + d.existing.Table.Name(r.Setting) + " does that already", nil
			}
			return nil, words.NothingFound(&found, d.existing, w, m.units), nil
		}
		return found.Best[0].Holes, words.Suggestion(&found.Best[0], w, m.units), nil
	})
}

// askBolts asks for the holes that give every bolt to the setting that is shown, or to another at its height.
func (d drillMode) askBolts(m Model) (Model, tea.Cmd, error) {
	r := m.row()
	w := drill.BoltsGoal{Setting: r, Grid: drillGrid, Name: func(part, n int) string { return drill.FreeHoleName(m.car.Parts[part], n) }}
	return d.ask(m, func(ctx context.Context) ([]drill.NewHole, string, error) {
		found, err := drill.SuggestBolts(ctx, d.existing, w)
		if err == nil && found.Looked == found.Full { // then another of its height
			w.Setting, w.Height = nil, given.Is(r.Height)
			found, err = drill.SuggestBolts(ctx, d.existing, w)
		}
		switch {
		case err != nil:
			return nil, "", err
		case len(found.Best) > 0:
			b := &found.Best[0]
			return b.Holes, words.AllBolts(b, d.existing, m.units), nil
		case len(found.Near) > 0:
			return nil, "the holes for further bolts at this height cannot be drilled: " + words.Broken(*found.Near[0].Short, m.units), nil
		}
		return nil, "every bolt goes in already at this height", nil
	})
}

// ask sends off a question for holes; one that is still being worked on ends.
func (d drillMode) ask(m Model, search func(context.Context) ([]drill.NewHole, string, error)) (Model, tea.Cmd, error) {
	if d.stopWanted != nil {
		d.stopWanted()
	}
	m.trials++
	ctx, cancel := context.WithCancel(d.whole)
	d.wanted, d.stopWanted, d.moved = m.trials, cancel, true
	m.message = "looking for the best place…"
	table, asked := m.table, d.wanted
	return m.with(d), func() tea.Msg {
		hs, text, err := search(ctx)
		return wantedMsg{table, asked, hs, text, err}
	}, nil
}

// interrupt ends a search for holes that is going on; without one it leaves the program.
func (d drillMode) interrupt(m Model, _ string) (Model, tea.Cmd) {
	if d.stopWanted == nil {
		return m.quit()
	}
	d.stopWanted()
	d.stopWanted = nil
	m.message = "the search is stopped; the hole is where it was"
	return m.with(d), nil
}

// take goes to the holes that were found.
func (msg wantedMsg) take(m Model) (Model, tea.Cmd) {
	d, ok := m.drilling()
	if !ok || msg.asked != d.wanted || !m.sameTable(msg.table) || errors.Is(msg.err, context.Canceled) {
		return m, nil
	}
	if msg.err != nil {
		d.stopWanted = nil
		m = m.withDrill(d)
		m.message = msg.err.Error()
		return m, nil
	}
	d.stopWanted = nil
	m = m.withDrill(d)
	m.message = msg.text
	if len(msg.holes) == 0 {
		return m, nil
	}
	if part := msg.holes[0].Part; part != d.hole.Part {
		d.curves, d.strip = drill.Curves(m.car, part), nil
	}
	d.hole, d.also = msg.holes[0], msg.holes[1:]
	d = d.ontoCurve(m)
	m = m.withDrill(d)
	m, cmd := d.try(m)
	return m, tea.Batch(cmd, d.workOutStrip(m))
}

// all are the holes that are placed together.
func (d drillMode) all() []drill.NewHole { return append([]drill.NewHole{d.hole}, d.also...) }

// alsoText says where the others are that are placed with the first; "" without any.
func (d drillMode) alsoText(m Model) string {
	if len(d.also) == 0 {
		return ""
	}
	var parts []string
	for _, h := range d.also {
		parts = append(parts, fmt.Sprintf("%s in %s at x %s, z %s", h.ID, m.car.Parts[h.Part].Name, m.units.Dimension(h.X), m.units.Dimension(h.Z)))
	}
	return "with " + strings.Join(parts, " and ")
}

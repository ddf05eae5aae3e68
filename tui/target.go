package tui

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model/choose"
	"stanchion/model/given"
	"stanchion/model/units"
	"stanchion/model/words"
	"stanchion/tui/widgets"
)

// targetField is one line of the form for a target.
type targetField struct {
	name string
	hint func(units.System) string // with the unit of a bare number
	unit func(units.System) string // of a bare number
	read func(c *choose.Criteria, text string, u units.System) error
}

// quantity reads a number with a unit into a criterion.
func quantity(u units.Unit, bare func(units.System) string, to func(*choose.Criteria) *given.Number) func(*choose.Criteria, string, units.System) error {
	return func(c *choose.Criteria, text string, s units.System) error {
		v, err := u.Parse(text, bare(s))
		*to(c) = given.Is(v)
		return err
	}
}

func targetFields() []targetField {
	percent := units.Unit{"%": 0.01, "pp": 0.01}
	inPercent := func(units.System) string { return "%" }
	degrees := func(units.System) string { return "deg" }
	plain := func(text string) func(units.System) string { return func(units.System) string { return text } }
	force := func(n float64) func(units.System) string {
		return func(u units.System) string { return u.ForceFigure(n) + " " + u.ForceUnit() }
	}
	length := func(mm float64) func(units.System) string {
		return func(u units.System) string { return u.Length(mm) }
	}
	return []targetField{
		{"target front share, %", plain("49.5"), inPercent, quantity(percent, inPercent, func(c *choose.Criteria) *given.Number { return &c.FrontShare.Value })},
		{"  give or take, %", plain("0.5"), inPercent, func(c *choose.Criteria, text string, u units.System) (err error) {
			c.FrontShare.Tolerance, err = percent.Parse(text, "%")
			return err
		}},
		{"downforce, at least", force(400), units.System.ForceUnit, quantity(units.Forces, units.System.ForceUnit, func(c *choose.Criteria) *given.Number { return &c.MinDownforce })},
		{"downforce, at most", force(600), units.System.ForceUnit, quantity(units.Forces, units.System.ForceUnit, func(c *choose.Criteria) *given.Number { return &c.MaxDownforce })},
		{"drag, at most", force(60), units.System.ForceUnit, quantity(units.Forces, units.System.ForceUnit, func(c *choose.Criteria) *given.Number { return &c.MaxDrag })},
		{"stall margin, at least", plain("3deg"), degrees, quantity(units.Angles, degrees, func(c *choose.Criteria) *given.Number { return &c.MinStallMargin })},
		{"height, at least", length(1250), units.System.LengthUnit, quantity(units.Lengths, units.System.LengthUnit, func(c *choose.Criteria) *given.Number { return &c.MinHeight })},
		{"height, at most", length(1350), units.System.LengthUnit, quantity(units.Lengths, units.System.LengthUnit, func(c *choose.Criteria) *given.Number { return &c.MaxHeight })},
	}
}

// targetMode is the form for a target.
type targetMode struct{ form widgets.Form }

// openTarget opens the form, with the last target.
func (m Model) openTarget() (Model, tea.Cmd) {
	var f widgets.Form
	for i, field := range targetFields() {
		was := ""
		if i < len(m.targetTyped) {
			was = m.targetTyped[i]
		}
		f.Add(field.name, "such as "+field.hint(m.units), was, 20)
	}
	f.Fields[0].Focus()
	return m.with(targetMode{f}), nil
}

func (targetMode) title() string { return "in the form for a target" }

func (targetMode) typing() bool { return true }

// moving are the keys that go from line to line of a form.
func moving(move func(m Model, by int) (Model, tea.Cmd)) []binding {
	return []binding{
		{keys: []string{"tab", "down"}, label: "tab and arrows move", does: "next line", run: func(m Model, _ string) (Model, tea.Cmd) { return move(m, 1) }},
		{keys: []string{"shift+tab", "up"}, does: "previous line", run: func(m Model, _ string) (Model, tea.Cmd) { return move(m, -1) }},
	}
}

func (targetMode) bindings(m Model) []binding {
	move := func(m Model, by int) (Model, tea.Cmd) {
		t, _ := in[targetMode](m)
		var cmd tea.Cmd
		t.form, cmd = t.form.Moved(by)
		return m.with(t), cmd
	}
	return append(moving(move),
		binding{keys: []string{"enter"}, label: "enter takes it", does: "take the target; with nothing in it there is none",
			run: func(m Model, _ string) (Model, tea.Cmd) {
				t, _ := in[targetMode](m)
				return t.take(m).workOutPaint()
			}},
		binding{keys: []string{"esc"}, label: "esc goes back", does: "go back",
			run: func(m Model, _ string) (Model, tea.Cmd) { return m.closed(), nil }},
		quitting(),
	)
}

func (t targetMode) other(m Model, key tea.KeyMsg) (Model, tea.Cmd) {
	var cmd tea.Cmd
	t.form, cmd = t.form.Typed(key)
	return m.with(t), cmd
}

// take reads the form; with nothing in it there is no target.
func (t targetMode) take(m Model) Model {
	var c choose.Criteria
	c.FrontShare.Tolerance = 0.005
	var texts []string
	any := false
	for i, f := range targetFields() {
		text := strings.TrimSpace(t.form.Fields[i].Value())
		if strings.Trim(text, "0123456789.+- ") == "" && text != "" {
			text += f.unit(m.units) // so that it stays what it is when units change
		}
		texts = append(texts, text)
		if text == "" {
			continue
		}
		any = true
		if err := f.read(&c, text, m.units); err != nil {
			t.form, _ = t.form.Jumped(i)
			t.form.Fault = strings.TrimSpace(f.name) + ": " + err.Error()
			return m.with(t)
		}
	}
	m, m.targetTyped = m.closed(), texts
	if !any {
		m.target, m.hits, m.targetTyped = nil, nil, nil
		m.message = "no target"
		return m
	}
	m.target = &c
	return m.pick().toBestHit()
}

// toBestHit goes to the best setting that meets the target, or to the nearest that does
// not.
func (m Model) toBestHit() Model {
	if n := len(m.hits); n > 0 {
		m = m.show(m.hits[0].Way)
		m.message = "1 setting meets the target: this one"
		if n > 1 {
			m.message = fmt.Sprintf("%d settings meet the target; this is the best: ] goes to the next", n)
		}
		return m
	}
	m.message = "none meets the target"
	if _, near := choose.Pick(m.table, *m.target); len(near) > 0 {
		m.current = near[0].Row
		m.message = "none meets the target; the nearest is ruled out by " + words.StoppedBy(m.table, near[0], m.units)[0]
	}
	return m
}

// view draws the form over the whole screen.
func (t targetMode) view(m Model) (string, bool) {
	return t.form.View([]string{titleStyle.Render("target for a setting"), "",
		"Leave open what does not matter; all open shows every setting again.", ""},
		m.footerOf(t), m.width, m.height, m.glyphs), true
}

func (t targetMode) tell(w *walker) {
	w.tellForm(t.form, func(f widgets.Form) mode { return targetMode{f} })
}

func (t targetMode) typed(w *walker, text string) {
	w.typeInForm(t.form, text, func(f widgets.Form) mode { return targetMode{f} }, nil)
}

// pick finds the hits in the table as it now is. The kept setting is taken for
// the one that is on the car.
func (m Model) pick() Model {
	m.hits = nil
	if m.target != nil && m.table != nil {
		w := *m.target
		w.From = m.keptID
		m.hits, _ = choose.Pick(m.table, w)
	}
	return m
}

// nextHit steps through the hits, from the best on.
func nextHit(by int) func(Model) (Model, tea.Cmd) {
	return func(m Model) (Model, tea.Cmd) {
		at := -1
		for i, h := range m.hits {
			if h.Row == m.current {
				at = i
			}
		}
		to := at + by
		if at < 0 {
			to = 0
		}
		if to < 0 || to >= len(m.hits) {
			m.message = "no further setting meets the target"
			return m, nil
		}
		m = m.show(m.hits[to].Way)
		m.message = fmt.Sprintf("%d of %d that meet the target: %s", to+1, len(m.hits), strings.Join(m.whyHit(to), "; "))
		return m, nil
	}
}

// whyHit says why hit i meets the target.
func (m Model) whyHit(i int) []string {
	c := *m.target
	c.From = m.keptID
	return words.Hit(m.table, c, m.hits, i, m.units)
}

func needsHits(m Model) string {
	switch {
	case m.target == nil:
		return "no target is set: i sets one"
	case len(m.hits) == 0:
		return "no setting meets the target"
	}
	return needsRows(m)
}

package tui

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model/choose"
	"stanchion/model/given"
	"stanchion/model/units"
	"stanchion/model/words"
)

// wishField is one line of the form.
type wishField struct {
	name string
	hint func(units.System) string // with the unit of a bare number
	unit func(units.System) string // of a bare number
	read func(c *choose.Criteria, text string, u units.System) error
}

// quantity reads a number with a unit into a wish.
func quantity(u units.Unit, bare func(units.System) string, to func(*choose.Criteria) *given.Number) func(*choose.Criteria, string, units.System) error {
	return func(c *choose.Criteria, text string, s units.System) error {
		v, err := u.Parse(text, bare(s))
		*to(c) = given.Is(v)
		return err
	}
}

func wishFields() []wishField {
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
	return []wishField{
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

// openWishes opens the form, with the last target.
func (m Model) openWishes() (Model, tea.Cmd) {
	m.mode, m.form = wishing, &form{}
	for i, f := range wishFields() {
		was := ""
		if i < len(m.wished) {
			was = m.wished[i]
		}
		m.form.add(f.name, "such as "+f.hint(m.units), was, 20)
	}
	m.form.fields[0].Focus()
	return m, nil
}

// wishKey handles a key while the form is open.
func (m Model) wishKey(key tea.KeyMsg) (tea.Model, tea.Cmd) {
	m.form = m.form.copied()
	switch key.String() {
	case "esc":
		m.mode, m.form = walking, nil
		return m, nil
	case "ctrl+c":
		return m, tea.Quit
	case "tab", "down":
		return m, m.form.move(1)
	case "shift+tab", "up":
		return m, m.form.move(-1)
	case "enter":
		return m.takeWishes(), nil
	}
	return m, m.form.typed(key)
}

// takeWishes reads the form; with nothing in it there is no target.
func (m Model) takeWishes() Model {
	var w choose.Criteria
	w.FrontShare.Tolerance = 0.005
	var texts []string
	any := false
	for i, f := range wishFields() {
		text := strings.TrimSpace(m.form.fields[i].Value())
		if strings.Trim(text, "0123456789.+- ") == "" && text != "" {
			text += f.unit(m.units) // so that it stays what it is when units change
		}
		texts = append(texts, text)
		if text == "" {
			continue
		}
		any = true
		if err := f.read(&w, text, m.units); err != nil {
			m.form.jump(i)
			m.form.fault = strings.TrimSpace(f.name) + ": " + err.Error()
			return m
		}
	}
	m.mode, m.form, m.wished = walking, nil, texts
	if !any {
		m.wishes, m.hits, m.wished = nil, nil, nil
		m.message = "no target"
		return m
	}
	m.wishes = &w
	m = m.pick()
	switch {
	case len(m.hits) > 0:
		m = m.show(m.hits[0].Way)
		m.message = "1 setting meets the target: this one"
		if n := len(m.hits); n > 1 {
			m.message = fmt.Sprintf("%d settings meet the target; this is the best: ] goes to the next", n)
		}
	default:
		_, near := choose.Pick(m.table, w)
		m.message = "none meets the target"
		if len(near) > 0 {
			m.current = near[0].Row
			m.message = "none meets the target; the nearest is stopped by " + words.StoppedBy(m.table, near[0], m.units)[0]
		}
	}
	return m
}

// pick finds the hits in the table as it now is. The kept setting is taken for
// the one that is on the car.
func (m Model) pick() Model {
	m.hits = nil
	if m.wishes != nil && m.table != nil {
		w := *m.wishes
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
	c := *m.wishes
	c.From = m.keptID
	return words.Hit(m.table, c, m.hits, i, m.units)
}

func needsHits(m Model) string {
	switch {
	case m.wishes == nil:
		return "no target is set: i sets one"
	case len(m.hits) == 0:
		return "no setting meets the target"
	}
	return needsRows(m)
}

// wishView draws the form over the whole screen.
func (m Model) wishView() string {
	return m.form.view([]string{titleStyle.Render("target for a setting"), "", "Leave open what does not matter; all open shows every setting again.", ""},
		"tab and arrows move  enter takes it  esc goes back", m.width, m.height)
}

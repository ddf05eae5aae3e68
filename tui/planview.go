package tui

import (
	"fmt"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model/plan"
	"stanchion/model/words"
	"stanchion/tui/widgets"
)

func (planMode) bindings(m Model) []binding {
	with := func(run func(planMode, Model) (Model, tea.Cmd)) func(Model, string) (Model, tea.Cmd) {
		return func(m Model, _ string) (Model, tea.Cmd) {
			d, _ := in[planMode](m)
			return run(d, m)
		}
	}
	mark := func(state plan.State) func(Model, string) (Model, tea.Cmd) {
		return with(func(d planMode, m Model) (Model, tea.Cmd) {
			if d.plan == nil || d.plan.Next() == nil {
				m.message = "no session is left to mark"
				return m, nil
			}
			n := d.plan.Next().Number
			return d.ask(m, false, func(k *plan.Kept) error { return k.Mark(n, state, "") })
		})
	}
	scroll := func(by int) func(Model, string) (Model, tea.Cmd) {
		return with(func(d planMode, m Model) (Model, tea.Cmd) {
			room := max(m.height-2, 1)
			d.scroll = min(max(d.scroll+by*max(room-2, 1), 0), max(0, len(d.wrapped(m))-room))
			return m.with(d), nil
		})
	}
	return []binding{
		{keys: []string{"r"}, label: "r run", does: "the next session was run as planned", run: mark(plan.Run)},
		{keys: []string{"l"}, label: "l lost", does: "the next session was lost to rain or repairs; the rest is planned anew", run: mark(plan.LostSession)},
		{keys: []string{"x", "delete"}, label: "x undo", does: "take back what was said of the last session", run: with(func(d planMode, m Model) (Model, tea.Cmd) {
			if d.plan == nil || len(d.plan.Past) == 0 {
				m.message = "no session is marked"
				return m, nil
			}
			return d.ask(m, false, func(k *plan.Kept) error {
				k.Unmark()
				return nil
			})
		})},
		{keys: []string{"N"}, does: "plan a new day in the place of one that is over", run: with(planMode.newDay)},
		{keys: []string{"enter"}, does: "go to the setting of the next session", run: with(planMode.goTo)},
		{keys: []string{"pgdown", " "}, does: "a page down", run: scroll(1)},
		{keys: []string{"pgup"}, does: "a page up", run: scroll(-1)},
		{keys: []string{"u"}, does: "switch units", run: func(m Model, _ string) (Model, tea.Cmd) { return m.switchUnits() }},
		{keys: []string{"Y"}, does: "copy the page as text", run: with(func(d planMode, m Model) (Model, tea.Cmd) {
			return pageMode{lines: d.lines}.copyPage(m, "Y")
		})},
		{keys: []string{"esc", "q", "backspace"}, label: "esc back", does: "go back", run: closeMode},
		quitting(),
	}
}

func (d planMode) other(m Model, _ tea.KeyMsg) (Model, tea.Cmd) {
	m.message = "r: the next session was run, l: it was lost; esc goes back"
	return m, nil
}

// newDay plans a new day, unless sessions of this one are still to come.
func (d planMode) newDay(m Model) (Model, tea.Cmd) {
	if d.plan != nil && d.plan.Next() != nil && d.plan.Date.Format(time.DateOnly) == time.Now().Format(time.DateOnly) {
		m.message = "sessions of today are still to come: stanchion plan --new --keep plans anew all the same"
		return m, nil
	}
	return d.ask(m, true, func(*plan.Kept) error { return nil })
}

// goTo walks to the setting of the next session.
func (d planMode) goTo(m Model) (Model, tea.Cmd) {
	if d.plan == nil || d.plan.Next() == nil || d.plan.Next().Setting < 0 {
		m.message = "no session is left"
		return m, nil
	}
	id := d.plan.Candidates[d.plan.Next().Setting].Row.ID
	i, ok := m.table.Index(id)
	if !ok {
		m.message = "the car file no longer gives it"
		return m, nil
	}
	return m.closed().goTo(i), nil
}

// lines are the page: what comes next first.
func (d planMode) lines(m Model) []string {
	p := d.plan
	if p == nil {
		if d.fault != "" {
			return []string{titleStyle.Render("a day at the track"), "", faultStyle.Render("There is no plan: " + d.fault)}
		}
		return []string{titleStyle.Render("a day at the track"), "", "The plan is being worked out…"}
	}
	lines := []string{titleStyle.Render(p.Date.Format(time.DateOnly) + ": a day to find out " + words.PlanAim(p)), words.PlanHead(p)}
	if d.fault != "" {
		lines = append(lines, faultStyle.Render(d.fault))
	}
	if r := m.checksNow(); r != nil {
		for _, stop := range words.ChecksStop(*r) {
			lines = append(lines, faultStyle.Render(stop))
		}
	}
	if next := p.Next(); next != nil {
		lines = append(lines, m.mark(words.PlanSession(p, next)))
	} else {
		lines = append(lines, "All sessions are over. N plans a new day.")
	}
	lines = append(lines, words.PlanOutcomes(p)...)
	lines = append(lines, "", "Order: "+words.PlanOrder(p))
	lines = append(lines, words.PlanSettings(p, m.units)...)
	lines = append(lines, "")
	for i := range p.Runs {
		s := &p.Runs[i]
		did := words.PlanChange(p, s)
		if s.State == plan.Run && s.Other == "" {
			did = "run"
		}
		laps := fmt.Sprint(s.Laps)
		if s.Settle > 0 {
			laps = fmt.Sprintf("%d+%d", s.Settle, s.Laps)
		}
		lines = append(lines, fmt.Sprintf("%2d %s %s %s laps: %s", s.Number, words.PlanClock(s.Start), words.PlanLetter(s.Setting), laps, did))
	}
	lines = append(lines, "")
	if !p.Find.ByReadings() {
		lines = append(lines, words.PlanTells(p)...)
	}
	lines = append(lines, words.PlanReadings(p, m.units)...)
	lines = append(lines, words.PlanCannot(p)...)
	lines = append(append(lines, ""), words.PlanCautions(p)...)
	if m.src.KeepPlan == nil {
		lines = append(lines, "Kept until you leave this page: a demo car has no file.")
	}
	return lines
}

func (d planMode) wrapped(m Model) (all []string) {
	for _, l := range d.lines(m) {
		all = append(all, widgets.Wrap(l, max(m.width-1, 1))...)
	}
	return all
}

// view draws the page over the whole screen.
func (d planMode) view(m Model) (string, bool) {
	lines := d.wrapped(m)
	keys := m.footerOf(d)
	if len(lines) > max(m.height-2, 1) {
		keys = "space more  " + keys
	}
	foot := append(widgets.Wrap(m.message, m.width), quietStyle.Render(keys))
	room := max(m.height-len(foot), 0)
	from := min(d.scroll, max(0, len(lines)-room))
	shown := append([]string(nil), lines[from:min(len(lines), from+room)]...)
	for len(shown) < room {
		shown = append(shown, "")
	}
	return widgets.Fit(append(shown, foot...), m.width, m.height, m.glyphs), true
}

func (d planMode) tell(w *walker) {
	for _, l := range d.lines(w.m) {
		if l != "" {
			w.say("%s", plainText(l))
		}
	}
	w.say("r: the next session was run; l: it was lost; x takes back; enter goes to its setting; esc goes back.")
}

func (planMode) typed(*walker, string) {}

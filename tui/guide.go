package tui

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model/carfile/guide"
	"stanchion/tui/widgets"
)

// guideMode is a guided start on its way: which question it is at, and what was answered.
type guideMode struct {
	step    int // beyond the last question it asks for the file's name
	answers guide.Answers
	input   textinput.Model
	fault   string
	outcome string // what the file will be, told where its name is asked for
	warned  bool   // that beginning anew throws answers away
}

func newGuide() guideMode {
	return guideMode{answers: guide.Answers{}, input: widgets.NewField("", 2000)}
}

// guideFile is the name of the file that is made when none is typed.
func (m Model) guideFile() string {
	if m.src.GuideFile != "" {
		return m.src.GuideFile
	}
	return "mycar.toml"
}

func needsGuide(m Model) string {
	if m.src.Guide == nil {
		return "no file can be made from here: stanchion start FILE"
	}
	return ""
}

// startGuide begins with the first question, or goes on where it was left.
func (m Model) startGuide() (Model, tea.Cmd) {
	m, cmd := newGuide().to(m, 0)
	return m, tea.Batch(cmd, m.readGuideDraft())
}

// questions are those that the answers lead to.
func (g guideMode) questions(m Model) []guide.Question { return guide.Questions(g.answers, m.units) }

// to goes to a question, with what was typed there before.
func (g guideMode) to(m Model, step int) (Model, tea.Cmd) {
	qs := g.questions(m)
	g.step, g.fault, g.outcome, g.warned = min(step, len(qs)), "", "", false
	g.input.Reset()
	g.input.Width = max(10, m.width-6)
	g.input.Placeholder = ""
	if g.step < len(qs) {
		g.input.SetValue(g.answers[qs[g.step].Key])
		g.input.CursorEnd()
	} else {
		g.input.Placeholder = m.guideFile()
		g.outcome = g.settings(m)
	}
	cmd := g.input.Focus()
	return m.with(g), cmd
}

func (guideMode) title() string { return "in the guided start" }

func (guideMode) typing() bool { return true }

func (guideMode) bindings(Model) []binding {
	guide := func(run func(guideMode, Model) (Model, tea.Cmd)) func(Model, string) (Model, tea.Cmd) {
		return func(m Model, _ string) (Model, tea.Cmd) {
			g, _ := in[guideMode](m)
			return run(g, m)
		}
	}
	return []binding{
		{keys: []string{"enter", "down", "tab"}, label: "enter next", does: "take the answer and go to the next question", run: guide(guideMode.answer)},
		{keys: []string{"up", "shift+tab"}, label: "↑ back", does: "the question before", run: guide(guideMode.back)},
		{keys: []string{"ctrl+n"}, label: "ctrl+n begins anew", does: "begin anew", run: guide(guideMode.anew)},
		{keys: []string{"esc", "ctrl+c"}, label: "esc leaves, the answers are kept", does: "leave; the answers are kept for next time", run: guide(guideMode.leave)},
	}
}

func (g guideMode) other(m Model, key tea.KeyMsg) (Model, tea.Cmd) {
	g.fault, g.warned = "", false
	var cmd, keep tea.Cmd
	g.input, cmd = widgets.TypeInto(g.input, key)
	m, keep = g.keep(m.with(g))
	return m, tea.Batch(cmd, keep)
}

func (g guideMode) back(m Model) (Model, tea.Cmd) {
	if g.warned {
		g.warned, g.fault = false, ""
		m = m.with(g)
	}
	if g.step > 0 {
		return g.to(m, g.step-1)
	}
	return m, nil
}

// anew begins anew; where that throws answers away it is asked for twice.
func (g guideMode) anew(m Model) (Model, tea.Cmd) {
	if n := g.answered(); n > 0 && !g.warned {
		g.warned, g.fault = true, anewWarning("ctrl+n", n)
		return m.with(g), nil
	}
	m, cmd := newGuide().to(m, 0)
	g, _ = in[guideMode](m)
	m, keep := g.keep(m)
	return m, tea.Batch(cmd, keep)
}

// answered counts the answers that would be lost.
func (g guideMode) answered() (n int) {
	for key, text := range g.answers {
		if text != "" && !guide.Hidden(key) {
			n++
		}
	}
	return n
}

// anewWarning says what beginning anew throws away, when it is asked for again by a key or word.
func anewWarning(by string, n int) string {
	if n == 1 {
		return by + " again throws 1 answer away"
	}
	return fmt.Sprintf("%s again throws %d answers away", by, n)
}

// keep keeps the answers in their draft, and what is typed now.
func (g guideMode) keep(m Model) (Model, tea.Cmd) {
	lines := map[string]string{}
	for key, text := range g.answers {
		lines[key] = text
	}
	if text := g.input.Value(); text != "" {
		lines[draftText] = text
	}
	if qs := g.questions(m); len(lines) > 0 && g.step < len(qs) {
		lines[draftAt] = qs[g.step].Key
	}
	return m.keepDraft(m.src.GuideDraft, lines)
}

// leave leaves without a file; the answers are kept for the next time.
func (g guideMode) leave(m Model) (Model, tea.Cmd) {
	m, keep := g.keep(m)
	m.message = "no file was made"
	if m.src.GuideDraft != nil && (len(g.answers) > 0 || g.input.Value() != "") {
		m.message += "; the answers are kept for next time"
	}
	m = m.closed()
	if m.car != nil {
		return m, keep
	}
	m.farewell = m.message
	return m, func() tea.Msg {
		if keep != nil {
			if fault := keep(); fault != nil {
				return fault
			}
		}
		return tea.QuitMsg{}
	}
}

// answer takes what was typed, and goes on when it can be used.
func (g guideMode) answer(m Model) (Model, tea.Cmd) {
	g.warned, g.fault = false, ""
	m = m.with(g)
	text, qs := strings.TrimSpace(g.input.Value()), g.questions(m)
	if g.step < len(qs) {
		q := qs[g.step]
		if q.File() && text != "" && text != guide.Open {
			return g.readDrawing(m, q, text)
		}
		return g.accept(m, q, text)
	}
	file, err := guide.File(g.answers, m.units)
	if err != nil {
		at, why := guide.Faulty(g.answers, m.units)
		if why == nil {
			g.fault = err.Error()
			return m.with(g), nil
		}
		m, cmd := g.to(m, at)
		g, _ = in[guideMode](m)
		g.fault = why.Error()
		return m.with(g), cmd
	}
	if text == "" {
		text = m.guideFile()
	}
	write, unplated := m.src.Guide, guide.Unplated(g.answers)
	design := func(file string) []string {
		return guide.DesignLines(g.answers, file, min(max(m.width-4, 40), 76), m.units)
	}
	return m, func() tea.Msg {
		next, err := write(text, file)
		if next.Name != "" {
			text = next.Name // with its ending
		}
		if err != nil || unplated {
			return guidedMsg{name: text, unplated: unplated, design: design(text), err: err}
		}
		car, err := next.Load()
		return guidedMsg{src: next, car: car, name: text, err: err}
	}
}

// accept takes an answer when it can be used, and goes on.
func (g guideMode) accept(m Model, q guide.Question, text string) (Model, tea.Cmd) {
	if err := q.Check(text, g.answers, m.units); err != nil {
		g.fault = err.Error()
		return m.with(g), nil
	}
	g.answers = g.answers.With(q.Key, q.Echo(text, m.units))
	m, cmd := g.to(m, g.step+1)
	g, _ = in[guideMode](m)
	m, keep := g.keep(m)
	return m, tea.Batch(cmd, keep)
}

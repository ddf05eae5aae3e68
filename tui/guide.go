package tui

import (
	"strings"

	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model"
	"stanchion/model/carfile/guide"
	"stanchion/model/units"
	"stanchion/tui/widgets"
)

// guideMode is a guided start on its way: which question it is at, and what was answered.
type guideMode struct {
	step    int // beyond the last question it asks for the file's name
	answers guide.Answers
	input   textinput.Model
	fault   string
}

func newGuide() guideMode {
	return guideMode{answers: guide.Answers{}, input: widgets.NewField("", 120)}
}

// guideFile is the name of the file that is made when none is typed.
const guideFile = "mycar.toml"

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

// to goes to a question, with what was typed there before.
func (g guideMode) to(m Model, step int) (Model, tea.Cmd) {
	g.step, g.fault = step, ""
	g.input.Reset()
	g.input.Width = max(10, m.width-6)
	g.input.Placeholder = guideFile
	if qs := guide.Questions(); step < len(qs) {
		g.input.Placeholder = qs[step].Usual(m.units)
		g.input.SetValue(g.answers[qs[step].Key])
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
	g.fault = ""
	var cmd, keep tea.Cmd
	g.input, cmd = widgets.TypeInto(g.input, key)
	m, keep = g.keep(m.with(g))
	return m, tea.Batch(cmd, keep)
}

func (g guideMode) back(m Model) (Model, tea.Cmd) {
	if g.step > 0 {
		return g.to(m, g.step-1)
	}
	return m, nil
}

func (guideMode) anew(m Model) (Model, tea.Cmd) {
	m, cmd := newGuide().to(m, 0)
	g, _ := in[guideMode](m)
	m, keep := g.keep(m)
	return m, tea.Batch(cmd, keep)
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
	if qs := guide.Questions(); len(lines) > 0 && g.step < len(qs) {
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
	text, qs := strings.TrimSpace(g.input.Value()), guide.Questions()
	if g.step < len(qs) {
		q := qs[g.step]
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
	file, err := guide.File(g.answers, m.units)
	if err != nil {
		g.fault = err.Error()
		return m.with(g), nil
	}
	if text == "" {
		text = guideFile
	}
	write := m.src.Guide
	return m, func() tea.Msg {
		next, err := write(text, file)
		if err != nil {
			return guidedMsg{err: err}
		}
		car, err := next.Load()
		return guidedMsg{next, car, text, err}
	}
}

// guidedMsg says that the file is made, or why not.
type guidedMsg struct {
	src  Source
	car  *model.Car
	name string
	err  error
}

// take opens the car that was made.
func (msg guidedMsg) take(m Model) (Model, tea.Cmd) {
	if msg.err != nil {
		if g, ok := in[guideMode](m); ok {
			g.fault = msg.err.Error()
			m = m.with(g)
		}
		return m, nil
	}
	m, drop := m.keepDraft(m.src.GuideDraft, nil)
	fresh := New(msg.src, msg.car, msg.car.Speed, m.units)
	fresh.width, fresh.height, fresh.words, fresh.kept, fresh.glyphs = m.width, m.height, m.words, m.kept, m.glyphs
	fresh.asked = m.asked + 1 // no answer about the car before is taken for one about this
	fresh.message = "made " + units.Printable(msg.name) + ": edit it to add what you know; it is read again when saved"
	return fresh, tea.Batch(drop, fresh.Init())
}

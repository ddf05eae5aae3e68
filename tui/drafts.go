package tui

import (
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model/carfile/guide"
	"stanchion/model/files"
	"stanchion/model/units"
	"stanchion/tui/widgets"
)

// Keys of a draft beside the names of its lines.
const (
	draftSetting  = "setting"      // that the note is about
	draftReplaces = "replaces"     // the note that it corrects
	draftAt       = "the question" // that the guided start was at
	draftText     = "the answer"   // typed there so far
)

// keptMsg says that a draft could not be kept.
type keptMsg struct{ err error }

func (msg keptMsg) take(m Model) (Model, tea.Cmd) {
	fault := "what is typed cannot be kept for another time: " + msg.err.Error()
	if m.open != nil {
		if told, ok := m.open.(faulty); ok {
			return m.with(told.withFault(fault)), nil
		}
	}
	if m.car == nil { // on the way out
		m.farewell = "no file was made; " + fault
		return m, tea.Quit
	}
	return m, nil
}

// faulty is a mode that can show what went wrong.
type faulty interface{ withFault(fault string) mode }

func (n noteMode) withFault(fault string) mode {
	n.form.Fault = fault
	return n
}

func (t targetMode) withFault(fault string) mode {
	t.form.Fault = fault
	return t
}

func (g guideMode) withFault(fault string) mode {
	g.fault = fault
	return g
}

// keepDraft writes a draft in the background; with no lines it is dropped.
func (m Model) keepDraft(d *files.Draft, lines map[string]string) (Model, tea.Cmd) {
	if d == nil {
		return m, nil
	}
	m.kept++
	n := m.kept
	return m, func() tea.Msg {
		err := error(nil)
		if len(lines) == 0 {
			err = d.Drop(n)
		} else {
			err = d.Keep(n, lines)
		}
		if err != nil {
			return keptMsg{err}
		}
		return nil
	}
}

// noteDraftMsg is what was typed about a setting and not saved last time.
type noteDraftMsg struct {
	lines map[string]string
	err   error
}

// readDraft looks for what was typed last time; nil for no draft.
func readDraft(d *files.Draft, found func(lines map[string]string, err error) tea.Msg) tea.Cmd {
	if d == nil {
		return nil
	}
	return func() tea.Msg { return found(d.Read()) }
}

// readNoteDraft looks for a note that was not saved.
func (m Model) readNoteDraft() tea.Cmd {
	return readDraft(m.src.NoteDraft, func(lines map[string]string, err error) tea.Msg { return noteDraftMsg{lines, err} })
}

func (msg noteDraftMsg) take(m Model) (Model, tea.Cmd) {
	switch {
	case msg.err != nil:
		m.message = "a note of last time cannot be read: " + units.Printable(msg.err.Error())
	case len(msg.lines) > 0 && len(m.draft.lines) == 0 && (m.open == nil || !m.open.typing()):
		m.draft = unsavedNote{msg.lines, widgets.Typeable(msg.lines[draftSetting]), widgets.Typeable(msg.lines[draftReplaces])}
		delete(m.draft.lines, draftSetting)
		delete(m.draft.lines, draftReplaces)
		m.message = "a note about " + m.draftName() + " was not saved last time: m goes on with it"
	}
	return m, nil
}

// draftName is what the setting of an unsaved note is called, also before the settings have figures.
func (m Model) draftName() string {
	name := m.settingName(m.draft.about)
	if name == m.draft.about && m.car != nil {
		if names, err := m.car.SettingNames(); err == nil && names[name] != "" {
			name = units.Printable(names[name])
		}
	}
	return name
}

// guideDraftMsg is what was answered and not made a file of last time.
type guideDraftMsg struct {
	lines map[string]string
	err   error
}

// readGuideDraft looks for answers that no file was made of.
func (m Model) readGuideDraft() tea.Cmd {
	return readDraft(m.src.GuideDraft, func(lines map[string]string, err error) tea.Msg { return guideDraftMsg{lines, err} })
}

// take goes on with the answers of last time, unless some have been typed already.
func (msg guideDraftMsg) take(m Model) (Model, tea.Cmd) {
	g, ok := in[guideMode](m)
	if !ok || len(g.answers) > 0 || g.input.Value() != "" {
		return m, nil
	}
	if msg.err != nil {
		g.fault = "the answers of last time cannot be read: " + units.Printable(msg.err.Error())
		return m.with(g), nil
	}
	if len(msg.lines) == 0 {
		return m, nil
	}
	g.answers = guide.Answers{}
	for key, text := range msg.lines {
		if key != draftAt && key != draftText {
			g.answers[key] = widgets.Typeable(text)
		}
	}
	at, typed := g.questionOf(m, msg.lines[draftAt]), msg.lines[draftText]
	if at < 0 { // it was asked in another way then
		at, _ = guide.Faulty(g.answers, m.units)
		typed = ""
	}
	m, cmd := g.to(m, at)
	g, _ = in[guideMode](m)
	if typed != "" {
		g.input.SetValue(widgets.Typeable(typed))
	}
	g.fault = "your answers from last time: ↑ goes back through them, ctrl+n starts again; line by line, type back or anew"
	return m.with(g), cmd
}

// questionOf finds the question with a key; -1 for none.
func (g guideMode) questionOf(m Model, key string) int {
	return slices.IndexFunc(g.questions(m), func(q guide.Question) bool { return q.Key == key })
}

package tui

import (
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model/logbook"
)

// savedMsg says that a note is on the disk, or why not.
type savedMsg struct {
	note     logbook.Note
	setAside string
	err      error
	fitted   bool          // it marks what is on the car: no note is open for it
	book     *logbook.Book // with the note in it; nil when it cannot be read now
}

// fault says what is wrong with a line of the form; "" where it can be read, or is open.
func (n noteMode) fault(m Model, line int) string {
	text := strings.TrimSpace(n.form.Fields[line].Value())
	if text == "" {
		return ""
	}
	f, note := noteFields()[line], logbook.Blank()
	err := f.read(&note, text, m.units)
	switch {
	case err == nil:
		return ""
	case f.felt != nil:
		return f.name + ": " + err.Error() + "; words go into the line \"" + elseField + "\""
	}
	return f.name + ": " + err.Error()
}

// empty reports whether nothing is typed into the form. The place stands there without anybody's typing.
func (n noteMode) empty() bool {
	for i, text := range n.form.Values() {
		if text != "" && (noteFields()[i].name != placeField || text != n.place) {
			return false
		}
	}
	return true
}

// save reads the form and sends the note off to the disk. The form stays open until it is
// there.
func (n noteMode) save(m Model) (Model, tea.Cmd) {
	if n.empty() {
		n.form.Fault = "Nothing is typed, so nothing is noted. What is on the car and not run yet is marked with @ on the map."
		return m.with(n), nil
	}
	note := n.about
	for i, text := range n.form.Values() {
		if fault := n.fault(m, i); fault != "" {
			var cmd tea.Cmd
			n.form, cmd = n.form.Jumped(i)
			n.form.Fault = fault
			return m.with(n), cmd
		}
		if text != "" {
			_ = noteFields()[i].read(&note, text, m.units) // it has no fault
		}
	}
	if err := note.Check(); err != nil {
		n.form.Fault = err.Error()
		return m.with(n), nil
	}
	if line, fault := sinkFault(note.Sink); fault != "" {
		at := slices.Index(n.form.Names, line)
		var cmd tea.Cmd
		n.form, cmd = n.form.Jumped(at)
		n.form.Fault = line + ": " + fault
		return m.with(n), cmd
	}
	m.saving = true
	add, notes := m.src.AddNote, m.src.Notes
	return m, func() tea.Msg {
		var msg savedMsg
		if msg.note, msg.setAside, msg.err = add(note); msg.err != nil {
			return msg
		}
		if b, err := notes(); err == nil {
			msg.book = &b
		}
		return msg
	}
}

// take hears the answer of the disk. When it is a fault, what was typed stays.
func (msg savedMsg) take(m Model) (Model, tea.Cmd) {
	m.saving = false
	if msg.fitted {
		if msg.err != nil {
			m.message = "the notebook does not say so: " + strings.ReplaceAll(msg.err.Error(), "\n", "; ")
			return m, nil
		}
		if msg.book != nil {
			m = m.withBook(*msg.book)
		}
		m.message = "marked in the notebook as on the car"
		return m.pick()
	}
	n, open := in[noteMode](m)
	if msg.err != nil {
		fault := "not saved: " + strings.ReplaceAll(msg.err.Error(), "\n", "; ")
		if !open {
			m.message = fault + ": m goes on with the note"
			return m, nil
		}
		n.form.Fault = fault + ". What is typed is still here: enter tries again."
		return m.with(n), nil
	}
	m.draft = unsavedNote{}
	if open {
		m = m.closed()
	}
	m.message = "saved as " + msg.note.ID
	if msg.setAside != "" {
		m.message += "; a note that was cut short is set aside in " + msg.setAside
	}
	if msg.book != nil {
		m = m.withBook(*msg.book)
	}
	return m.keepDraft(m.src.NoteDraft, nil)
}

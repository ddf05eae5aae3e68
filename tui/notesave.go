package tui

import (
	"math"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model/calibrate"
	"stanchion/model/choose"
	"stanchion/model/logbook"
	"stanchion/model/units"
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
	f, note := n.fields[line], logbook.Blank()
	if text == "" || text == takesOut && f.again || !n.changed(line) {
		return ""
	}
	err := f.read(&note, text, m.units)
	switch {
	case err == nil:
		return ""
	case f.felt != nil:
		return f.name + ": " + err.Error() + "; words go into the line \"" + elseField + "\""
	}
	return f.name + ": " + units.Printable(err.Error())
}

// note is the note that the form makes: what it says without typing, and what is typed.
func (n noteMode) note(m Model) logbook.Note {
	note := n.about
	fast, slow := false, false
	for i, text := range n.form.Values() {
		f := &n.fields[i]
		if !n.changed(i) {
			continue
		}
		if n.corrects() || text == takesOut && f.again {
			f.clear(&note)
		}
		if text != "" && !(text == takesOut && f.again) {
			_ = f.read(&note, text, m.units) // it has no fault
		}
		fast, slow = fast || i == 0, slow || i == 1
	}
	if n.corrects() {
		note.Feel.Corrected(fast, false, slow, false)
		if note.Fitted && (note.Feel.Known() || len(note.Laps) > 0 || !math.IsNaN(note.Lap)) { // it was run, then
			note.Fitted = false
		}
		return n.moved(m, note)
	}
	return note
}

// moved is a correction with what is predicted for the setting, where that is another one now.
func (n noteMode) moved(m Model, note logbook.Note) logbook.Note {
	if note.Setting == n.about.Setting {
		return note
	}
	r, ok := m.table.Find(note.Setting)
	if !ok {
		return note
	}
	note.Car, note.Speed, note.Expected = "", m.table.Speed, calibrate.Expected(m.table, r)
	if _, typed := n.lines()[boltsField]; !typed {
		before := slices.IndexFunc(m.book.Notes, func(b logbook.Note) bool { return b.ID == note.Replaces })
		note.BoltsMoved = choose.BoltsMoved(m.table, m.book.Notes[:max(before, 0)], note.Setting)
	}
	return note
}

// save reads the form and sends the note off to the disk. The form stays open until it is
// there.
func (n noteMode) save(m Model) (Model, tea.Cmd) {
	if len(n.lines()) == 0 {
		n.form.Fault = "Nothing is typed, so nothing is noted. What is on the car and not run yet is marked with @ on the map."
		if n.corrects() {
			n.form.Fault = "Nothing is changed, so nothing is noted."
		}
		return m.with(n), nil
	}
	for i := range n.fields {
		if fault := n.fault(m, i); fault != "" {
			var cmd tea.Cmd
			n.form, cmd = n.form.Jumped(i)
			n.form.Fault = fault
			return m.with(n), cmd
		}
	}
	note := n.note(m)
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
		m = m.with(n.back)
	}
	m.message = "saved as " + msg.note.ID
	if msg.note.Replaces != "" {
		m.message += ", in the place of " + units.Printable(msg.note.Replaces)
	}
	if msg.setAside != "" {
		m.message += "; a note that was cut short is set aside in " + msg.setAside
	}
	if msg.book != nil {
		m = m.withBook(*msg.book)
	}
	return m.keepDraft(m.src.NoteDraft, nil)
}

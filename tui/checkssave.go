package tui

import (
	"errors"
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model/inspect"
	"stanchion/model/logbook"
)

// leave goes back; what is ticked and not saved is asked about once.
func (c checksMode) leave(m Model) (Model, tea.Cmd) {
	if c.unsaved() && !c.leaving && !m.saving {
		c.leaving, c.fault = true, "What is ticked is not saved: enter saves it, esc again drops it."
		return m.with(c), nil
	}
	return closeMode(m, "")
}

// save makes a note of what was ticked and sends it off to the disk. The list stays open.
func (c checksMode) save(m Model) (Model, tea.Cmd) {
	r := m.checksNow()
	why := ""
	switch {
	case m.src.AddNote == nil || r == nil:
		why = "There is no notebook to save it in: stanchion new FILE --demo NAME makes a car file."
	case m.book.Newer:
		why = logbook.ErrNewer.Error()
	}
	if why != "" {
		c.fault = why
		return m.with(c), nil
	}
	k := logbook.Inspection{Found: c.found, By: c.by, Struck: c.struck, Setting: r.OnCar}
	for _, s := range r.Items {
		if good, there := c.ticked[s.Key]; there {
			k.Looked = append(k.Looked, s.Key)
			if !good {
				k.Failed = append(k.Failed, s.Key)
			}
		}
	}
	n, err := r.Note(k)
	if words := (inspect.NeedsWords{}); errors.As(err, &words) {
		c.fault = err.Error() + ": t types it"
		return m.with(c), nil
	}
	if err != nil {
		c.fault = err.Error()
		return m.with(c), nil
	}
	m.saving = true
	add, notes := m.src.AddNote, m.src.Notes
	return m, func() tea.Msg {
		var msg checkedMsg
		if msg.note, msg.setAside, msg.err = add(n); msg.err != nil {
			return msg
		}
		if b, err := notes(); err == nil {
			msg.book = &b
		}
		return msg
	}
}

// checkedMsg says that a look is on the disk, or why not.
type checkedMsg struct {
	note     logbook.Note
	setAside string
	err      error
	book     *logbook.Book // with the note in it; nil when it cannot be read now
}

// take hears the answer of the disk. When it is a fault, what was ticked stays.
func (msg checkedMsg) take(m Model) (Model, tea.Cmd) {
	m.saving = false
	c, open := in[checksMode](m)
	if msg.err != nil {
		fault := "not saved: " + strings.ReplaceAll(msg.err.Error(), "\n", "; ")
		if !open {
			m.message = fault
			return m, nil
		}
		c.fault = fault + ". What is ticked is still here: enter tries again."
		return m.with(c), nil
	}
	if msg.book != nil {
		m = m.withBook(*msg.book)
	}
	m.message = "saved as " + msg.note.ID
	if msg.setAside != "" {
		m.message += fmt.Sprintf("; a note that was cut short is set aside in %s", msg.setAside)
	}
	if open {
		return m.with(checksMode{by: c.by}), nil
	}
	return m, nil
}

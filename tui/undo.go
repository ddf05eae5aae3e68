package tui

import (
	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model/calibrate"
	"stanchion/model/drill"
)

// change is something that can be undone.
type change struct {
	what    string // in words, "hole N1"
	unsaved []drill.NewHole
	datum   *calibrate.Datum
	restore func() error // of what was written to the car file; nil for what was not
}

// remember notes how things are before a change.
func (m Model) remember(what string) Model {
	m.changes = append(m.changes[:len(m.changes):len(m.changes)], change{what: what, unsaved: m.unsaved, datum: m.datum})
	return m
}

func needsUndo(m Model) string {
	if len(m.changes) == 0 {
		return "nothing to undo; a note is corrected by another one: stanchion note add --replaces"
	}
	return ""
}

// undoneMsg says whether the car file is again what it was.
type undoneMsg struct {
	what string
	err  error
}

// undo takes the last change back.
func (m Model) undo() (Model, tea.Cmd) {
	last := m.changes[len(m.changes)-1]
	m.changes = m.changes[:len(m.changes)-1]
	if last.restore != nil {
		m.message = "undoing…"
		return m, func() tea.Msg { return undoneMsg{last.what, last.restore()} }
	}
	m.unsaved, m.datum = last.unsaved, last.datum
	m.message = "undone: " + last.what
	return m.ask(m.laidOn(m.base), nil)
}

// take hears the answer of an undo of the car file.
func (msg undoneMsg) take(m Model) (Model, tea.Cmd) {
	if msg.err != nil {
		m.message = "not undone: " + msg.err.Error()
		return m, nil
	}
	m.message = "undone: " + msg.what + "; the car file is what it was"
	return m, nil
}

package tui

import (
	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model/calibrate"
	"stanchion/model/drill"
)

// change is something that can be undone and redone: what was laid on the car before it and after it,
// or a change of the car file.
type change struct {
	what          string // in words, "hole N1"
	file          bool   // it was written to the car file, whose history knows it
	before, after laidOn
}

// laidOn is what is laid on the car for this walk.
type laidOn struct {
	holes []drill.NewHole
	datum *calibrate.Datum
	read  calibrate.Typed
}

// laidNow is what is laid on the car now.
func (m Model) laidNow() laidOn { return laidOn{m.unsaved, m.datum, m.readings} }

// lay lays something else on it.
func (m Model) lay(on laidOn) Model {
	m.unsaved, m.datum, m.readings = on.holes, on.datum, on.read
	return m
}

// remember notes how things are before a change; what was undone before can then not be redone.
func (m Model) remember(what string) Model {
	m.changes = append(m.changes[:len(m.changes):len(m.changes)], change{what: what, before: m.laidNow()})
	m.undone = nil
	return m
}

// can is which change of the car file its history would take back, and make again; "" for none.
type can struct{ undo, redo string }

// canUndo reads that from the history.
func (s Source) canUndo() (c can) {
	if s.CanUndo != nil {
		c.undo, c.redo = s.CanUndo()
	}
	return c
}

func needsUndo(m Model) string {
	if len(m.changes) == 0 && m.can.undo == "" {
		return "nothing to undo; a note is corrected in the notebook: M, and e there"
	}
	return ""
}

func needsRedo(m Model) string {
	if len(m.undone) == 0 && m.can.redo == "" {
		return "nothing to redo"
	}
	return ""
}

// undoneMsg says whether the car file is again what it was, or what it was to be.
type undoneMsg struct {
	what string
	redo bool
	of   *change // that was taken from the list for it; nil for one of another day
	can  can
	err  error
}

// undo takes the last change back: of this walk, or else the last that was written to the car file.
func (m Model) undo() (Model, tea.Cmd) {
	var taken *change
	if n := len(m.changes); n > 0 {
		last := m.changes[n-1]
		m.changes = m.changes[: n-1 : n-1]
		last.after = m.laidNow()
		m.undone = append(m.undone[:len(m.undone):len(m.undone)], last)
		m = m.lay(last.before)
		taken = &last
		if !last.file {
			m.message = "undone: " + last.what + "; ctrl+r redoes it"
			return m.ask(m.laidOn(m.base), nil)
		}
	}
	m.message = "undoing…"
	src := m.src
	return m, func() tea.Msg {
		what, err := src.Undo()
		return undoneMsg{what, false, taken, src.canUndo(), err}
	}
}

// redo makes the change again that was undone last.
func (m Model) redo() (Model, tea.Cmd) {
	var taken *change
	if n := len(m.undone); n > 0 {
		last := m.undone[n-1]
		m.undone = m.undone[: n-1 : n-1]
		m.changes = append(m.changes[:len(m.changes):len(m.changes)], last)
		m = m.lay(last.after)
		taken = &last
		if !last.file {
			m.message = "redone: " + last.what
			return m.ask(m.laidOn(m.base), nil)
		}
	}
	m.message = "redoing…"
	src := m.src
	return m, func() tea.Msg {
		what, err := src.Redo()
		return undoneMsg{what, true, taken, src.canUndo(), err}
	}
}

// take hears the answer of a change of the car file.
func (msg undoneMsg) take(m Model) (Model, tea.Cmd) {
	m.can = msg.can
	if msg.err != nil && msg.of != nil { // it is as it was before the key
		m = m.putBack(*msg.of, msg.redo)
	}
	switch {
	case msg.err != nil && msg.redo:
		m.message = "not redone: " + msg.err.Error()
	case msg.err != nil:
		m.message = "not undone: " + msg.err.Error()
	case msg.redo:
		m.message = "redone: " + msg.what + "; the car file has it again"
	default:
		m.message = "undone: " + msg.what + "; the car file is what it was, ctrl+r redoes it"
	}
	return m, nil
}

// putBack puts a change back where it was taken from, when the file would not follow.
func (m Model) putBack(c change, redo bool) Model {
	if redo {
		m = m.lay(c.before)
		m.changes = m.changes[:max(len(m.changes)-1, 0)]
		m.undone = append(m.undone[:len(m.undone):len(m.undone)], c)
		return m
	}
	m = m.lay(c.after)
	m.undone = m.undone[:max(len(m.undone)-1, 0)]
	m.changes = append(m.changes[:len(m.changes):len(m.changes)], c)
	return m
}

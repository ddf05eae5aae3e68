package tui

import (
	"errors"

	tea "github.com/charmbracelet/bubbletea"
)

var errNoShell = errors.New("not suspended: no shell is there to continue from; q leaves")

// resumedMsg says that the program goes on after ctrl+z, or why it was not stopped.
type resumedMsg struct{ err error }

func (msg resumedMsg) take(m Model) (Model, tea.Cmd) {
	if msg.err != nil {
		m.message = msg.err.Error()
	}
	return m, nil
}

//go:build !unix

package tui

import tea "github.com/charmbracelet/bubbletea"

// suspend says that this system stops no programs.
func (m Model) suspend() (Model, tea.Cmd) {
	m.message = errNoShell.Error()
	return m, nil
}

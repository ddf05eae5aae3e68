package tui

import (
	"strconv"

	tea "github.com/charmbracelet/bubbletea"
)

// needsFile says why there is no file to edit.
func needsFile(m Model) string {
	if m.src.Editor == nil {
		return "a demo car has no file: N makes one of your own"
	}
	return ""
}

// editedMsg says that the person's editor is closed.
type editedMsg struct{ err error }

// take looks at the file at once, as the person expects.
func (msg editedMsg) take(m Model) (Model, tea.Cmd) {
	if msg.err != nil {
		m.message = "the editor ended with a fault: " + msg.err.Error()
	}
	if m.src.Files == nil {
		return m, nil
	}
	return m, m.lookOnce()
}

// edit opens the car file in the person's editor, at the line of its first fault.
func (m Model) edit() (Model, tea.Cmd) {
	if m.words {
		m.message = "in words there is no way to an editor: edit " + m.src.Name + " beside this; it is read again at the next line"
		return m, nil
	}
	line := 1
	if len(m.faults) > 0 {
		if at := faultAt.FindStringSubmatch(m.faults[0]); at != nil {
			line, _ = strconv.Atoi(at[2])
		}
	}
	cmd, err := m.src.Editor(line)
	if err != nil {
		m.message = err.Error()
		return m, nil
	}
	return m, tea.ExecProcess(cmd, func(err error) tea.Msg { return editedMsg{err} })
}

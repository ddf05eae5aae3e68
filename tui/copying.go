package tui

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model/words"
)

// copiedMsg says whether a text went to the clipboard.
type copiedMsg struct {
	what string
	err  error
}

func (msg copiedMsg) take(m Model) (Model, tea.Cmd) {
	m.message = msg.what + " copied, if the terminal lets programs copy"
	if msg.err != nil {
		m.message = "not copied: " + msg.err.Error()
	}
	return m, nil
}

// copy gives a text to the terminal's clipboard.
func (m Model) copy(what, text string) (Model, tea.Cmd) {
	if m.src.Copy == nil || m.words {
		m.message = "there is no terminal to copy with"
		return m, nil
	}
	put := m.src.Copy
	return m, func() tea.Msg { return copiedMsg{what, put(text)} }
}

// copySetting copies the setting that is shown: its name, bolts and figures.
func (m Model) copySetting() (Model, tea.Cmd) {
	r := m.row()
	lines := append([]string{m.car.Name + ": " + m.table.Name(r.Setting)}, words.BoltLines(m.car, r.Setting)...)
	lines = append(lines, "at "+m.units.Speed(m.table.Speed)+":")
	for _, f := range words.Figures(m.table, r, m.units) {
		lines = append(lines, f.Name+" "+f.Text)
	}
	lines = append(lines, words.Outside(r, m.units)...)
	return m.copy("the setting is", strings.Join(append(lines, r.ID), "\n")+"\n")
}

// copyPage copies the page that is open.
func (p pageMode) copyPage(m Model, _ string) (Model, tea.Cmd) {
	var lines []string
	for _, l := range p.lines(m) {
		lines = append(lines, plainLine(l))
	}
	return m.copy("the page is", strings.Join(lines, "\n")+"\n")
}

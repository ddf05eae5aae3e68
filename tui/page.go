package tui

import tea "github.com/charmbracelet/bubbletea"

// pageLines is the page as it is shown: every line wrapped to the window.
func (m Model) pageLines() []string {
	var lines []string
	for _, l := range m.page(m) {
		lines = append(lines, wrap(l, m.width-1)...)
	}
	return lines
}

// pageView draws a page of text over the whole screen.
func (m Model) pageView() string {
	lines, room := m.pageLines(), m.height-1
	from := min(m.scroll, max(0, len(lines)-room))
	shown := append([]string(nil), lines[from:min(len(lines), from+room)]...)
	foot := "any key goes back"
	if m.accept != nil {
		foot = "enter takes it · any other key goes back"
	}
	if len(lines) > room {
		foot = "↑↓ and page up, page down scroll · any other key goes back"
		if m.accept != nil {
			foot = "↑↓ and page up, page down scroll · enter takes it · any other key goes back"
		}
	}
	for len(shown) < room {
		shown = append(shown, "")
	}
	return fit(append(shown, quietStyle.Render(foot)), m.width, m.height)
}

// pageKey scrolls the page or goes back.
func (m Model) pageKey(key string) (tea.Model, tea.Cmd) {
	room := m.height - 1
	by := map[string]int{"down": 1, "j": 1, "up": -1, "k": -1, "pgdown": room - 2, " ": room - 2, "pgup": 2 - room, "home": -1 << 20, "end": 1 << 20}
	if key == "ctrl+c" {
		return m, tea.Quit
	}
	if key == "enter" && m.accept != nil {
		return m.acceptReading()
	}
	step, scrolls := by[key]
	if !scrolls {
		return m.leave()
	}
	m.scroll = min(max(m.scroll+step, 0), max(0, len(m.pageLines())-room))
	return m, nil
}

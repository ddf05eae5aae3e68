package tui

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"
)

// sheet is a page about the setting that is shown.
type sheet struct {
	key, name string
	lines     func(Model) []string
}

// sheets lists the pages about a setting, in the order in which they are shown.
func sheets() []sheet {
	return []sheet{
		{"enter", "all", Model.allText},
		{"y", "why", Model.whyText},
		{"s", "strength", Model.strengthText},
		{"c", "clearance", Model.clearanceText},
		{"w", "compare", Model.compareText},
		{"o", "speeds", nil}, // worked out first
		{"M", "notes", Model.notesText},
	}
}

// openPage opens one of the sheets by its key.
func openPage(key string) func(Model) (Model, tea.Cmd) {
	return func(m Model) (Model, tea.Cmd) {
		for _, s := range sheets() {
			if s.key == key {
				m, cmd := m.read(s.lines)
				m.shown = key
				if key == "c" {
					m = m.lidAtNearest()
				}
				return m, cmd
			}
		}
		return m, nil
	}
}

// sheetLine lists the sheets, the open one in brackets, those that have nothing to
// say left out.
func (m Model) sheetLine() string {
	var parts []string
	for _, s := range sheets() {
		text := s.key + " " + s.name
		switch {
		case s.key == m.shown:
			parts = append(parts, selectedStyle.Render("["+text+"]"))
		case m.whyNot(s.key) == "":
			parts = append(parts, quietStyle.Render(" "+text+" "))
		}
	}
	return strings.Join(parts, " ")
}

// whyNot says why a key does nothing now; "" when it does.
func (m Model) whyNot(key string) string {
	for _, a := range keyTable() {
		if a.keys[0] == key && a.whyNot != nil {
			return a.whyNot(m)
		}
	}
	return ""
}

// pageLines is the page as it is shown: every line wrapped to the window.
func (m Model) pageLines() []string {
	var lines []string
	for _, l := range m.page(m) {
		lines = append(lines, wrap(l, m.width-1)...)
	}
	return lines
}

// pageRoom is how many lines of a page fit on the screen.
func (m Model) pageRoom() int {
	if m.shown != "" {
		return m.height - 3
	}
	return m.height - 1
}

// pageView draws a page of text over the whole screen.
func (m Model) pageView() string {
	lines, room := m.pageLines(), m.pageRoom()
	from := min(m.scroll, max(0, len(lines)-room))
	var shown []string
	if m.shown != "" {
		shown = append(shown, m.sheetLine(), "")
	}
	shown = append(shown, lines[from:min(len(lines), from+room)]...)
	for len(shown) < m.height-1 {
		shown = append(shown, "")
	}
	return fit(append(shown, quietStyle.Render(m.pageFoot(len(lines) > room))), m.width, m.height)
}

// pageFoot says what keys do on a page.
func (m Model) pageFoot(more bool) string {
	var parts []string
	if m.message != "" {
		return m.message
	}
	if more {
		parts = append(parts, "↑↓ and page up, page down scroll")
	}
	if m.accept != nil {
		parts = append(parts, "enter takes it")
	}
	if m.shown != "" {
		parts = append(parts, "←→ next angle", "esc goes back")
	} else {
		parts = append(parts, "any other key goes back")
	}
	return strings.Join(parts, " · ")
}

// pageKey scrolls the page, goes to another or to another setting, or goes back.
func (m Model) pageKey(key string) (tea.Model, tea.Cmd) {
	room := m.pageRoom()
	by := map[string]int{"down": 1, "j": 1, "up": -1, "k": -1, "pgdown": room - 2, " ": room - 2, "pgup": 2 - room, "home": -1 << 20, "end": 1 << 20}
	m.message = ""
	switch {
	case key == "ctrl+c":
		return m, tea.Quit
	case key == "enter" && m.accept != nil:
		return m.acceptReading()
	}
	if step, scrolls := by[key]; scrolls {
		m.scroll = min(max(m.scroll+step, 0), max(0, len(m.pageLines())-room))
		return m, nil
	}
	if m.shown == "" {
		return m.leave()
	}
	if key == m.shown {
		return m.leave()
	}
	for _, s := range sheets() {
		if s.key == key {
			return m.press(key)
		}
	}
	switch key {
	case "left", "right", "h", "l", "n", "p", "u", "x":
		before := m.shown
		m, cmd := m.press(key)
		if m.mode == walking && before != "" { // stay on the page
			m.mode = reading
		}
		if before == "o" && key != "u" {
			return m.overSpeed()
		}
		return m, cmd
	case "q", "esc", "backspace":
		return m.leave()
	}
	m.message = "esc goes back; ? there lists all keys"
	return m, nil
}

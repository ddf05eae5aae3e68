package tui

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model/figures"
	"stanchion/model/words"
)

// whyKeys are the figures that can be asked about, in the order of the pane.
func (m Model) whyKeys() []figures.Key {
	var all []figures.Key
	for _, l := range m.paneLines() {
		if len(all) == 0 || all[len(all)-1] != l.Key {
			all = append(all, l.Key)
		}
		if l.beside != nil {
			all = append(all, l.beside.Key)
		}
	}
	return all
}

// openWhy opens the page on the figure that the maps are painted by; of strength and of the gap that is
// their own page.
func (m Model) openWhy() (Model, tea.Cmd) {
	switch paintings()[m.paint].key {
	case "5":
		return m.press("s")
	case "6":
		return m.press("c")
	}
	m.asking = 0
	for i, k := range m.whyKeys() {
		if k == paintings()[m.paint].figure {
			m.asking = i
		}
	}
	return openPage("y")(m)
}

// nextWhy goes to the next figure of the page.
func nextWhy(by int) func(Model, string) (Model, tea.Cmd) {
	return func(m Model, _ string) (Model, tea.Cmd) {
		n := len(m.whyKeys())
		m.asking = (m.asking + by + n) % n
		if p, ok := in[pageMode](m); ok {
			p.scroll = 0
			m = m.with(p)
		}
		return m, nil
	}
}

// whyText is the page on how a figure is worked out, or in words on how all are.
func (m Model) whyText() []string {
	from, _ := m.reference()
	keys := m.whyKeys()
	name := m.table.Name(m.row().Setting)
	if m.words {
		var lines []string
		for _, k := range keys {
			lines = append(lines, append(words.WhyLines(m.table, m.row(), from, figures.Get(k), m.units), "")...)
		}
		return lines
	}
	f := figures.Get(keys[min(m.asking, len(keys)-1)])
	lines := []string{titleStyle.Render(fmt.Sprintf("why: %s of %s at %s", f.Name, name, m.units.Speed(m.table.Speed))), ""}
	lines = append(lines, words.WhyLines(m.table, m.row(), from, f, m.units)...)
	var others []string
	for i, k := range keys {
		text := figures.Get(k).Name
		if i == m.asking {
			text = "[" + text + "]"
		}
		others = append(others, text)
	}
	return append(lines, "", quietStyle.Render("tab goes on: "+strings.Join(others, " · ")),
		"Equations are in SI units, mm and degrees.")
}

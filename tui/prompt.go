package tui

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model/units"
)

func (m Model) typeSpeed() (Model, tea.Cmd) { return m.prompt(speeding, "160km/h, 100mph, 45m/s") }
func (m Model) typeFind() (Model, tea.Cmd)  { return m.prompt(finding, "an id, or holes such as A A3") }

// prompt opens the line at the bottom for typing.
func (m Model) prompt(to mode, hint string) (Model, tea.Cmd) {
	m.mode = to
	m.input.Reset()
	m.input.Placeholder = hint
	m.input.Width = max(10, m.width-14)
	return m, m.input.Focus()
}

// typing handles a key while the prompt is open.
func (m Model) typing(key tea.KeyMsg) (Model, tea.Cmd) {
	switch key.String() {
	case "esc", "ctrl+c":
		return m.leave()
	case "enter":
		text, was := m.input.Value(), m.mode
		m.mode = walking
		switch was {
		case speeding:
			return m.typedSpeed(text)
		case measuring:
			return m.typedReading(text), nil
		}
		return m.typedFind(text), nil
	}
	var cmd tea.Cmd
	m.input, cmd = m.input.Update(key)
	return m, cmd
}

func (m Model) typedSpeed(text string) (Model, tea.Cmd) {
	bare := "km/h"
	if m.units == units.Imperial {
		bare = "mph"
	}
	v, err := units.Speeds.Parse(text, bare)
	if err != nil {
		m.message = err.Error()
		return m, nil
	}
	return m.setSpeed(v)
}

// typedFind goes to the next setting, after the current one, that has all the
// holes typed.
func (m Model) typedFind(text string) Model {
	found := m.table.Matches(splitWords(text))
	if len(found) == 0 {
		m.message = fmt.Sprintf("no setting with %q", text)
		return m
	}
	to, nth := found[0], 1
	for k, i := range found {
		if i > m.current {
			to, nth = i, k+1
			break
		}
	}
	m.current = to
	if len(found) > 1 {
		m.message = fmt.Sprintf("%d of %d with %s: find again for the next", nth, len(found), text)
	}
	return m
}

func splitWords(text string) (words []string) {
	word := ""
	for _, r := range text + " " {
		if r == ' ' || r == ',' {
			if word != "" {
				words = append(words, word)
			}
			word = ""
			continue
		}
		word += string(r)
	}
	return words
}

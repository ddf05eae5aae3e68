package tui

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model/units"
)

func (m Model) typeSpeed() (Model, tea.Cmd) {
	return m.prompt(speeding, "a number in "+m.units.SpeedUnit()+", or with a unit: 160km/h, 100mph, 45m/s")
}

func (m Model) typeFind() (Model, tea.Cmd) { return m.prompt(finding, "an id, or holes such as A A3") }

// prompt opens the line at the bottom for typing.
func (m Model) prompt(to mode, hint string) (Model, tea.Cmd) {
	m.mode = to
	m.input.Reset()
	m.input.Placeholder, m.fault = hint, ""
	m.input.Width = max(10, m.width-14)
	return m, m.input.Focus()
}

// typing handles a key while the prompt is open.
func (m Model) typing(key tea.KeyMsg) (Model, tea.Cmd) {
	switch key.String() {
	case "esc", "ctrl+c":
		return m.leave()
	case "enter":
		return m.typed(m.input.Value())
	}
	m.fault = ""
	var cmd tea.Cmd
	m.input, cmd = typeInto(m.input, key)
	return m, cmd
}

// typed takes what was typed into the open prompt. After a fault the prompt stays
// open with the text, so that what is typed next is not taken for commands.
func (m Model) typed(text string) (Model, tea.Cmd) {
	next, was := m, m.mode
	next.mode = walking
	var cmd tea.Cmd
	var err error
	switch was {
	case speeding:
		next, cmd, err = next.typedSpeed(text)
	case measuring:
		next, err = next.typedReading(text)
	default:
		next, err = next.typedFind(text)
	}
	if err != nil {
		m.fault = strings.ReplaceAll(err.Error(), "\n", "; ")
		return m, nil
	}
	return next, cmd
}

func (m Model) typedSpeed(text string) (Model, tea.Cmd, error) {
	v, err := units.Speeds.Parse(text, m.units.SpeedUnit())
	if err != nil {
		return m, nil, err
	}
	if err := speedInRange(v, m.units); err != nil {
		return m, nil, err
	}
	m, cmd := m.setSpeed(v)
	m.message = "speed " + m.units.Speed(v)
	return m, cmd, nil
}

// typedFind goes to the next setting, after the current one, that has all the
// holes typed.
func (m Model) typedFind(text string) (Model, error) {
	found := m.table.Named(splitWords(text))
	if len(found) == 0 {
		return m, fmt.Errorf("no setting with %q", text)
	}
	to, nth := found[0], 1
	for k, r := range found {
		if i, _ := m.table.Index(r.ID); i > m.current {
			to, nth = r, k+1
			break
		}
	}
	m = m.show(to.ID)
	if len(found) > 1 {
		m.message = fmt.Sprintf("%d of %d with %s: find again for the next", nth, len(found), text)
	}
	return m, nil
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

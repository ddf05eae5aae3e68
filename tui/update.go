package tui

import (
	tea "github.com/charmbracelet/bubbletea"
)

// answer is a message of our own: what a command found out. The explorer and the walk
// in words hand it on without knowing which one it is, so that neither can miss one.
type answer interface {
	take(m Model) (Model, tea.Cmd)
}

// Update takes one message: a key, the mouse, a size, or the answer of a
// command. What is worked out in the background follows what is on the screen then.
func (m Model) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	next, cmd := m.update(msg)
	after, ok := next.(Model)
	if !ok {
		return next, cmd
	}
	after, solve := after.keepSolving()
	if solve == nil {
		return after, cmd
	}
	return after, tea.Batch(cmd, solve)
}

func (m Model) update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		m.width, m.height = msg.Width, msg.Height
		if p, ok := in[promptMode](m); ok {
			p.input.Width = max(10, m.width-14)
			m = m.with(p)
		}
	case tea.KeyMsg:
		return m.key(msg)
	case tea.MouseMsg:
		return m.mouse(msg)
	case answer:
		return msg.take(m)
	}
	return m, nil
}

// key passes a key on to what is open. Runes that arrive together, as when a
// key repeats faster than the screen is drawn, are keys of their own: "left" in one piece would
// else be taken for the arrow.
func (m Model) key(msg tea.KeyMsg) (tea.Model, tea.Cmd) {
	if k := msg.String(); k != "q" && k != "ctrl+c" {
		m.warned = false // what is typed from here on is asked about anew
	}
	typing := m.open != nil && m.open.typing()
	if msg.Type == tea.KeyRunes && msg.Paste {
		if typing {
			return m.pass(msg)
		}
		return m, nil // pasted text is not a row of commands
	}
	if msg.Type == tea.KeyRunes && len(msg.Runes) > 1 {
		var cmds []tea.Cmd
		var next tea.Model = m
		for _, r := range msg.Runes {
			var cmd tea.Cmd
			next, cmd = next.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}, Alt: msg.Alt})
			cmds = append(cmds, cmd)
		}
		return next, tea.Batch(cmds...)
	}
	if typing {
		return m.pass(msg)
	}
	if msg.Type == tea.KeyCtrlZ {
		return m.suspend()
	}
	if m.open != nil {
		return m.pass(msg)
	}
	return m.press(msg.String())
}

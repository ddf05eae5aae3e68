package tui

import (
	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model"
	"stanchion/model/units"
)

// guidedMsg says that the file is made, or why not.
type guidedMsg struct {
	src  Source
	car  *model.Car
	name string
	err  error

	unplated bool   // it has no plates yet, and cannot be opened
	design   string // the command that designs one
}

// take opens the car that was made.
func (msg guidedMsg) take(m Model) (Model, tea.Cmd) {
	if msg.err != nil {
		if g, ok := in[guideMode](m); ok {
			g.fault = msg.err.Error()
			m = m.with(g)
		}
		return m, nil
	}
	m, drop := m.keepDraft(m.src.GuideDraft, nil)
	if msg.unplated {
		return m.leftUnplated(msg.name, msg.design, drop)
	}
	fresh := New(msg.src, msg.car, msg.car.Speed, m.units)
	fresh.width, fresh.height, fresh.words, fresh.kept, fresh.glyphs = m.width, m.height, m.words, m.kept, m.glyphs
	fresh.asked = m.asked + 1 // no answer about the car before is taken for one about this
	fresh.message = "made " + units.Printable(msg.name) + ": edit it to add what you know; it is read again when saved"
	return fresh, tea.Batch(drop, fresh.Init())
}

// leftUnplated ends a guided start whose file has no plates yet: it says what designs them.
func (m Model) leftUnplated(name, design string, drop tea.Cmd) (Model, tea.Cmd) {
	name = units.Printable(name)
	m.message = "made " + name + "; next, find the holes: " + units.Printable(design)
	m = m.closed()
	if m.car != nil {
		return m, drop
	}
	m.farewell = m.message
	return m, func() tea.Msg {
		if drop != nil {
			if fault := drop(); fault != nil {
				return fault
			}
		}
		return tea.QuitMsg{}
	}
}

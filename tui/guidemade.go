package tui

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/carfile"
	"stanchion/model/carfile/guide"
	"stanchion/model/units"
)

// guidedMsg says that the file is made, or why not.
type guidedMsg struct {
	src  Source
	car  *model.Car
	name string
	err  error

	unplated bool     // it has no plates yet, and cannot be opened
	design   []string // the command that designs one, in lines that can be copied
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
func (m Model) leftUnplated(name string, design []string, drop tea.Cmd) (Model, tea.Cmd) {
	name = units.Printable(name)
	m.farewell = "made " + name + "; next, find the holes:\n"
	for _, l := range design {
		m.farewell += "\n  " + units.Printable(l)
	}
	m.farewell += "\n\nWeight and strength are NOT CHECKED until the file has thickness and material\nof the plates and the grade of the bolts; gaps not until it has body and lid."
	m = m.closed()
	if m.car != nil {
		m.message = "made " + name + "; stanchion design finds its holes: the command is printed when you leave"
		return m, drop
	}
	if m.words {
		m.message = m.farewell
	}
	return m, func() tea.Msg {
		if drop != nil {
			if fault := drop(); fault != nil {
				return fault
			}
		}
		return tea.QuitMsg{}
	}
}

// settings says how many settings the file will have, and what they span.
func (g guideMode) settings(m Model) string {
	if guide.Unplated(g.answers) {
		return "The file will have no upright, and so no settings yet."
	}
	text, err := guide.File(g.answers, m.units)
	if err != nil {
		return ""
	}
	car, err := carfile.Parse(m.guideFile(), text, nil)
	if err != nil {
		return ""
	}
	places, err := car.Positions()
	if err != nil || len(places) == 0 {
		return "No setting: the bolts do not go in anywhere. Go back and check the lengths of what is bolted together."
	}
	lo, hi := places[0], places[0]
	low, high := lo, hi
	for _, p := range places {
		if p.Angle < lo.Angle {
			lo = p
		}
		if p.Angle > hi.Angle {
			hi = p
		}
		if p.Height < low.Height {
			low = p
		}
		if p.Height > high.Height {
			high = p
		}
	}
	return fmt.Sprintf("%s, from %s° to %s°, a quarter of the chord from %s to %s above ground.", units.Count(len(places), "setting"),
		units.Fixed(lo.Angle/plane.Deg, 1), units.Fixed(hi.Angle/plane.Deg, 1), m.units.Length(low.Height), m.units.Length(high.Height))
}

package tui

import (
	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model/carfile/guide"
	"stanchion/model/units"
)

// readDrawing reads the drawing that is named in the background.
func (g guideMode) readDrawing(m Model, q guide.Question, name string) (Model, tea.Cmd) {
	open, u := m.src.Open, m.units
	if open == nil {
		g.fault = "no drawing can be read from here; enter the holes in another way"
		return m.with(g), nil
	}
	return m, func() tea.Msg {
		data, err := open(name)
		if err != nil {
			return drawingMsg{key: q.Key, err: err}
		}
		holes, err := guide.FromDrawing(name, data, u)
		return drawingMsg{key: q.Key, name: name, holes: holes, err: err}
	}
}

// drawingMsg is what a drawing holds, for the question with a key.
type drawingMsg struct {
	key, name, holes string
	err              error
}

// take takes the drawing as the answer, when its question is still asked.
func (msg drawingMsg) take(m Model) (Model, tea.Cmd) {
	g, ok := in[guideMode](m)
	if !ok {
		return m, nil
	}
	qs := g.questions(m)
	if g.step >= len(qs) || qs[g.step].Key != msg.key {
		return m, nil
	}
	if msg.err != nil {
		g.fault = units.Printable(msg.err.Error())
		return m.with(g), nil
	}
	q := qs[g.step]
	g.answers = g.answers.With(guide.HolesKey(q), msg.holes)
	return g.accept(m, q, msg.name)
}

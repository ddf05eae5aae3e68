package tui

import (
	"fmt"
	"math"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model/calibrate"
	"stanchion/model/logbook"
	"stanchion/model/units"
	"stanchion/model/words"
)

// named is a note with what its setting is called in the place of its id, to be shown.
func (m Model) named(n logbook.Note) logbook.Note {
	if n.Setting != "" {
		n.Setting = m.settingName(n.Setting)
	}
	return n
}

// notebook is the list that a page goes back to.
func (m Model) notebook() (notebookMode, bool) {
	switch open := m.open.(type) {
	case notebookMode:
		return open, true
	case pageMode:
		b, ok := open.back.(notebookMode)
		return b, ok
	}
	return notebookMode{}, false
}

// over opens a page over the notebook, or over the walk where that is not open.
func (m Model) over(lines func(Model) []string, keys ...binding) Model {
	p := pageMode{lines: lines, keys: keys}
	if b, ok := m.notebook(); ok {
		p.back = b
	}
	return m.with(p)
}

// nowMsg is what is predicted now for the setting of a note, at the note's speed.
type nowMsg struct {
	id  string
	now logbook.Prediction
	err error
}

func (msg nowMsg) take(m Model) (Model, tea.Cmd) {
	if p, ok := in[pageMode](m); ok && p.note == msg.id {
		p.lines = noteLines(msg.id, &msg)
		return m.with(p), nil
	}
	return m, nil
}

// showNote opens the page of a note.
func (m Model) showNote(b notebookMode, n logbook.Note) (Model, tea.Cmd) {
	then := func(run func(m Model, b notebookMode, n logbook.Note) (Model, tea.Cmd)) func(Model, string) (Model, tea.Cmd) {
		return func(m Model, _ string) (Model, tea.Cmd) {
			b, _ := m.notebook()
			m.message = ""
			if n, ok := b.note(m); ok {
				return run(m.with(b), b, n)
			}
			return m.with(b), nil
		}
	}
	beside := func(by int) func(m Model, b notebookMode, _ logbook.Note) (Model, tea.Cmd) {
		return func(m Model, b notebookMode, _ logbook.Note) (Model, tea.Cmd) {
			b.at = min(max(min(b.at, len(b.notes(m))-1)+by, 0), len(b.notes(m))-1)
			n, _ := b.note(m)
			return m.with(b).showNote(b, n)
		}
	}
	m = m.with(b).over(noteLines(n.ID, nil),
		binding{keys: []string{"right", "l"}, label: "←→ note", does: "the note before it", run: then(beside(1))},
		binding{keys: []string{"left", "h"}, does: "the note after it", run: then(beside(-1))},
		binding{keys: []string{"e"}, label: "e correct", does: "correct it", run: then(correctNote)},
		binding{keys: []string{"m"}, label: "m note", does: "a new note about its setting", run: then(noteAgain)},
		binding{keys: []string{"g"}, label: "g map", does: "go to its setting on the map", run: then(goToNoted)})
	p, _ := in[pageMode](m)
	p.note = n.ID
	m = m.with(p)
	car, t := m.car, m.table
	return m, func() tea.Msg {
		msg := nowMsg{id: n.ID}
		if math.IsNaN(n.Speed) {
			n.Speed = t.Speed
		}
		if math.Abs(t.Speed-n.Speed) > 1e-6 {
			if t, msg.err = car.Map(n.Speed); msg.err != nil {
				return msg
			}
		}
		r, ok := t.Find(n.Setting)
		if !ok {
			msg.err = fmt.Errorf("the car file no longer has its setting")
			return msg
		}
		msg.now = calibrate.Expected(t, r)
		return msg
	}
}

// noteLines is the page of a note; now is nil until that is worked out.
func noteLines(id string, now *nowMsg) func(m Model) []string {
	return func(m Model) []string {
		n, ok := m.book.Find(id)
		if !ok {
			return []string{"note " + units.Printable(id) + " is no longer in the notebook"}
		}
		lines := []string{titleStyle.Render("note " + units.Printable(id)), ""}
		wide := m.factColumn()
		for _, f := range m.named(n).Facts(m.units) {
			if !strings.HasPrefix(f.What, "predicted ") {
				lines = append(lines, fmt.Sprintf("%-*s  %s", wide, f.What, f.Text))
			}
		}
		switch {
		case now == nil:
			lines = append(lines, "", "Predicted then; now is being worked out:")
		case now.err != nil:
			lines = append(lines, "", "Predicted then; not now: "+units.Printable(now.err.Error())+":")
		default:
			lines = append(lines, "", "Predicted then, and now by the car file as it is:")
		}
		after := logbook.Blank()
		after.Speed = n.Speed
		if now != nil && now.err == nil {
			after.Expected = now.now
		}
		is := map[string]string{}
		for _, f := range after.Facts(m.units) {
			is[f.What] = f.Text
		}
		for _, f := range n.Facts(m.units) {
			if what, ok := strings.CutPrefix(f.What, "predicted "); ok {
				text := f.Text
				if to := is[f.What]; to != "" && what != "for" {
					text += "   now " + to
				}
				if what == "for" {
					what = "at"
				}
				lines = append(lines, fmt.Sprintf("%-*s  %s", wide, what, text))
			}
		}
		return lines
	}
}

// factColumn is how wide the names of facts are.
func (m Model) factColumn() int {
	if m.width < 80 && !m.words {
		return 20
	}
	return 24
}

// compareNotes opens the page on what two notes say otherwise: those that are marked, or the marked one and this.
func compareNotes(m Model, b notebookMode, n logbook.Note) (Model, tea.Cmd) {
	ids := b.marked
	if len(ids) == 1 && ids[0] != n.ID {
		ids = []string{ids[0], n.ID}
	}
	if len(ids) != 2 {
		m.message = "mark another note with space first: two are compared"
		return m, nil
	}
	one, ok := m.book.Find(ids[0])
	other, also := m.book.Find(ids[1])
	if !ok || !also {
		m.message = "a marked note is no longer in the notebook: mark another"
		return m, nil
	}
	if other.At.Before(one.At) {
		one, other = other, one
	}
	return m.over(func(m Model) []string { return m.comparison(one, other) }), nil
}

// comparison is the page on two notes, the older one first.
func (m Model) comparison(one, other logbook.Note) []string {
	a, b := m.named(one), m.named(other)
	lines := []string{titleStyle.Render("from note " + units.Printable(one.ID) + " to " + units.Printable(other.ID)), ""}
	if said := words.LapsOfTwo(one, other, m.settingName); len(said) > 0 {
		lines = append(append(lines, said...), "")
	}
	wide := m.factColumn()
	changes := logbook.Changes(a, b, m.units)
	for _, c := range changes {
		lines = append(lines, fmt.Sprintf("%-*s  %s → %s", wide, c.What, c.From, c.To))
	}
	if len(changes) == 0 {
		lines = append(lines, "They say the same.")
	}
	return lines
}

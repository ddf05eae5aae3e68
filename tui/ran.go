package tui

import (
	"fmt"
	"math"
	"slices"

	"stanchion/model"
	"stanchion/model/logbook"
)

// withBook takes a notebook as it was read.
func (m Model) withBook(b logbook.Book) Model {
	m.book = b
	m.bookRead++
	m.ran = make(map[string][]logbook.Note, len(b.Notes))
	for _, n := range b.Notes {
		if !n.Fitted {
			m.ran[n.Setting] = append(m.ran[n.Setting], n)
		}
	}
	m.onCar = b.OnCar()
	return m
}

// noWord is the value of a setting that was run and of which no note says how it felt; it is shaded as neutral.
const noWord = 1e-3

// ranLegend says what the cells of what was run stand for.
const ranLegend = "felt last: u1 slight to u3 strong understeer, n neutral, o1 to o3 oversteer, ? no word"

// notesOf lists the notes about a setting, or about the same place bolted another way,
// in their order.
func (m Model) notesOf(r *model.Row) []logbook.Note {
	if len(r.Alternatives) == 0 {
		return m.ran[r.ID]
	}
	all := slices.Clone(m.ran[r.ID])
	for i := range r.Alternatives {
		all = append(all, m.ran[r.Alternatives[i].ID]...)
	}
	slices.SortStableFunc(all, func(a, b logbook.Note) int { return a.At.Compare(b.At) })
	return all
}

// ranFelt is how a setting felt last, -3 strong understeer to +3 strong oversteer, in fast corners or else in slow
// ones; noWord where it was run and no note says, NaN where it was not run.
func (m Model) ranFelt(r *model.Row) float64 {
	notes := m.notesOf(r)
	for i := len(notes) - 1; i >= 0; i-- {
		if balance, felt := notes[i].Feel.Balance(); felt {
			return balance
		}
	}
	if len(notes) > 0 {
		return noWord
	}
	return math.NaN()
}

// spellFelt spells how a setting felt as the form for a note is typed: o3, u1, n; "?" for no word. A half, of entry
// and exit that differ, counts as the larger.
func spellFelt(balance float64) string {
	switch {
	case balance == noWord:
		return "?"
	case balance > 0:
		return fmt.Sprintf("o%.0f", math.Ceil(balance))
	case balance < 0:
		return fmt.Sprintf("u%.0f", math.Ceil(-balance))
	}
	return "n"
}

// ranLines lists the notes about the current setting, for the page about it.
func (m Model) ranLines() []string {
	notes := m.notesOf(m.row())
	if len(notes) == 0 {
		return nil
	}
	lines := []string{"", "Run, and noted:"}
	for _, n := range notes {
		lines = append(lines, "  "+n.ID+"  "+n.Short())
	}
	return lines
}

// ranLine says when a setting was run last, and how it was; "" for never.
func (m Model) ranLine(r *model.Row) string {
	notes := m.notesOf(r)
	if len(notes) == 0 {
		return ""
	}
	n := notes[len(notes)-1]
	line := "run " + n.At.Format("2 Jan")
	if len(notes) > 1 {
		line = fmt.Sprintf("run %d times, last %s", len(notes), n.At.Format("2 Jan"))
	}
	if short := n.Short(); short != "" {
		line += ": " + short
	}
	return line
}

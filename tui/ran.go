package tui

import (
	"fmt"
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

// Marks of settings that were run, by how they felt; "?" where no note says.
const (
	markRan     = '?'
	markNeutral = '='
	markOver    = 'o'
	markUnder   = 'u'
)

// ranLegend says what the marks of what was run stand for.
const ranLegend = "u understeer, o oversteer, = neutral, ? no word; how many notes"

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

// ranMark is the mark of a setting that was run, by how it felt last.
func (m Model) ranMark(r *model.Row) (mark rune, ok bool) {
	notes := m.notesOf(r)
	for i := len(notes) - 1; i >= 0; i-- {
		if balance, felt := notes[i].Feel.Balance(); felt {
			switch {
			case balance > 0:
				return markOver, true
			case balance < 0:
				return markUnder, true
			}
			return markNeutral, true
		}
	}
	return markRan, len(notes) > 0
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

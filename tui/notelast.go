package tui

import (
	"fmt"
	"math"
	"strings"

	"stanchion/model"
	"stanchion/model/choose"
	"stanchion/model/logbook"
	"stanchion/model/units"
)

// lastRun is the last note of a run; not ok where there is none.
func (m Model) lastRun() (logbook.Note, bool) {
	for i := len(m.book.Notes) - 1; i >= 0; i-- {
		if n := m.book.Notes[i]; !n.Fitted {
			return n, true
		}
	}
	return logbook.Blank(), false
}

// carried is what a note about a setting says without anything typed: what stays as it was noted last. Tyres are those of
// the set that is named; "" for the last note's. Weather is that of the same day.
func (m Model) carried(set, id string) logbook.Note {
	n := logbook.Blank()
	last, any := m.lastRun()
	if any {
		n.Venue, n.Driver, n.ChangedBy = last.Venue, last.Driver, last.ChangedBy
		if m.src.Now == nil || m.src.Now().Format("2006-01-02") == last.At.Format("2006-01-02") {
			n.Track, n.Rain, n.Wind = last.Track, last.Rain, last.Wind
		}
		on := last
		for i := len(m.book.Notes) - 1; set != "" && !strings.EqualFold(set, on.TyreSet); i-- {
			if i < 0 {
				on = logbook.Blank()
				on.TyreSet = set
				break
			}
			if b := m.book.Notes[i]; strings.EqualFold(set, b.TyreSet) {
				on = b
			}
		}
		n.TyreSet, n.Tyres, n.TyreLaps = on.TyreSet, on.Tyres, on.TyreLaps+on.Driven()
	}
	for i := len(m.book.Notes) - 1; i >= 0; i-- { // nobody turns them but by noting it
		if b := m.book.Notes[i]; !b.Fitted || len(b.Adjustments) > 0 {
			for _, a := range b.Adjustments {
				n.SetAdjustment(a.Name, a.Value)
			}
			break
		}
	}
	if m.table != nil {
		n.BoltsMoved = choose.BoltsMoved(m.table, m.bolted(id), id)
	}
	return n
}

// bolted are the notes up to the change that led to a setting: marks that it is on the car, without the work, are
// of that change themselves.
func (m Model) bolted(id string) []logbook.Note {
	notes := m.book.Notes
	for len(notes) > 0 && notes[len(notes)-1].Fitted && notes[len(notes)-1].Setting == id && math.IsNaN(notes[len(notes)-1].BoltsMoved) {
		notes = notes[:len(notes)-1]
	}
	return notes
}

// standing is what is noted of a line in which nothing is typed; "" for nothing.
func (n noteMode) standing(m Model, line int) string {
	f := &n.fields[line]
	if n.corrects() || !f.again {
		return ""
	}
	return f.spell(n.about, m.units)
}

// refreshed renews what open lines show: what is noted without typing, what was noted last, or an example.
func (n noteMode) refreshed(m Model) noteMode {
	if !n.corrects() {
		set := ""
		for i, f := range n.fields {
			if f.name == "tyre set" {
				set = strings.TrimSpace(n.form.Fields[i].Value())
			}
		}
		if set == takesOut {
			set = ""
		}
		fresh := m.carried(set, n.about.Setting)
		n.about.TyreSet, n.about.Tyres, n.about.TyreLaps = fresh.TyreSet, fresh.Tyres, fresh.TyreLaps
	}
	last, _ := m.lastRun()
	fields := append(n.form.Fields[:0:0], n.form.Fields...)
	for i, f := range n.fields {
		stands, was := n.standing(m, i), f.spell(last, m.units)
		switch {
		case n.corrects():
			fields[i].Placeholder = "not noted; such as " + f.hint(m.units)
			if f.felt != nil || f.steps != nil || f.name == elseField {
				fields[i].Placeholder = "not noted; " + f.hint(m.units)
			}
		case stands != "" && f.name == boltsField:
			fields[i].Placeholder = stands + " (counted)"
		case stands != "" && f.name == tyreLapsField && !math.IsNaN(last.Driven()):
			fields[i].Placeholder = stands + " (with the last run)"
		case stands != "":
			fields[i].Placeholder = stands + " (as last)"
		case f.felt == nil && f.name != elseField && was != "":
			fields[i].Placeholder = "last " + was
		case f.felt == nil && f.steps == nil && f.name != elseField && f.name != placeField && f.name != "driver" && f.name != "changed by":
			fields[i].Placeholder = "such as " + f.hint(m.units)
		default:
			fields[i].Placeholder = f.hint(m.units)
		}
		fields[i].Placeholder = units.Printable(fields[i].Placeholder)
	}
	n.form.Fields = fields
	return n
}

// Lines whose open text is told otherwise.
const (
	boltsField    = "bolts moved"
	tyreLapsField = "laps on the tyres"
)

// settingField is the line of a correction for the setting that was meant.
func settingField(t *model.Table) noteField {
	return noteField{name: "setting", group: "which setting", hint: plainHint("a name (4 B2) or its holes"),
		read: func(n *logbook.Note, text string, _ units.System) error {
			found := t.Named(splitWords(text))
			if len(found) == 0 || len(found) > 1 {
				return fmt.Errorf("%q names %s; give one, by name or holes", text, units.Count(len(found), "setting"))
			}
			n.Setting = found[0].ID
			return nil
		},
		spell: func(n logbook.Note, _ units.System) string { return units.Printable(t.NameOf(n.Setting)) },
		clear: func(*logbook.Note) {}}
}

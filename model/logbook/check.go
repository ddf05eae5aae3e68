package logbook

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"stanchion/model/toml"
	"stanchion/model/units"
)

// Inspection is what a note says of a look over the car between sessions. The zero Inspection says nothing.
type Inspection struct {
	Looked  []string // keys of the items that were looked at, see model/inspect
	Failed  []string // those of them that failed
	Found   string   // in the person's own words
	By      string   // who looked
	Setting string   // id of the setting that was on the car
	Struck  string   // StruckKerb, StruckSpin, StruckContact; "" for nothing
}

// What the car went through.
const (
	StruckKerb    = "kerb"
	StruckSpin    = "spin"
	StruckContact = "contact"
)

// Strikes lists what the car may have gone through.
func Strikes() []string { return []string{StruckKerb, StruckSpin, StruckContact} }

// Says reports whether there is anything in it.
func (i Inspection) Says() bool { return len(i.Looked)+len(i.Failed) > 0 || i.Struck != "" }

// Inspecting reports whether the note is about checks alone: it is no run, and no setting that was bolted on.
func (n Note) Inspecting() bool { return n.Setting == "" && n.Inspected.Says() }

// encode spells the lines of a note.
func (i Inspection) encode(b *bytes.Buffer) {
	text := func(key, v string) {
		if v != "" {
			fmt.Fprintf(b, "%s = %s\n", key, toml.Quote(v))
		}
	}
	list := func(key string, all []string) {
		if len(all) == 0 {
			return
		}
		var quoted []string
		for _, s := range all {
			quoted = append(quoted, toml.Quote(s))
		}
		fmt.Fprintf(b, "%s = [%s]\n", key, strings.Join(quoted, ", "))
	}
	list("checked", i.Looked)
	list("failed", i.Failed)
	text("found", i.Found)
	text("checked_by", i.By)
	text("checked_setting", i.Setting)
	text("struck", i.Struck)
}

// inspection reads the lines of a note. Where it cannot be read which items failed, none counts as looked at; what the car
// went through counts whatever word a hand has put there.
func (m *keys) inspection() (i Inspection) {
	i.Looked, _ = m.texts("checked")
	failed, ok := m.texts("failed")
	if i.Failed = failed; !ok {
		i.Looked = nil
	}
	i.Found, i.By, i.Setting, i.Struck = m.text("found"), m.text("checked_by"), m.text("checked_setting"), m.text("struck")
	if i.Struck != "" && !slices.Contains(Strikes(), i.Struck) {
		i.Struck, m.odd = StruckContact, append(m.odd, "struck")
	}
	return i
}

// texts reads a list of texts; ok is false where there is one that cannot be used as a whole.
func (m *keys) texts(key string) (all []string, ok bool) {
	v, there := m.of[key]
	if !there {
		return nil, true
	}
	list, ok := v.([]any)
	for _, one := range list {
		s, text := one.(string)
		if ok = ok && text; text {
			all = append(all, s)
		}
	}
	if !ok {
		m.unusable(key)
	}
	return all, ok
}

// facts lists what it says, for a person.
func (i Inspection) facts(add func(what, format string, args ...any)) {
	for _, f := range []struct{ what, text string }{
		{"struck", spellStruck(i.Struck)}, {"checked", strings.Join(i.passed(), ", ")}, {"FAILED", strings.Join(i.Failed, ", ")},
		{"found", i.Found}, {"checked by", i.By}, {"setting then", i.Setting},
	} {
		if f.text != "" {
			add(f.what, "%s", f.text)
		}
	}
}

func spellStruck(struck string) string {
	return map[string]string{"": "", StruckKerb: "a kerb", StruckSpin: "a spin", StruckContact: "contact"}[struck]
}

// passed are the items that were looked at and did not fail.
func (i Inspection) passed() (all []string) {
	for _, key := range i.Looked {
		if !i.FailedAt(key) {
			all = append(all, key)
		}
	}
	return all
}

// Passed reports whether an item was looked at and found good.
func (i Inspection) Passed(key string) bool {
	return slices.Contains(i.Looked, key) && !i.FailedAt(key)
}

// FailedAt reports whether an item failed.
func (i Inspection) FailedAt(key string) bool { return slices.Contains(i.Failed, key) }

// brief says it in a few words, for a list of notes.
func (i Inspection) brief() (parts []string) {
	if i.Struck != "" {
		parts = append(parts, "STRUCK: "+spellStruck(i.Struck))
	}
	if len(i.Failed) > 0 {
		parts = append(parts, "FAILED: "+strings.Join(i.Failed, ", "))
	}
	if p := i.passed(); len(p) > 0 {
		parts = append(parts, "checked: "+strings.Join(p, ", "))
	}
	if i.Found != "" {
		parts = append(parts, i.Found)
	}
	if i.By != "" {
		parts = append(parts, "by "+i.By)
	}
	for k := range parts {
		parts[k] = units.PrintableLines(parts[k], " / ")
	}
	return parts
}

// apart takes the notes that are about checks alone out of others, so that what is learnt from runs never meets them.
func apart(notes []Note) (runs, checks []Note) {
	for _, n := range notes {
		if n.Inspecting() {
			checks = append(checks, n)
		} else {
			runs = append(runs, n)
		}
	}
	return runs, checks
}

// InForce lists runs and checks together, the latest last; what is of one second in the order of the file.
func (b Book) InForce() []Note {
	if len(b.Checks) == 0 {
		return b.Notes
	}
	in := map[string]bool{}
	for _, list := range [][]Note{b.Notes, b.Checks} {
		for _, n := range list {
			in[n.ID] = true
		}
	}
	var all []Note
	for _, n := range b.All {
		if in[n.ID] {
			all = append(all, n)
		}
	}
	slices.SortStableFunc(all, func(x, y Note) int { return x.At.Compare(y.At) })
	return all
}

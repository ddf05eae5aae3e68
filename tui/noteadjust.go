package tui

import (
	"fmt"
	"slices"
	"strings"

	"stanchion/model"
	"stanchion/model/logbook"
	"stanchion/model/units"
)

// adjustmentFields are a line for each of the car's other adjustments, and one for those that the car file does not name.
func adjustmentFields(car *model.Car, others noteField) (all []noteField) {
	named := map[string]bool{}
	if car != nil {
		for _, a := range car.Adjustments {
			named[a.Name] = true
			all = append(all, adjustmentField(a))
		}
	}
	rest := func(n logbook.Note) logbook.Note {
		for name := range named {
			n.SetAdjustment(name, "")
		}
		return n
	}
	spell := others.spell
	others.spell = func(n logbook.Note, u units.System) string { return spell(rest(n), u) }
	others.clear = func(n *logbook.Note) {
		for _, a := range rest(*n).Adjustments {
			n.SetAdjustment(a.Name, "")
		}
	}
	return append(all, others)
}

func adjustmentField(a model.Adjustment) noteField {
	f := noteField{name: units.Printable(a.Name), key: "adjustment " + a.Name, group: setGroup, steps: a.Steps, again: true, hint: plainHint("as it is set"),
		read: func(n *logbook.Note, text string, _ units.System) error {
			if a.Steps != nil {
				i := stepAt(a.Steps, text)
				if i < 0 {
					return fmt.Errorf("%q is not one of its steps, %s; note it under \"other adjustments\" as %s = %s", text, spellSteps(a.Steps), a.Name, text)
				}
				text = a.Steps[i]
			}
			n.SetAdjustment(a.Name, text)
			return nil
		},
		spell: func(n logbook.Note, _ units.System) string { return units.Printable(n.Adjusted(a.Name)) },
		clear: func(n *logbook.Note) { n.SetAdjustment(a.Name, "") }}
	if a.Steps != nil {
		f.hint = plainHint("← → " + spellSteps(a.Steps))
	}
	return f
}

// stepAt finds a step by its text, with or without its unit; -1 for none.
func stepAt(steps []string, text string) int {
	text = strings.Join(strings.Fields(text), " ")
	found := -1
	for i, s := range steps {
		switch number, _, _ := strings.Cut(s, " "); {
		case strings.EqualFold(s, text), strings.EqualFold(strings.ReplaceAll(s, " ", ""), text):
			return i
		case number == text && found >= 0:
			return -1 // two begin so
		case number == text:
			found = i
		}
	}
	return found
}

// spellSteps lists steps; of many the first and the last ones.
func spellSteps(steps []string) string {
	if len(steps) > 8 {
		steps = append(append(slices.Clone(steps[:3]), "…"), steps[len(steps)-1])
	}
	return units.Printable(strings.Join(steps, ", "))
}

// stepped is what an arrow makes of a line with steps on which text stands: the next step or the one before.
func (f *noteField) stepped(text string, by int) string {
	i := stepAt(f.steps, text)
	switch {
	case i < 0 && by < 0:
		return f.steps[len(f.steps)-1]
	case i < 0:
		return f.steps[0]
	}
	return f.steps[min(max(i+by, 0), len(f.steps)-1)]
}

package tui

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"stanchion/model/logbook"
	"stanchion/model/units"
	"stanchion/tui/widgets"
)

// feltLine is how a line of the form for a note is typed that says how it felt.
type feltLine struct {
	step  func(text string, by int) string         // what an arrow makes of it
	after func(text, key string) string            // what a typed key makes of it; nil to type it as in other lines
	says  func(text string) (said string, ok bool) // what it means, in words
}

var cornerLine = feltLine{
	step: logbook.StepCorner,
	says: func(text string) (string, bool) {
		c, err := logbook.ReadCorner(text)
		f := logbook.Blank().Feel
		f.Fast = c
		return strings.NewReplacer(" in fast corners", "", "fast corners: ", "").Replace(f.String()), err == nil
	},
}

var stabilityLine = feltLine{
	step: func(text string, by int) string {
		g, err := logbook.ReadShortfall(text)
		if err != nil {
			return "0"
		}
		return fmt.Sprint(max(-3, min(g+by, 0)))
	},
	after: func(text, key string) string {
		if _, err := logbook.ReadShortfall(text); err != nil && text != "" && text != "-" && strings.Trim(text, "123") != "" {
			return text + key // what is none stays, to be taken out or read
		}
		switch {
		case key == " ":
			return text
		case text == "-" && key != "-":
			return text + key
		}
		return key // so that no old one has to be taken out first
	},
	says: func(text string) (string, bool) {
		g, err := logbook.ReadShortfall(text)
		f := logbook.Blank().Feel
		f.Braking = g
		return strings.TrimSuffix(f.String(), " under braking"), err == nil
	},
}

// typed is what a key makes of a line.
func (l *feltLine) typed(text, key string, arrow bool) string {
	switch {
	case arrow && key == "left":
		return l.step(text, -1)
	case arrow:
		return l.step(text, 1)
	case l.after != nil:
		return l.after(text, key)
	}
	return text + key
}

// heard is how the line that is typed into is understood, or what can be typed there.
func (n noteMode) heard(m Model) string {
	f, text := n.fields[n.form.At], n.form.Fields[n.form.At].Value()
	stands := n.standing(m, n.form.At)
	switch {
	case f.felt != nil:
		if said, ok := f.felt.says(text); ok {
			return f.name + ": " + said
		}
		if f.felt == &cornerLine {
			return "u understeer, n neutral, o oversteer, 1 slight to 3 strong; or ← →"
		}
	case text == takesOut && f.again:
		return f.name + ": is not noted"
	case text == "" && stands != "" && f.steps != nil:
		return f.name + ": " + units.Printable(stands) + " is noted; ← → " + spellSteps(f.steps) + "; - for not noted"
	case text == "" && stands != "":
		return f.name + ": " + units.Printable(stands) + " is noted unless you type something else; → edits it, - for not noted"
	case n.corrects():
		return f.name + ": " + f.hint(m.units) + ". An empty line takes out what was noted."
	}
	return f.name + ": " + f.hint(m.units) + ". Leave open what you do not know."
}

// draftTexts are the lines of a draft in the order of the form. A line that the form no longer has
// goes into the one for anything else, so that nothing typed is lost.
func draftTexts(fields []noteField, lines map[string]string) (texts []string) {
	lost := ""
	for _, key := range slices.Sorted(maps.Keys(lines)) {
		known := key == draftSetting || key == draftReplaces
		for _, f := range fields {
			known = known || f.draftKey() == key
		}
		if !known {
			lost += " " + key + " " + lines[key]
		}
	}
	for _, f := range fields {
		text := lines[f.draftKey()]
		if f.name == elseField {
			text = strings.TrimSpace(text + lost)
		}
		texts = append(texts, widgets.Typeable(text))
	}
	return texts
}

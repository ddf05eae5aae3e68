package tui

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"stanchion/model/logbook"
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

// heard is how the line that is typed into is understood, or what the form asks for.
func (n noteMode) heard() string {
	if f := noteFields()[n.form.At]; f.felt != nil {
		if said, ok := f.felt.says(n.form.Fields[n.form.At].Value()); ok {
			return f.name + ": " + said
		}
		if f.felt == &cornerLine {
			return "u understeer, n neutral, o oversteer, 1 slight to 3 strong; or ← →"
		}
	}
	return "Leave open what you do not know. stanchion note add --replaces corrects one."
}

// draftTexts are the lines of a draft in the order of the form. A line that the form no longer has
// goes into the one for anything else, so that nothing typed is lost.
func draftTexts(lines map[string]string) (texts []string) {
	lost := ""
	for _, name := range slices.Sorted(maps.Keys(lines)) {
		known := name == draftSetting
		for _, f := range noteFields() {
			known = known || f.name == name
		}
		if !known {
			lost += " " + name + " " + lines[name]
		}
	}
	for _, f := range noteFields() {
		text := lines[f.name]
		if f.name == elseField {
			text = strings.TrimSpace(text + lost)
		}
		texts = append(texts, widgets.Typeable(text))
	}
	return texts
}

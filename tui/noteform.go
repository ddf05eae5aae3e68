package tui

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/bubbles/textinput"
	"github.com/charmbracelet/x/ansi"

	"stanchion/model/units"
	"stanchion/tui/widgets"
)

// nameWidth is how wide the names of the lines are, with the mark before them.
func (n noteMode) nameWidth(m Model) int {
	if m.width < 80 {
		return 23
	}
	return 27
}

// shownFromStart gives a line of the form its width, and shows what stands in it from its beginning.
func shownFromStart(in textinput.Model, w int) textinput.Model {
	in.Width = w
	in.CursorStart()
	in.SetValue(in.Value())
	in.CursorStart()
	return in
}

// heading says what the note is about.
func (n noteMode) heading(m Model) string {
	if n.corrects() {
		return "correction of note " + units.Printable(n.about.Replaces) + ": " + m.settingName(n.about.Setting)
	}
	return fmt.Sprintf("a note about %s, %s°: %s", m.units.Length(n.about.Expected.Height), units.Fixed(n.about.Expected.Angle, 1), m.settingName(n.about.Setting))
}

// view draws the form over the whole screen.
func (n noteMode) view(m Model) (string, bool) {
	foot := m.footerOf(n)
	if m.saving {
		foot = "saving…"
	}
	heard := widgets.Wrap(n.heard(m), m.width)
	heard = heard[:min(len(heard), 2)]
	for m.width < 110 && len(heard) < 2 { // so that lines stay where they are
		heard = append(heard, "")
	}
	lines := append([]string{titleStyle.Render(widgets.Shorten(n.heading(m), m.width))}, heard...)
	if m.height >= 28 {
		lines = append(lines, "")
	}
	var fault []string
	if n.form.Fault != "" {
		for _, l := range widgets.Wrap(n.form.Fault, m.width) {
			fault = append(fault, faultStyle.Render(l))
		}
	}
	fault = fault[:min(len(fault), max(m.height-len(lines)-3, 0))]
	rows, at := n.rows(m)
	room := max(m.height-1-len(lines)-len(fault), 1)
	seen := window(at, len(rows), room)
	lines = append(lines, rows[seen[0]:seen[1]]...)
	for len(lines) < m.height-1-len(fault) {
		lines = append(lines, "")
	}
	lines = append(lines, fault...)
	return widgets.Fit(append(lines, quietStyle.Render(foot)), m.width, m.height, m.glyphs), true
}

// rows are the lines of the form below their headings, and which of them is typed into. Lines that are not typed into
// end in … where they are longer than the screen.
func (n noteMode) rows(m Model) (rows []string, at int) {
	w := n.nameWidth(m)
	for i, f := range n.fields {
		if i == 0 || f.group != n.fields[i-1].group {
			rows = append(rows, quietStyle.Render(f.group))
		}
		in, mark := n.form.Fields[i], "  "
		switch {
		case i == n.form.At:
			mark, at = "▸ ", len(rows)
		case in.Value() == "":
			rows = append(rows, mark+leftPad(f.name, w-2)+" "+quietStyle.Render(widgets.Shorten(in.Placeholder, max(m.width-w-1, 1))))
			continue
		default:
			rows = append(rows, mark+leftPad(f.name, w-2)+" "+widgets.Shorten(ansi.Strip(in.Value()), max(m.width-w-1, 1)))
			continue
		}
		rows = append(rows, mark+leftPad(f.name, w-2)+" "+strings.TrimPrefix(in.View(), in.Prompt))
	}
	return rows, at
}

// leftPad fills a text with blanks behind it.
func leftPad(text string, w int) string {
	text = widgets.Shorten(text, w)
	return text + strings.Repeat(" ", max(w-ansi.StringWidth(text), 0))
}

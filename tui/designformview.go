package tui

import (
	"strings"

	"github.com/charmbracelet/x/ansi"

	"stanchion/model/units"
	"stanchion/model/words"
	"stanchion/tui/widgets"
)

// notes are what stands beside the lines: where they come from, and what blank means.
func (f plateForm) note(m Model, i int) string {
	field := wishFields()[i]
	switch {
	case f.form.Fields[i].Value() == "" && field.blank != nil:
		return field.blank(m)
	case f.from[i] == fromCar:
		return "car: as it is now"
	case f.from[i] == fromUse:
		return "usual"
	}
	return ""
}

func (f plateForm) view(m Model) (string, bool) {
	names, notes := wishNames+2, wishNotes
	if m.width < 80 {
		names, notes = wishBriefNames+2, 18
	}
	field := max(m.width-names-notes-2, 14)
	var head []string
	intro := "Marked car: how the car is now, not your wish until enter accepts it. Typing replaces a line."
	if laid := m.laid(); laid != "" {
		intro += " Plates are for the car file as it is saved, without what is not in it."
	}
	head = append(append(head, widgets.Wrap(intro, m.width)...), "")
	var rows [][]string
	for i := range wishFields() {
		rows = append(rows, f.row(m, i, names, field, notes))
	}
	var tail []string
	if at := f.form.Fields[f.form.At]; ansi.StringWidth(at.Value()) >= field-1 { // the line has no room for all of it
		tail = append([]string{""}, m.wrapped(wishFields()[f.form.At].name+": "+at.Value(), m.width)...)
	}
	foot := quietStyle.Render(m.footerOf(f))
	if m.message != "" {
		foot = selectedStyle.Render(m.message)
	}
	title := titleStyle.Render("new plates: what is wanted")
	room := m.height - 1 - len(widgets.Wrap(words.Caution, m.width)) - len(tail)
	size := 0
	for _, r := range rows {
		size += len(r)
	}
	lines := []string{title}
	if len(head)+1+size+1 <= room {
		lines = append(lines, "")
	}
	if len(head)+1+size <= room {
		lines = append(lines, head...)
	}
	lines = append(lines, inWindow(rows, f.form.At, room-len(lines))...)
	return formScreen(m, append(lines, tail...), foot), true
}

// inWindow are the lines of rows, as many as there is room for about the one that is at.
func inWindow(rows [][]string, at, room int) (lines []string) {
	from, to := at, at+1
	size := len(rows[at])
	for grown := true; grown; {
		grown = false
		if to < len(rows) && size+len(rows[to]) <= room {
			size, to, grown = size+len(rows[to]), to+1, true
		}
		if from > 0 && size+len(rows[from-1]) <= room {
			size, from, grown = size+len(rows[from-1]), from-1, true
		}
	}
	for _, r := range rows[from:to] {
		lines = append(lines, r...)
	}
	return lines
}

// row is one line of the form, with its fault or where it comes from beside it.
func (f plateForm) row(m Model, i, names, field, notes int) []string {
	w := wishFields()[i]
	name, mark := w.name, "  "
	if m.width < 80 && w.brief != "" {
		name = w.brief
	}
	name = ansi.Truncate(name, names-3, "…")
	if i == f.form.At {
		mark = "▸ "
	}
	in := f.form.Fields[i]
	in.Width = field - 1
	in.SetCursor(in.Position()) // which finds the part to show anew
	shown := in.View()
	if i != f.form.At && in.Value() != "" {
		shown = ansi.Truncate(in.Value(), field-1, "…")
	}
	line := mark + name + strings.Repeat(" ", max(names-2-ansi.StringWidth(name), 1)) + shown
	line += strings.Repeat(" ", max(names+field+1-ansi.StringWidth(line), 1))
	if i == f.form.At && f.fault != "" {
		fault := widgets.Wrap(m.glyphs.Spell(units.Printable(f.fault)), notes)
		lines := []string{line + faultStyle.Render(fault[0])}
		for _, l := range fault[1:] {
			lines = append(lines, strings.Repeat(" ", names+field+1)+faultStyle.Render(l))
		}
		return lines
	}
	note, style := f.note(m, i), quietStyle
	if err := w.check(in.Value(), m.units); err != nil && i != f.form.At && f.from[i] == fromPerson && in.Value() != "" {
		return []string{line + faultStyle.Render(ansi.Truncate(m.glyphs.Spell(units.Printable(err.Error())), notes, "…"))}
	}
	if f.from[i] == fromCar && in.Value() != "" {
		style = assumedStyle
	}
	return []string{line + style.Render(ansi.Truncate(note, notes, "…"))}
}

// formScreen puts lines over a whole screen, the caution and a foot below them.
func formScreen(m Model, lines []string, foot string) string {
	caution := widgets.Wrap(words.Caution, m.width)
	room := m.height - 1 - len(caution)
	for len(lines) < room {
		lines = append(lines, "")
	}
	lines = lines[:max(room, 0)]
	for _, l := range caution {
		lines = append(lines, quietStyle.Render(l))
	}
	return widgets.Fit(append(lines, foot), m.width, m.height, m.glyphs)
}

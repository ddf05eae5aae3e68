package tui

import (
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"stanchion/model/units"
	"stanchion/model/words"
	"stanchion/tui/widgets"
)

// plateForm is the form for what is wanted of a plate.
type plateForm struct {
	form  widgets.Form
	from  []origin
	fresh bool   // the line holds what it held when it was come to: typing puts something else in its place
	fault string // of the line that is typed into
}

// needsPlates says why no plate can be designed.
func needsPlates(m Model) string {
	if m.proposed == nil && len(m.base.Parts) != 3 {
		return "a plate can be designed between a fixed part and the wing only: three parts, two joints"
	}
	return ""
}

// openPlates opens what was found last, or the form; within a proposal it goes back.
func (m Model) openPlates() (Model, tea.Cmd) {
	switch {
	case m.proposed != nil:
		return m.leaveProposal()
	case m.plates.car == m.base && (m.plates.found != nil || m.plates.searching) && !m.plates.unlooked:
		return m.with(plateMode{}), nil
	}
	return m.with(newPlateForm(m)), nil
}

// newPlateForm is the form as it was left; what the person has not typed or accepted is as the car is now.
func newPlateForm(m Model) plateForm {
	lines := slices.Clone(m.plates.lines)
	for i, l := range m.presentWish() {
		switch {
		case i == len(lines):
			lines = append(lines, l)
		case lines[i].from != fromPerson:
			lines[i] = l
		}
	}
	lines = m.withLocks(lines)
	f := plateForm{fresh: true}
	for i, field := range wishFields() {
		f.form.Add(field.name, "such as "+field.hint(m.units), lines[i].text, 200)
		f.from = append(f.from, lines[i].from)
	}
	f.form.Fields[0].Focus()
	return f
}

func (plateForm) title() string { return "in the form for new plates" }

func (plateForm) typing() bool { return true }

func (plateForm) bindings(m Model) []binding {
	move := func(m Model, by int) (Model, tea.Cmd) {
		f, _ := in[plateForm](m)
		return f.moved(m, by)
	}
	return append([]binding{
		{keys: []string{"enter"}, label: "enter accepts all and looks for plates", does: "accept every line, and look for plates",
			run: func(m Model, _ string) (Model, tea.Cmd) {
				f, _ := in[plateForm](m)
				return f.accept(m)
			}},
		{keys: []string{"esc"}, label: "esc back", does: "go back; what is typed stays",
			run: func(m Model, _ string) (Model, tea.Cmd) {
				f, _ := in[plateForm](m)
				return f.leave(m), nil
			}},
		quitting(),
	}, moving(move)...)
}

// moved echoes the line with its unit, says what is wrong with it, and goes to another one.
func (f plateForm) moved(m Model, by int) (Model, tea.Cmd) {
	f = f.echo(m)
	m.message = ""
	var cmd tea.Cmd
	f.form, cmd = f.form.Moved(by)
	f.fault, f.fresh = "", true
	return m.with(f), cmd
}

// echo puts units to bare numbers of the line.
func (f plateForm) echo(m Model) plateForm {
	was := f.form.Fields[f.form.At].Value()
	if text := wishFields()[f.form.At].echoed(was, m.units); text != was {
		f.form = f.form.Filled(text)
	}
	return f
}

// other types into a line: what it held before goes, unless the cursor was moved in it first.
func (f plateForm) other(m Model, key tea.KeyMsg) (Model, tea.Cmd) {
	var cmd tea.Cmd
	was := f.form.Fields[f.form.At].Value()
	if f.fresh && key.Type == tea.KeyRunes {
		f.form = f.form.Filled("")
	}
	f.fresh, f.fault = false, ""
	m.message = ""
	f.form, cmd = f.form.Typed(key)
	if f.form.Fields[f.form.At].Value() != was {
		f.from = slices.Clone(f.from)
		f.from[f.form.At] = fromPerson
		m.plates.unlooked = true
	}
	return m.with(f), cmd
}

// texts are the lines with units to their bare numbers.
func (f plateForm) texts(u units.System) []string {
	texts := f.form.Values()
	for i, field := range wishFields() {
		texts[i] = field.echoed(texts[i], u)
	}
	return texts
}

// kept puts the lines away for the next time.
func (f plateForm) kept(m Model) Model {
	m.plates.lines = nil
	for i, text := range f.texts(m.units) {
		m.plates.lines = append(m.plates.lines, wishLine{text, f.from[i]})
	}
	m.plates.from = m.keptFrom()
	return m.lockAsTyped(m.plates.lines[keptLine()].text)
}

func (f plateForm) leave(m Model) Model {
	m = f.kept(m).closed()
	if m.plates.found != nil && !m.platesStale() { // which it was opened over
		m.message = ""
		return m.with(plateMode{})
	}
	if m.message = ""; m.plates.unlooked {
		m.message = "what is typed stays: * goes on with it"
	}
	return m
}

// accept takes every line for the person's wish, and looks for plates.
func (f plateForm) accept(m Model) (Model, tea.Cmd) {
	w, at, err := readWish(f.texts(m.units), m.units)
	if err == nil {
		at = keptLine()
		w.Kept, err = m.keepHoles(w.keep)
	}
	if err != nil {
		f = f.echo(m)
		f.form, _ = f.form.Jumped(at)
		f.fault, f.fresh = err.Error(), true
		return m.with(f), nil
	}
	f.from = make([]origin, len(f.from))
	m, cmd := f.kept(m).searchPlates(w)
	m.message = ""
	return m.with(plateMode{}), cmd
}

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

// columns of the form: names, and what stands beside a line, where there is room.
const (
	wishNames, wishBriefNames = 25, 13
	wishNotes                 = 28
)

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

// withFault shows why the program is not left.
func (f plateForm) withFault(why string) mode {
	f.fault = why
	return f
}

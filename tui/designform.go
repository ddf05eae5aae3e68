package tui

import (
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model/units"
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

// columns of the form: names, and what stands beside a line, where there is room.
const (
	wishNames, wishBriefNames = 25, 13
	wishNotes                 = 28
)

// withFault shows why the program is not left.
func (f plateForm) withFault(why string) mode {
	f.fault = why
	return f
}

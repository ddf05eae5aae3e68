package tui

import (
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model/calibrate"
	"stanchion/model/logbook"
	"stanchion/model/units"
	"stanchion/tui/widgets"
)

// noteMode is the form for a note.
type noteMode struct {
	form  widgets.Form
	about logbook.Note // the setting that it is about, and what was predicted
}

// unsavedNote is what was typed into a note that is not on the disk.
type unsavedNote struct {
	texts []string // line by line; nil for none
	about string   // id of the setting
}

// openNote opens the form for a note about the setting on the screen. What was
// typed before and not saved is still there; the place is the last note's.
func (m Model) openNote() (Model, tea.Cmd) {
	n := noteMode{about: logbook.Blank()}
	n.about.Setting, n.about.Speed, n.about.Expected = m.row().ID, m.table.Speed, calibrate.Expected(m.table, m.row())
	last := logbook.Blank()
	if k := len(m.book.Notes); k > 0 {
		last = m.book.Notes[k-1]
	}
	for i, f := range noteFields() {
		value := ""
		switch {
		case i < len(m.draft.texts):
			value = m.draft.texts[i]
		case f.name == placeField:
			value = units.Printable(last.Venue)
		}
		n.form.Add(f.name, f.hintAfter(last, m.units), value, 500)
		n.form.Fields[i] = shownFromStart(n.form.Fields[i], max(20, m.width-formLeft))
	}
	n.form.Fields[0].Focus()
	if m.draft.texts != nil && m.draft.about != n.about.Setting {
		n.form.Fault = "What stands here was typed about " + m.settingName(m.draft.about) + " and is not saved. It would now be about the setting above."
	}
	return m.with(n), nil
}

// hintAfter is what stands in an open line: what was noted last, or an example.
func (f noteField) hintAfter(last logbook.Note, u units.System) string {
	if f.last == nil {
		return f.hint(u)
	}
	if was := f.last(last, u); was != "" {
		return "last " + was
	}
	return "such as " + f.hint(u)
}

func (noteMode) title() string { return "while a note is typed" }

func (noteMode) typing() bool { return true }

func (noteMode) bindings(m Model) []binding {
	note := func(run func(noteMode, Model) (Model, tea.Cmd)) func(Model, string) (Model, tea.Cmd) {
		return func(m Model, _ string) (Model, tea.Cmd) {
			n, _ := in[noteMode](m)
			return run(n, m)
		}
	}
	aside := binding{keys: []string{"esc", "ctrl+c"}, label: "esc goes back, what is typed stays", does: "go back; what is typed is kept",
		run: note(noteMode.putAside)}
	if m.saving { // what is on its way to the disk does not change any more
		return []binding{aside}
	}
	move := func(m Model, by int) (Model, tea.Cmd) {
		n, _ := in[noteMode](m)
		var cmd tea.Cmd
		n.form, cmd = n.form.Moved(by)
		return m.with(n), cmd
	}
	all := moving(move)
	all[0].label = "↑↓ line"
	return append(all, binding{keys: []string{"enter"}, label: "enter saves", does: "save the note", run: note(noteMode.save)}, aside)
}

// other types into the line; arrows change how it felt.
func (n noteMode) other(m Model, key tea.KeyMsg) (Model, tea.Cmd) {
	if m.saving {
		return m, nil
	}
	k := key.String()
	arrow := key.Type != tea.KeyRunes && (k == "left" || k == "right")
	if felt := noteFields()[n.form.At].felt; felt != nil && (arrow || key.Type == tea.KeyRunes || key.Type == tea.KeySpace) {
		if !arrow {
			k = widgets.Typeable(string(key.Runes))
		}
		before := n.form.Fields[n.form.At].Value()
		after, fault := felt.typed(before, k, arrow)
		n.form = n.form.Filled(after)
		n.form.Fields[n.form.At].CursorEnd()
		n.form.Fault = fault
		return n.keep(m.with(n))
	}
	var cmd, keep tea.Cmd
	n.form, cmd = n.form.Typed(key)
	m, keep = n.keep(m.with(n))
	return m, tea.Batch(cmd, keep)
}

// keep keeps what is typed into the note in its draft. The place stands there without
// anybody's typing.
func (n noteMode) keep(m Model) (Model, tea.Cmd) {
	lines := map[string]string{}
	texts := n.form.Values()
	for i, f := range noteFields() {
		if texts[i] != "" && f.name != placeField {
			lines[f.name] = texts[i]
		}
	}
	if len(lines) > 0 {
		lines[draftSetting] = n.about.Setting
		lines[placeField] = texts[len(texts)-1]
	}
	return m.keepDraft(m.src.NoteDraft, lines)
}

// putAside goes back and keeps what is typed for the next time.
func (n noteMode) putAside(m Model) (Model, tea.Cmd) {
	m, cmd := n.keep(m)
	m.draft = unsavedNote{n.form.Values(), n.about.Setting}
	m.message = "nothing is saved: m goes on with the note"
	if m.saving {
		m.message = "saving…"
	}
	return m.closed(), cmd
}

// savedMsg says that a note is on the disk, or why not.
type savedMsg struct {
	note     logbook.Note
	setAside string
	err      error
	fitted   bool          // it marks what is on the car: no note is open for it
	book     *logbook.Book // with the note in it; nil when it cannot be read now
}

// save reads the form and sends the note off to the disk. The form stays open until it is
// there.
func (n noteMode) save(m Model) (Model, tea.Cmd) {
	note := n.about
	for i, text := range n.form.Values() {
		if text == "" {
			continue
		}
		f := noteFields()[i]
		if err := f.read(&note, text, m.units); err != nil {
			var cmd tea.Cmd
			n.form, cmd = n.form.Jumped(i)
			n.form.Fault = f.name + ": " + err.Error()
			return m.with(n), cmd
		}
	}
	if err := note.Check(); err != nil {
		n.form.Fault = err.Error()
		return m.with(n), nil
	}
	if line, fault := sinkFault(note.Sink); fault != "" {
		at := slices.Index(n.form.Names, line)
		var cmd tea.Cmd
		n.form, cmd = n.form.Jumped(at)
		n.form.Fault = line + ": " + fault
		return m.with(n), cmd
	}
	m.saving = true
	add, notes := m.src.AddNote, m.src.Notes
	return m, func() tea.Msg {
		var msg savedMsg
		if msg.note, msg.setAside, msg.err = add(note); msg.err != nil {
			return msg
		}
		if b, err := notes(); err == nil {
			msg.book = &b
		}
		return msg
	}
}

// take hears the answer of the disk. When it is a fault, what was typed stays.
func (msg savedMsg) take(m Model) (Model, tea.Cmd) {
	m.saving = false
	if msg.fitted {
		if msg.err != nil {
			m.message = "the notebook does not say so: " + strings.ReplaceAll(msg.err.Error(), "\n", "; ")
			return m, nil
		}
		if msg.book != nil {
			m = m.withBook(*msg.book)
		}
		m.message = "marked in the notebook as on the car"
		return m.pick()
	}
	n, open := in[noteMode](m)
	if msg.err != nil {
		fault := "not saved: " + strings.ReplaceAll(msg.err.Error(), "\n", "; ")
		if !open {
			m.message = fault + ": m goes on with the note"
			return m, nil
		}
		n.form.Fault = fault + ". What is typed is still here: enter tries again."
		return m.with(n), nil
	}
	m.draft = unsavedNote{}
	if open {
		m = m.closed()
	}
	m.message = "saved as " + msg.note.ID
	if msg.setAside != "" {
		m.message += "; a note that was cut short is set aside in " + msg.setAside
	}
	if msg.book != nil {
		m = m.withBook(*msg.book)
	}
	return m.keepDraft(m.src.NoteDraft, nil)
}

// settingName is what a setting is called; its id where the car has it no longer.
func (m Model) settingName(id string) string {
	if m.table == nil {
		return units.Printable(id)
	}
	return units.Printable(m.table.NameOf(id))
}

func needsNotebook(m Model) string {
	switch {
	case m.saving:
		return "the note before is still being saved"
	case m.src.AddNote == nil:
		return "a demo car has no notebook: stanchion new FILE --demo NAME makes a car file"
	case m.book.Newer:
		return logbook.ErrNewer.Error()
	}
	return needsRows(m)
}

// view draws the form over the whole screen.
func (n noteMode) view(m Model) (string, bool) {
	about := fmt.Sprintf("a note about %s, %s°: %s", m.units.Length(n.about.Expected.Height), units.Fixed(n.about.Expected.Angle, 1),
		m.settingName(n.about.Setting))
	foot := m.footerOf(n)
	if m.saving {
		foot = "saving…"
	}
	above := append([]string{titleStyle.Render(about), ""}, append(widgets.Wrap(n.heard(), m.width), "")...)
	if m.height < 28 { // so that a fault has room below
		above = append([]string{titleStyle.Render(about)}, widgets.Wrap(n.heard(), m.width)...)
	}
	room := m.height - 2 - len(above)
	if n.form.Fault != "" {
		room -= len(widgets.Wrap(n.form.Fault, m.width))
	}
	return n.cut(room).View(above, foot, m.width, m.height, m.glyphs), true
}

func (n noteMode) with(f widgets.Form) mode {
	n.form = f
	return n
}

func (n noteMode) tell(w *walker) { w.tellForm(n.form, n.with) }

func (n noteMode) typed(w *walker, text string) {
	w.typeInForm(n.form, text, n.with, func() {
		n, _ := in[noteMode](w.m)
		m, keep := n.keep(w.m)
		w.m = m
		w.run(keep)
	})
}

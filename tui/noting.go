package tui

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model"
	"stanchion/model/calibrate"
	"stanchion/model/logbook"
	"stanchion/model/units"
	"stanchion/tui/widgets"
)

// noteMode is the form for a note: a new one, or one that corrects another.
type noteMode struct {
	form   widgets.Form
	fields []noteField
	about  logbook.Note // the setting with what was predicted, and what is noted without anything typed; of a correction the note as it was
	first  []string     // of a correction: what stood in the lines at first; nil for a new note
	back   mode         // what it goes back to; nil for the walk
	warned bool         // that ctrl+n drops what is typed
}

// unsavedNote is what was typed into a note that is not on the disk.
type unsavedNote struct {
	lines    map[string]string // by the keys of their lines; empty for none
	about    string            // id of the setting
	replaces string            // id of the note that it corrects; "" for none
}

// openNote opens the form for a note about the setting on the screen.
func (m Model) openNote() (Model, tea.Cmd) { return m.openNoteAbout(m.row(), nil) }

// openNoteAbout opens the form for a note about a setting, over what is open. What was typed before and not
// saved is still there; what stays as it was stands there as noted last.
func (m Model) openNoteAbout(r *model.Row, back mode) (Model, tea.Cmd) {
	if m.draft.replaces != "" {
		if old, err := m.book.Replaceable(m.draft.replaces); err == nil {
			return m.openCorrection(old, back)
		}
		m.draft.replaces = "" // another one has replaced it: what was typed is a note of its own
	}
	n := noteMode{about: m.carried("", r.ID), fields: noteFields(m.car), back: back}
	n.about.Setting, n.about.Speed, n.about.Expected = r.ID, m.table.Speed, calibrate.Expected(m.table, r)
	n = n.filled(m, m.draft.lines, nil)
	if len(m.draft.lines) > 0 && m.draft.about != n.about.Setting {
		n.form.Fault = "What stands here was typed about " + m.settingName(m.draft.about) + " and is not saved. It would now be about the setting above."
	}
	return m.with(n.refreshed(m)), nil
}

// openCorrection opens the form with a note in it: what is changed there is saved as a note that replaces it.
func (m Model) openCorrection(old logbook.Note, back mode) (Model, tea.Cmd) {
	if len(m.draft.lines) > 0 && m.draft.replaces != old.ID {
		m.message = "a note about " + m.draftName() + " is not saved: m goes on with it, ctrl+n there drops it"
		return m, nil
	}
	n := noteMode{about: old, back: back}
	n.about.Replaces = old.ID
	n.fields = append(noteFields(m.car), settingField(m.table))
	var first []string
	for _, f := range n.fields {
		first = append(first, f.spell(old, m.units))
	}
	n = n.filled(m, m.draft.lines, first)
	if len(m.draft.lines) > 0 {
		n.form.Fault = "What is changed here was typed before and is not saved."
	}
	return m.with(n.refreshed(m)), nil
}

// filled puts texts into the lines: those of a draft, or else those at first.
func (n noteMode) filled(m Model, lines map[string]string, first []string) noteMode {
	n.form = widgets.Form{}
	for i, f := range n.fields {
		value := ""
		if first != nil {
			value = first[i]
		}
		n.form.Add(f.name, "", value, max(500, len(value)+200))
		if first != nil {
			n.first = append(n.first, n.form.Values()[i])
		}
	}
	for i, text := range draftTexts(n.fields, lines) {
		if _, typed := lines[n.fields[i].draftKey()]; typed || text != "" {
			n.form.Fields[i].SetValue(text)
		}
	}
	for i := range n.form.Fields {
		n.form.Fields[i] = shownFromStart(n.form.Fields[i], max(16, m.width-n.nameWidth(m)-3))
	}
	n.form.Fields[0].Focus()
	return n
}

// corrects reports whether the note replaces another.
func (n noteMode) corrects() bool { return n.first != nil }

// changed reports whether something is typed into a line, or of a correction whether it says something else.
func (n noteMode) changed(line int) bool {
	text := strings.TrimSpace(n.form.Fields[line].Value())
	if n.corrects() {
		return text != n.first[line]
	}
	return text != ""
}

// lines are what is typed, by the keys of the lines.
func (n noteMode) lines() map[string]string {
	lines := map[string]string{}
	for i := range n.fields {
		if n.changed(i) {
			lines[n.fields[i].draftKey()] = n.form.Values()[i]
		}
	}
	return lines
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
	if m.width < 80 {
		aside.label = "esc back"
	}
	if m.saving { // what is on its way to the disk does not change any more
		return []binding{aside}
	}
	move := func(m Model, by int) (Model, tea.Cmd) {
		n, _ := in[noteMode](m)
		return n.to(m, (n.form.At+by+len(n.fields))%len(n.fields))
	}
	heading := func(by int) func(noteMode, Model) (Model, tea.Cmd) {
		return func(n noteMode, m Model) (Model, tea.Cmd) { return n.to(m, n.headingFrom(by)) }
	}
	all := moving(move)
	all[0].label = "↑↓ line"
	return append(all,
		binding{keys: []string{"pgdown"}, label: "pgdn heading", does: "the next heading", run: note(heading(1))},
		binding{keys: []string{"pgup"}, does: "the heading before", run: note(heading(-1))},
		binding{keys: []string{"enter"}, label: "enter saves", does: "save the note", run: note(noteMode.save)}, aside,
		binding{keys: []string{"ctrl+n"}, does: "drop what is typed and begin anew; pressed twice", run: note(noteMode.anew)})
}

// to goes to a line, and says what is wrong with the one that is left.
func (n noteMode) to(m Model, line int) (Model, tea.Cmd) {
	left := n.form.At
	var cmd tea.Cmd
	n.warned = false
	n.form, cmd = n.form.Jumped(line)
	n.form.Fault = n.fault(m, left)
	return m.with(n), cmd
}

// headingFrom is the first line below the next heading, or the one before.
func (n noteMode) headingFrom(by int) int {
	var starts []int
	now := 0
	for i := range n.fields {
		if i == 0 || n.fields[i].group != n.fields[i-1].group {
			starts = append(starts, i)
		}
		if i == n.form.At {
			now = len(starts) - 1
		}
	}
	if by < 0 && starts[now] != n.form.At { // first to the beginning of its own
		return starts[now]
	}
	return starts[(now+by+len(starts))%len(starts)]
}

// anew drops what is typed, when it is pressed twice. A note that was to be corrected is left as it is, and a new
// one begun.
func (n noteMode) anew(m Model) (Model, tea.Cmd) {
	if len(n.lines()) > 0 && !n.warned {
		n.warned = true
		n.form.Fault = "ctrl+n again drops what is typed"
		return m.with(n), nil
	}
	r, ok := m.table.Find(n.about.Setting)
	if !ok {
		r = m.row()
	}
	m.draft = unsavedNote{}
	m, drop := m.keepDraft(m.src.NoteDraft, nil)
	if r == nil {
		return m.with(n.back), drop
	}
	m, cmd := m.openNoteAbout(r, n.back)
	return m, tea.Batch(drop, cmd)
}

// other types into the line; arrows change how it felt, walk the steps of an adjustment, and take what stands there
// from the last note over to be edited.
func (n noteMode) other(m Model, key tea.KeyMsg) (Model, tea.Cmd) {
	if m.saving {
		return m, nil
	}
	k := key.String()
	f, before := n.fields[n.form.At], n.form.Fields[n.form.At].Value()
	by, arrow := map[string]int{"left": -1, "right": 1}[k]
	arrow = arrow && key.Type != tea.KeyRunes
	switch {
	case f.felt != nil && (arrow || key.Type == tea.KeyRunes || key.Type == tea.KeySpace):
		if !arrow {
			k = widgets.Typeable(string(key.Runes))
			if n.corrects() && !n.changed(n.form.At) && k != " " { // what stood there is not added to
				before = ""
			}
		}
		return n.typedOver(m, f.felt.typed(before, k, arrow))
	case f.steps != nil && arrow:
		if before == "" {
			before = f.spell(n.about, m.units)
		}
		return n.typedOver(m, f.stepped(before, by))
	case k == "right" && arrow && before == "" && n.standing(m, n.form.At) != "":
		return n.typedOver(m, f.spell(n.about, m.units))
	}
	var cmd, keep tea.Cmd
	n.warned = false
	n.form, cmd = n.form.Typed(key)
	m, keep = n.keep(m.with(n.refreshed(m)))
	return m, tea.Batch(cmd, keep)
}

// typedOver puts a text into the line that is typed into.
func (n noteMode) typedOver(m Model, text string) (Model, tea.Cmd) {
	n.form = n.form.Filled(text)
	n.form.Fields[n.form.At].CursorEnd()
	n.form.Fault, n.warned = "", false
	return n.keep(m.with(n.refreshed(m)))
}

// keep keeps what is typed into the note in its draft.
func (n noteMode) keep(m Model) (Model, tea.Cmd) {
	lines := n.lines()
	if len(lines) > 0 {
		lines[draftSetting] = n.about.Setting
		if n.corrects() {
			lines[draftReplaces] = n.about.Replaces
		}
	}
	return m.keepDraft(m.src.NoteDraft, lines)
}

// putAside goes back and keeps what is typed for the next time.
func (n noteMode) putAside(m Model) (Model, tea.Cmd) {
	m, cmd := n.keep(m)
	m.message = ""
	if m.draft = (unsavedNote{}); len(n.lines()) > 0 {
		m.draft = unsavedNote{n.lines(), n.about.Setting, ""}
		if n.corrects() {
			m.draft.replaces = n.about.Replaces
		}
		m.message = "nothing is saved: m goes on with the note"
	}
	if m.saving {
		m.message = "saving…"
	}
	return m.with(n.back), cmd
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

func (n noteMode) with(f widgets.Form) mode {
	n.form = f
	return n
}

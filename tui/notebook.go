package tui

import (
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model"
	"stanchion/model/logbook"
	"stanchion/model/units"
	"stanchion/tui/widgets"
)

// notebookMode is the list of notes, the newest first.
type notebookMode struct {
	at        int
	marked    []string // ids of notes that are to be compared, two at most
	input     widgets.Field
	filtering bool // what is typed goes into the filter
	back      mode // a page that it was opened from; nil for the walk
	told      bool // in words: the list was told
	list      *listed
}

// openNotebook opens the list at the newest note.
func (m Model) openNotebook() (Model, tea.Cmd) {
	b := notebookMode{input: widgets.NewField("setting, place, date, word", 60), list: &listed{}}
	if p, ok := in[pageMode](m); ok && p.sheet != "" {
		b.back = p
	}
	return m.with(b), nil
}

// filter is what is looked for.
func (b notebookMode) filter() string { return strings.TrimSpace(b.input.Value()) }

// listed are the notes that a filter found last; they hang on what they were found from alone.
type listed struct {
	filter string
	read   int
	of     *model.Table
	units  units.System
	notes  []logbook.Note
}

// notes are those that the filter finds, the newest first: of the settings that it names, or else those that have all
// of its words.
func (b notebookMode) notes(m Model) []logbook.Note {
	k := b.list
	if k == nil {
		k = &listed{}
	}
	if k.of != m.table || k.read != m.bookRead || k.filter != b.filter() || k.units != m.units || len(k.notes) == 0 {
		*k = listed{b.filter(), m.bookRead, m.table, m.units, m.found(b.filter())}
	}
	return k.notes
}

// found are the notes that a filter finds, the newest first.
func (m Model) found(filter string) (found []logbook.Note) {
	words, names, of := strings.Fields(strings.ToLower(filter)), map[string]string{}, map[string]bool{}
	if len(words) > 0 && m.table != nil {
		for _, r := range m.table.Named(splitWords(filter)) {
			of[r.ID] = true
			for _, id := range r.AlternativeIDs() {
				of[id] = true
			}
		}
	}
	for i := len(m.book.Notes) - 1; i >= 0; i-- {
		n := m.book.Notes[i]
		if len(of) > 0 {
			if of[n.Setting] {
				found = append(found, n)
			}
			continue
		}
		if _, known := names[n.Setting]; !known {
			names[n.Setting] = m.settingName(n.Setting)
		}
		text := strings.ToLower(strings.Join([]string{n.ID, n.At.Format("2 Jan 2006 15:04"), names[n.Setting], n.Setting, n.Venue, n.Brief(m.units), n.ChangedBy}, " "))
		if !slices.ContainsFunc(words, func(w string) bool { return !strings.Contains(text, w) }) {
			found = append(found, n)
		}
	}
	return found
}

// note is the marked note; not ok where the filter finds none.
func (b notebookMode) note(m Model) (logbook.Note, bool) {
	notes := b.notes(m)
	if len(notes) == 0 {
		return logbook.Blank(), false
	}
	return notes[min(b.at, len(notes)-1)], true
}

func (notebookMode) title() string { return "in the notebook" }

func (b notebookMode) typing() bool { return b.filtering }

// onNote is a key that does something with the marked note.
func onNote(run func(m Model, b notebookMode, n logbook.Note) (Model, tea.Cmd)) func(Model, string) (Model, tea.Cmd) {
	return func(m Model, _ string) (Model, tea.Cmd) {
		b, _ := in[notebookMode](m)
		m.message = ""
		n, ok := b.note(m)
		if !ok {
			m.message = "no note here"
			return m, nil
		}
		return run(m, b, n)
	}
}

func (b notebookMode) bindings(m Model) []binding {
	move := func(by int) func(Model, string) (Model, tea.Cmd) {
		return func(m Model, _ string) (Model, tea.Cmd) {
			b, _ := in[notebookMode](m)
			m.message = ""
			b.at = max(min(b.at, len(b.notes(m))-1), 0)
			b.at = min(max(b.at+by, 0), max(len(b.notes(m))-1, 0))
			return m.with(b), nil
		}
	}
	if b.filtering {
		end := func(keep bool) func(Model, string) (Model, tea.Cmd) {
			return func(m Model, _ string) (Model, tea.Cmd) {
				b, _ := in[notebookMode](m)
				b.filtering = false
				b.input.Blur()
				if !keep {
					b.input.SetValue("")
				}
				return m.with(b), nil
			}
		}
		return []binding{
			{keys: []string{"enter"}, label: "enter keeps the filter", does: "keep the filter", run: end(true)},
			{keys: []string{"esc", "ctrl+c"}, label: "esc shows all", does: "drop the filter", run: end(false)},
			{keys: []string{"down"}, does: "the note below", run: move(1)},
			{keys: []string{"up"}, does: "the note above", run: move(-1)},
		}
	}
	page := func(open func(Model) (Model, tea.Cmd)) func(Model, string) (Model, tea.Cmd) {
		return func(m Model, _ string) (Model, tea.Cmd) {
			m.message = ""
			return open(m)
		}
	}
	return []binding{
		{keys: []string{"down", "j"}, does: "the note below", run: move(1)},
		{keys: []string{"up", "k"}, does: "the note above", run: move(-1)},
		{keys: []string{"pgdown"}, does: "ten below", run: move(10)},
		{keys: []string{"pgup"}, does: "ten above", run: move(-10)},
		{keys: []string{"home"}, does: "the newest", run: move(-1 << 30)},
		{keys: []string{"end"}, does: "the oldest", run: move(1 << 30)},
		{keys: []string{"enter"}, label: "enter show", does: "the note whole, with what was predicted then and now", run: onNote(Model.showNote)},
		{keys: []string{" "}, label: "space mark", does: "mark the note to be compared, or no longer; two at most", run: onNote(markNote)},
		{keys: []string{"c"}, label: "c compare", does: "compare the two that are marked, or the marked one with this", run: onNote(compareNotes)},
		{keys: []string{"m"}, label: "m note", does: "a new note about this one's setting", run: onNote(noteAgain)},
		{keys: []string{"e"}, label: "e correct", does: "correct the note: a new one that replaces it", run: onNote(correctNote)},
		{keys: []string{"g"}, label: "g go there", does: "go to its setting on the map", run: onNote(goToNoted)},
		{keys: []string{"/"}, label: "/ filter", does: "list the notes that have some words", run: func(m Model, _ string) (Model, tea.Cmd) {
			b, _ := in[notebookMode](m)
			b.filtering, b.at, b.told = true, 0, false
			cmd := b.input.Focus()
			return m.with(b), cmd
		}},
		{keys: []string{"l", "\""}, label: "l laps", does: "laps of these notes by setting: which was faster", run: page(Model.openLaps)},
		{keys: []string{"n", "L"}, label: "n next", does: "which setting to try next", run: page(Model.openNext)},
		{keys: []string{"f", "S"}, label: "f fit", does: "what the track tells of the figures", run: page(Model.openFit)},
		{keys: []string{"x"}, label: "x export", does: "the notebook as Markdown or CSV into a file", run: page(Model.askExport)},
		{keys: []string{"u"}, does: "switch units", run: func(m Model, _ string) (Model, tea.Cmd) { return m.switchUnits() }},
		{keys: []string{"esc", "q", "backspace", "M"}, label: "esc back", does: "go back", run: func(m Model, _ string) (Model, tea.Cmd) {
			b, _ := in[notebookMode](m)
			m.message = ""
			return m.with(b.back), nil
		}},
		quitting(),
	}
}

func (b notebookMode) other(m Model, key tea.KeyMsg) (Model, tea.Cmd) {
	if !b.filtering {
		m.message = "? at home lists all keys; esc goes back"
		return m, nil
	}
	var cmd tea.Cmd
	b.input, cmd = widgets.TypeInto(b.input, key)
	b.at = 0
	return m.with(b), cmd
}

// markNote marks the note to be compared; a third mark takes the place of the first.
func markNote(m Model, b notebookMode, n logbook.Note) (Model, tea.Cmd) {
	if i := slices.Index(b.marked, n.ID); i >= 0 {
		b.marked = slices.Delete(slices.Clone(b.marked), i, i+1)
	} else {
		b.marked = append(slices.Clone(b.marked), n.ID)
	}
	b.marked = b.marked[max(len(b.marked)-2, 0):]
	m.message = map[int]string{0: "no note is marked", 1: "marked: c on another note compares the two", 2: "two are marked: c compares them"}[len(b.marked)]
	return m.with(b), nil
}

// noteAgain opens the form about the setting of a note.
func noteAgain(m Model, b notebookMode, n logbook.Note) (Model, tea.Cmd) {
	if m.message = needsNotebook(m); m.message != "" {
		return m, nil
	}
	r, ok := m.table.Find(n.Setting)
	if !ok {
		m.message = gone(n)
		return m, nil
	}
	return m.openNoteAbout(r, b)
}

// correctNote opens the form with the note in it.
func correctNote(m Model, b notebookMode, n logbook.Note) (Model, tea.Cmd) {
	if m.message = needsNotebook(m); m.message != "" {
		return m, nil
	}
	return m.openCorrection(n, b)
}

// goToNoted goes to the setting of a note on the map.
func goToNoted(m Model, _ notebookMode, n logbook.Note) (Model, tea.Cmd) {
	if _, ok := m.table.Index(n.Setting); !ok {
		m.message = gone(n)
		return m, nil
	}
	m = m.closed().show(n.Setting)
	m.message = "the setting of note " + plainText(n.ID)
	return m, nil
}

func gone(n logbook.Note) string {
	return "the car file no longer has the setting of note " + plainText(n.ID)
}

func (b notebookMode) tell(w *walker) {
	m := w.m
	notes := b.notes(m)
	if b.filtering {
		w.say("Words that the notes are to have, or an empty line for all:")
		return
	}
	if !b.told {
		w.say("%s", b.head(m))
		for i, n := range notes {
			if i == 30 {
				w.say("and %d older: down goes on, / filters", len(notes)-i)
				break
			}
			w.say("%s", plainText(strings.Join(n.Parts(m.settingName(n.Setting), m.units), "  ")))
		}
		b.told = true
		w.m = m.with(b)
	}
	if n, ok := b.note(m); ok {
		w.say("At note %d of %d: %s", min(b.at, len(notes)-1)+1, len(notes), plainText(strings.Join(n.Parts(m.settingName(n.Setting), m.units), "  ")))
	}
	w.say("down and up go through them; enter shows one, space marks, c compares, m notes another run, e corrects, g goes to its setting, / filters, l laps, n next setting, f fit, x export, esc goes back.")
}

func (b notebookMode) typed(w *walker, text string) {
	b.input.SetValue(widgets.Typeable(text))
	b.at, b.told = 0, false
	w.m = w.m.with(b)
	w.pass(tea.KeyMsg{Type: tea.KeyEnter})
	w.tell()
}

// head says how many notes there are, and which are listed.
func (b notebookMode) head(m Model) string {
	all := units.Count(len(m.book.Notes), "note")
	text := "notebook, the newest first: " + all
	if f := b.filter(); f != "" {
		text = fmt.Sprintf("notebook: %d of %s have %q", len(b.notes(m)), all, f)
	}
	if slices.ContainsFunc(m.book.Notes, m.isHere) && !m.words {
		text += ", • of this setting"
	}
	return text
}

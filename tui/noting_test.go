package tui

import (
	"errors"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"stanchion/model/logbook"
	"stanchion/model/words"
)

// withNotebook returns the demo's explorer with a real notebook beside it.
func withNotebook(t testing.TB, w, h int) Model {
	t.Helper()
	m := opened(t, "coupe", w, h)
	path := filepath.Join(t.TempDir(), "car.notes.toml")
	m.src.Notebook = path
	m.src.Notes = func() (logbook.Book, error) { return logbook.Read(path) }
	m.src.AddNote = func(n logbook.Note) (logbook.Note, string, error) {
		n.At = time.Date(2026, 11, 20, 10, 0, 0, 0, time.UTC)
		return logbook.Append(path, n)
	}
	return m
}

// press passes a key and the answer of what it asks for, if that is a note.
func press(m Model, name string) Model {
	next, cmd := m.Update(keyMsg(name))
	m = next.(Model)
	if m.saving && cmd != nil {
		m = send(m, cmd())
	}
	return m
}

func typeNote(m Model, names ...string) Model {
	for _, n := range names {
		m = press(m, n)
	}
	return m
}

// A note takes a few keys and the person is back where they were; the map then
// shows what was run, and how it felt.
func TestNoting(t *testing.T) {
	m := withNotebook(t, 80, 24)
	id := m.row().ID
	m = typeNote(m, "m", "right", "right", "down", "left", "left", "down", "down", "down", "w", "e", "t")
	for _, s := range sizes {
		golden(t, "note-form-"+s.name, send(m, tea.WindowSizeMsg{Width: s.w, Height: s.h}))
	}
	m = typeNote(m, "enter")
	if !m.walking() || m.message != "saved as 2026-11-20.1" || m.row().ID != id {
		t.Fatalf("open %v at %s: %q", m.open, m.row().ID, m.message)
	}
	b, err := m.src.Notes()
	if err != nil || len(b.Notes) != 1 {
		t.Fatalf("%d notes on the disk, %v", len(b.Notes), err)
	}
	n := b.Notes[0]
	if n.Setting != id || n.Feel.Fast != logbook.Whole(1) || n.Feel.Slow != logbook.Whole(-1) || n.Feel.Braking != logbook.NoFeel || n.Text != "wet" {
		t.Errorf("noted %+v", n)
	}
	if n.Expected.Downforce != m.row().Downforce || n.Speed != m.table.Speed {
		t.Errorf("predicted then: %+v; shown: %.1f N at %.1f m/s", n.Expected, m.row().Downforce, m.table.Speed)
	}
	m = keys(t, m, "left")
	for _, s := range sizes {
		golden(t, "note-ran-"+s.name, send(m, tea.WindowSizeMsg{Width: s.w, Height: s.h}))
		golden(t, "notes-"+s.name, keys(t, send(m, tea.WindowSizeMsg{Width: s.w, Height: s.h}), "M"))
	}
	back := keys(t, m, "right")
	if !strings.Contains(back.View(), "run 20 Nov: slight oversteer") || !strings.Contains(strings.Join(words.Describe(back.table, back.row(), back.units), "\n")+strings.Join(back.ranLines(), "\n"), "slight oversteer in fast corners; slight understeer in slow corners  wet") {
		t.Error("nothing says that the setting was run")
	}
}

// When the disk is full, what was typed is still there, and is saved later.
func TestNoteWhenTheDiskIsFull(t *testing.T) {
	m := withNotebook(t, 80, 24)
	works := m.src.AddNote
	m.src.AddNote = func(n logbook.Note) (logbook.Note, string, error) {
		n.ID = "2026-11-20.1" // as far as it came before the disk was full
		return n, "", errors.New("the note is not saved: no space left on device")
	}
	m = typeNote(m, "m", "o", "down", "down", "down", "down", "h", "i", "enter")
	if !isOpen[noteMode](m) || !strings.Contains(m.View(), "no space left on device") || !strings.Contains(m.View(), "hi") {
		t.Fatalf("after a full disk:\n%s", m.View())
	}
	m = typeNote(m, "esc")
	if m, cmd := m.press("q"); cmd != nil || !strings.Contains(m.message, "a note is not saved") {
		t.Errorf("q drops a note without a word: %q", m.message)
	}
	m.src.AddNote = works
	m = typeNote(keys(t, m, "left"), "m", "enter")
	if b, _ := m.src.Notes(); len(b.Notes) != 1 || b.Notes[0].Text != "hi" || b.Notes[0].Feel.Fast != logbook.Whole(1) || b.Notes[0].Setting != m.row().ID {
		t.Errorf("saved later: %+v, %q", b.Notes, m.message)
	}
	if _, cmd := m.press("q"); cmd == nil {
		t.Error("q does not leave after the note is saved")
	}
}

// Two presses of enter are one note.
func TestNoteIsSavedOnce(t *testing.T) {
	m := withNotebook(t, 80, 24)
	next, first := typeNote(m, "m", "o").Update(keyMsg("enter"))
	next, second := next.Update(keyMsg("enter"))
	if first == nil || second != nil {
		t.Fatal("the second enter saves again")
	}
	m = send(next.(Model), first())
	if len(m.book.Notes) != 1 {
		t.Errorf("%d notes", len(m.book.Notes))
	}
}

// Few keys fill the lines for how it felt: arrows step the last thing on a line, letters and digits
// are typed.
func TestFeltKeys(t *testing.T) {
	for _, c := range []struct {
		line feltLine
		keys []string
		want string
	}{
		{cornerLine, []string{"left"}, "n"}, {cornerLine, []string{"right", "right", "right"}, "o2"}, {cornerLine, []string{"left", "left", "left", "left", "left"}, "u3"},
		{cornerLine, []string{"u", "u"}, "uu"}, {cornerLine, []string{"u", "2", " ", "n", " ", "right", "right"}, "u2 n o1"}, {cornerLine, []string{"o", " ", "g", "2"}, "o g2"},
		{cornerLine, []string{"1,42"}, "1,42"}, {cornerLine, []string{"w", "right"}, "w"},
		{stabilityLine, []string{"left"}, "0"}, {stabilityLine, []string{"left", "left", "left"}, "-2"}, {stabilityLine, []string{"right", "right"}, "0"},
		{stabilityLine, []string{"2"}, "2"}, {stabilityLine, []string{"2", "1"}, "1"}, {stabilityLine, []string{"1", "-", "2"}, "-2"}, {stabilityLine, []string{"x", "y"}, "xy"},
		{stabilityLine, []string{"2", " "}, "2"},
	} {
		text := ""
		for _, k := range c.keys {
			text = c.line.typed(text, k, k == "left" || k == "right")
		}
		if text != c.want {
			t.Errorf("%q makes %q, want %q", c.keys, text, c.want)
		}
	}
	m := typeNote(withNotebook(t, 80, 24), "m", "u", "1", " ", "n", " ", "o", "o")
	if view := strings.Join(strings.Fields(ansi.Strip(m.View())), " "); !strings.Contains(view, "fast corners: slight understeer at entry, neutral in the middle, clear oversteer at exit") {
		t.Errorf("nothing says how it is understood:\n%s", view)
	}
	if m := typeNote(withNotebook(t, 80, 24), "m", "n", "backspace"); as[noteMode](m).form.Fields[0].Value() != "" {
		t.Error("what is typed cannot be taken out again")
	}
	if m := typeNote(withNotebook(t, 80, 24), "m", "u", "1", " ", "n", "backspace", "backspace", "backspace", "2", "left"); as[noteMode](m).form.Fields[0].Value() != "u3" {
		t.Errorf("after taking back: %q", as[noteMode](m).form.Fields[0].Value())
	}
	full := typeNote(withNotebook(t, 80, 24), "m", "o", "1", " ", "o", "2", " ", "n", " ", "g", "1", "down", "n", "down", "left", "left", "down", "0", "pgdown", "pgdown", "down", "B", "pgdown", "down", "m", "e", "down", "d", "a", "m", "p", "enter")
	b, _ := full.src.Notes()
	if len(b.Notes) != 1 {
		t.Fatalf("%d notes: %q", len(b.Notes), as[noteMode](full).form.Fault)
	}
	n := b.Notes[0]
	if n.Feel.Fast != (logbook.Corner{Entry: 1, Middle: 2, Exit: 0, Grip: -1}) || n.Feel.Slow != logbook.Whole(0) || n.Feel.Braking != -1 || n.Feel.Straight != 0 ||
		n.TyreSet != "B" || n.Driver != "me" || n.Track != logbook.TrackDamp {
		t.Errorf("noted %+v, %q, %q, %q", n.Feel, n.TyreSet, n.Driver, n.Track)
	}
}

// A fault is shown when its line is left or saved, not while a word is typed; what can be read has none.
func TestFaultWhenTheLineIsLeft(t *testing.T) {
	for _, c := range []struct{ text, fault string }{
		{"slight understeer", ""}, {"u1 n o2", ""}, {"slight under", "slight, clear or strong goes before understeer"}, {"u4", "give u1 to u3"}, {"pushing", "words go into the line"},
	} {
		m := typeNote(withNotebook(t, 80, 24), "m")
		for _, r := range c.text {
			if m = press(m, string(r)); as[noteMode](m).form.Fault != "" {
				t.Errorf("%q: a fault while %q is typed: %s", c.text, as[noteMode](m).form.Fields[0].Value(), as[noteMode](m).form.Fault)
			}
		}
		for _, key := range []string{"down", "tab", "up"} {
			left := as[noteMode](press(m, key)).form
			if (left.Fault != "") != (c.fault != "") || !strings.Contains(left.Fault, c.fault) || left.At == 0 {
				t.Errorf("%q left by %s: %q, want %q", c.text, key, left.Fault, c.fault)
			}
		}
		saved := press(m, "enter")
		if isOpen[noteMode](saved) != (c.fault != "") || c.fault != "" && !strings.Contains(as[noteMode](saved).form.Fault, c.fault) {
			t.Errorf("%q saved: %q", c.text, saved.message)
		}
	}
	lap := typeNote(withNotebook(t, 80, 24), "m", "down", "down", "down", "down", "down", "1", ":", "down")
	if fault := as[noteMode](lap).form.Fault; !strings.Contains(fault, "lap time: ") {
		t.Errorf("a lap time of 1: is left: %q", fault)
	}
}

// An empty form is no note, nor is one in which only the place stands that was noted before.
func TestNothingTypedIsNoNote(t *testing.T) {
	m := typeNote(withNotebook(t, 80, 24), "m", "enter")
	if !isOpen[noteMode](m) || m.saving || len(m.book.Notes) != 0 || !strings.Contains(m.View(), "Nothing is typed, so nothing is noted.") {
		t.Errorf("an empty form: %d notes, %q\n%s", len(m.book.Notes), m.message, m.View())
	}
	last := logbook.Blank()
	last.Venue, last.Setting = "north circuit", m.row().ID
	placed := withNotebook(t, 80, 24)
	placed = typeNote(placed.withBook(logbook.Book{Notes: []logbook.Note{last}}), "m", "enter")
	if n := as[noteMode](placed); n.form.Fault == "" || n.about.Venue != "north circuit" || slices.ContainsFunc(n.form.Values(), func(s string) bool { return s != "" }) {
		t.Errorf("what stands from the last note alone is saved: %q", placed.message)
	}
	if other := typeNote(placed, "n", "enter"); isOpen[noteMode](other) || other.book.Notes[0].Venue != "north circuit" {
		t.Errorf("a feel is not saved, or not where it was: %q, %+v", as[noteMode](other).form.Fault, other.book.Notes)
	}
}

// ctrl+c where something typed would be lost says so once, and what is open stays.
func TestCtrlCAsksOnce(t *testing.T) {
	m := keys(t, opened(t, "coupe", 80, 24), "i", "3", "0", "0")
	asked, cmd := m.Update(keyMsg("ctrl+c"))
	if a := asked.(Model); cmd != nil || !isOpen[targetMode](a) || !strings.Contains(strings.Join(strings.Fields(ansi.Strip(a.View())), " "), "ctrl+c again drops what is typed") {
		t.Errorf("in the form for a target:\n%s", a.View())
	}
	if _, cmd = asked.Update(keyMsg("ctrl+c")); cmd == nil {
		t.Error("ctrl+c again does not leave")
	}
	if _, cmd = keys(t, opened(t, "coupe", 80, 24), "i").Update(keyMsg("ctrl+c")); cmd == nil {
		t.Error("ctrl+c in an untouched form does not leave")
	}
	put := keys(t, m, "esc")
	if a, cmd := put.Update(keyMsg("q")); cmd != nil || !strings.Contains(a.(Model).message, "the target that was typed is not taken") {
		t.Errorf("a target put aside is dropped: %q", a.(Model).message)
	}
	page := keys(t, put, "?")
	asked, cmd = page.Update(keyMsg("ctrl+c"))
	if a := asked.(Model); cmd != nil || !isOpen[pageMode](a) || !strings.Contains(a.View(), "ctrl+c again drops it") {
		t.Errorf("on a page:\n%s", a.View())
	}
	if _, cmd = asked.Update(keyMsg("ctrl+c")); cmd == nil {
		t.Error("ctrl+c again on a page does not leave")
	}
}

// A draft of the form as it was before keeps what was typed in lines that are no longer there.
func TestDraftOfAnOlderForm(t *testing.T) {
	fields := noteFields(nil)
	texts := draftTexts(fields, map[string]string{"fast corners: front grip": "2", "anything else": "wet", draftSetting: "x", "lap time": "1:40", "ride heights at speed": "180", "place": "here"})
	for i, f := range fields {
		want := map[string]string{elseField: "wet fast corners: front grip 2", "lap time": "1:40", sinkSpeedField: "180", placeField: "here"}[f.name]
		if texts[i] != want {
			t.Errorf("%s: %q, want %q", f.name, texts[i], want)
		}
	}
}

// While a note is on its way to the disk, nothing can be typed that its arrival
// would take away.
func TestNothingIsTypedWhileSaving(t *testing.T) {
	m := withNotebook(t, 80, 24)
	next, save := typeNote(m, "m", "n").Update(keyMsg("enter"))
	m = send(next.(Model), keyMsg("2"))
	if got := as[noteMode](m).form.Fields[0].Value(); got != "n" {
		t.Errorf("typed while saving: %q", got)
	}
	m = send(send(m, keyMsg("esc")), keyMsg("m"))
	if !m.walking() || !strings.Contains(m.message, "still being saved") {
		t.Errorf("a second note while saving: mode %v, %q", m.open, m.message)
	}
	m = send(m, save())
	if len(m.draft.lines) > 0 || len(m.book.Notes) != 1 {
		t.Errorf("after saving: draft %q, %d notes", m.draft.lines, len(m.book.Notes))
	}
}

// What was typed about one setting says so when it is opened on another.
func TestDraftOfAnotherSetting(t *testing.T) {
	m := typeNote(withNotebook(t, 80, 24), "m", "n", "esc")
	was := m.table.Name(m.row().Setting)
	m = typeNote(m, "left", "m")
	if !strings.Contains(strings.Join(strings.Fields(m.View()), " "), "typed about "+was) {
		t.Errorf("nothing says what it was about:\n%s", m.View())
	}
	if again := typeNote(m, "esc", "right", "m"); as[noteMode](again).form.Fault == "" {
		t.Error("back on the first setting, the draft is the second's")
	}
}

func TestNoteFaults(t *testing.T) {
	m := withNotebook(t, 80, 24)
	bad := typeNote(m, "m", "7", "enter")
	if !isOpen[noteMode](bad) || !strings.Contains(bad.View(), "give u1 to u3 understeer") {
		t.Errorf("a feel of 7 is taken:\n%s", bad.View())
	}
	// What is no feel stays to be seen, and is neither lost nor saved as an empty note.
	for _, keys := range [][]string{{"m", "1,42", "enter"}, {"m", "1", ",", "4", "2", "enter"}, {"m", "pushing", "enter"}} {
		words := typeNote(m, keys...)
		if want := strings.Join(keys[1:len(keys)-1], ""); !isOpen[noteMode](words) || as[noteMode](words).form.Fields[0].Value() != want || len(words.book.Notes) != 0 || !strings.Contains(words.View(), "give u1 to u3 understeer") {
			t.Errorf("%q: %q\n%s", keys, words.message, words.View())
		}
	}
	lap := typeNote(m, "m", "down", "down", "down", "down", "down", "x", "up", "enter")
	if !isOpen[noteMode](lap) || as[noteMode](lap).form.At != 5 || !strings.Contains(lap.View(), "give a time such as 1:42.3") {
		t.Errorf("a lap time of x:\n%s", lap.View())
	}
	demo := keys(t, opened(t, "coupe", 80, 24), "m")
	if !demo.walking() || !strings.Contains(demo.message, "a demo car has no notebook") {
		t.Errorf("a note about a demo: %q", demo.message)
	}
	newer := m.withBook(logbook.Book{Newer: true})
	if newer = keys(t, newer, "m"); !newer.walking() || !strings.Contains(newer.message, "newer format") {
		t.Errorf("a note in a newer format: %q", newer.message)
	}
}

// What the notebook has to tell is told at the start, and a note that another
// program wrote is seen.
func TestNotebookIsWatched(t *testing.T) {
	m := withNotebook(t, 120, 40)
	m.src.Files = nil
	b := logbook.Book{Told: []string{"the last note was cut short (30 bytes)\x1b[2J"}}
	told := send(m, seenMsg{pages: "1", book: &b})
	if !strings.Contains(told.message, "cut short") || strings.Contains(told.View(), "\x1b[2J") {
		t.Errorf("told: %q", told.message)
	}
	n := logbook.Blank()
	n.Setting = m.row().ID
	if _, _, err := m.src.AddNote(n); err != nil {
		t.Fatal(err)
	}
	b, _ = m.src.Notes()
	seen := send(m, seenMsg{pages: "2", book: &b})
	if felt := spellFelt(seen.ranFelt(seen.row())); felt != "?" {
		t.Errorf("felt %q", felt)
	}
}

// What a terminal hands over in one piece is typed letter by letter: "left" is not the arrow.
func TestWordsInOnePieceAreTyped(t *testing.T) {
	m := keys(t, opened(t, "coupe", 120, 40), "a")
	for _, piece := range []string{"9.5 ", "left"} {
		m = send(m, tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(piece)})
	}
	if view := ansi.Strip(m.View()); !strings.Contains(view, "9.5 left") {
		t.Errorf("the prompt holds something else:\n%s", view)
	}
}

// Above the design speed the page on strength says first that nothing is checked there.
func TestStrengthPageAboveDesignSpeed(t *testing.T) {
	m := opened(t, "coupe", 120, 40)
	if page := strings.Join(m.strengthText(), "\n"); strings.Contains(page, "NOT CHECKED at") {
		t.Errorf("at %.0f m/s:\n%s", m.table.Speed, page)
	}
	fast := *m.table
	fast.Speed = m.frame.Table.Speed * 1.1
	m.table = &fast
	for _, page := range [][]string{m.strengthText(), m.allText()} {
		text := strings.Join(page, "\n")
		at, passes := strings.Index(text, "NOT CHECKED at "+m.units.Speed(fast.Speed)), strings.Index(text, "PASSES")
		if at < 0 || passes >= 0 && passes < at {
			t.Errorf("above the design speed:\n%s", text)
		}
	}
}

// A setting that was run shows how it felt last, as it is typed into the form, however often it was run.
func TestFeltIsSpeltAsTyped(t *testing.T) {
	for balance, want := range map[float64]string{3: "o3", 1: "o1", -1: "u1", -2.5: "u3", 0.5: "o1", 0: "n", noWord: "?"} {
		if got := spellFelt(balance); got != want {
			t.Errorf("%v is spelt %q, want %q", balance, got, want)
		}
	}
	m := opened(t, "coupe", 120, 40)
	var notes []logbook.Note
	for _, felt := range []int{-1, 3} {
		n := logbook.Blank()
		n.Setting, n.Feel.Fast = m.row().ID, logbook.Whole(felt)
		notes = append(notes, n)
	}
	if v := ansi.Strip(keys(t, m.withBook(logbook.Book{Notes: notes}), "9").View()); !strings.Contains(v, "[o3]") || strings.Contains(v, "o2") {
		t.Errorf("run twice, last felt o3:\n%s", v)
	}
}

// Ride heights go into the note in full, and not without their speed; a long line is seen from its beginning.
func TestRideHeightsInTheForm(t *testing.T) {
	m := keys(t, withNotebook(t, 80, 24), "m")
	n := as[noteMode](m)
	fill := func(name, text string) {
		at := slices.Index(n.form.Names, name)
		n.form.Fields[at].SetValue(text)
	}
	fill("rear sank by", "7.5")
	fill(elseField, "the first words of "+strings.Repeat("a long story ", 10))
	view, _ := n.view(m)
	if view = ansi.Strip(view); !strings.Contains(view, "the first words of") || !strings.Contains(view, "…") {
		t.Errorf("a long line:\n%s", view)
	}
	for _, height := range []int{20, 24} {
		low := m
		low.height = height
		short, _ := n.save(low)
		view, _ := as[noteMode](short).view(short)
		if !strings.Contains(ansi.Strip(view), "give the speed at which") {
			t.Errorf("without its speed, %d lines:\n%s", height, view)
		}
	}
	fill(sinkSpeedField, "180")
	_, cmd := n.save(m)
	saved, ok := cmd().(savedMsg)
	if s := saved.note.Sink; !ok || saved.err != nil || s.Rear != 7.5 || math.Abs(s.Speed-50) > 1e-9 || !math.IsNaN(s.Front) {
		t.Errorf("saved %+v, %v", s, saved.err)
	}
}

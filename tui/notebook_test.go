package tui

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"stanchion/model"
	"stanchion/model/calibrate"
	"stanchion/model/carfile"
	"stanchion/model/given"
	"stanchion/model/logbook"
	"stanchion/model/units"
)

// withNotes returns the demo's explorer with ten notes in a real notebook: two settings run three times, and others once.
func withNotes(t testing.TB, w, h int) Model {
	t.Helper()
	m := withNotebook(t, w, h)
	m.src.AddNote = func(n logbook.Note) (logbook.Note, string, error) {
		if n.Replaces == "" {
			n.At = time.Date(2026, 11, 20, 18, 0, 0, 0, time.UTC)
		}
		return logbook.Append(m.src.Notebook, n)
	}
	for i, one := range []struct{ setting, felt, laps string }{
		{"1 B2", "u1", "out 1:52 1:43.2 1:43.0 1:43.4 in 1:58"}, {"2 B2", "n", "1:43.8 1:43.9 1:43.7"}, {"2 B2", "o1", "1:43.6 1:43.5 1:43.9"}, {"1 B2", "u1", "1:43.1 1:43.3 1:43.2"},
		{"3 B2", "o2", "1:44.4 1:44.0 1:44.2"}, {"4 B2", "u1 n o2", "1:44.1 1:44.9 1:44.3"}, {"2 A2", "u2", ""}, {"3 A2", "n g-1", ""}, {"1 B2", "", "1:43.3 1:43.1"}, {"2 B2", "o1", "1:43.7 1:43.9"},
	} {
		r := m.table.Named(splitWords(one.setting))[0]
		n := logbook.Blank()
		n.At = time.Date(2026, 11, 20, 8+i, 10, 0, 0, time.UTC)
		n.Expected = calibrate.Expected(m.table, r)
		n.Setting, n.Speed, n.Venue, n.Driver, n.TyreSet, n.TyreLaps, n.Track = r.ID, m.table.Speed, "north field", "Kim", "set B", float64(4*i), logbook.TrackDry
		n.Tyres, n.Wind, n.Lap = [4]float64{1.9, 1.9, 2, 2}, logbook.Wind{Speed: 4, From: 0}, 103.1+float64(i)/10
		n.SetAdjustment("front bar", "2")
		n.SetAdjustment("rear bar", "soft")
		n.Car = "0123456789abcdef"
		n.Text = fmt.Sprintf("run %d of the day, calm in the fast left and a little nervous over the crest behind it", i+1)
		var err error
		if one.felt != "" {
			n.Feel.Fast, err = logbook.ReadCorner(one.felt)
		}
		if err == nil && one.laps != "" {
			n.Laps, err = logbook.ReadLaps(one.laps)
		}
		if err == nil {
			_, _, err = logbook.Append(m.src.Notebook, n)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	b, err := m.src.Notes()
	if err != nil {
		t.Fatal(err)
	}
	return m.withBook(b)
}

// bookSizes are those of a phone in the pits, of a small window, and of a usual one.
var bookSizes = sizes[:3]

// The notebook by keyboard alone: the list, one note, two compared, a correction, laps by setting, the form after notes.
func TestGoldenNotebook(t *testing.T) {
	for _, s := range bookSizes {
		m := withNotes(t, s.w, s.h)
		golden(t, "notebook-"+s.name, keys(t, m, "M"))
		golden(t, "notebook-filter-"+s.name, keys(t, m, "M", "/", "2", " ", "b", "2"))
		golden(t, "notebook-note-"+s.name, keys(t, m, "M", "down", "enter"))
		golden(t, "notebook-compare-"+s.name, keys(t, m, "M", " ", "down", "c"))
		golden(t, "notebook-correct-"+s.name, keys(t, m, "M", "down", "e"))
		golden(t, "notebook-laps-"+s.name, keys(t, m, "\""))
		golden(t, "note-again-"+s.name, keys(t, m, "m", "pgdown", "pgdown"))
	}
}

// What stays as it was is noted without typing it; what is typed, and what is taken out, is noted so.
func TestNoteCarriesOn(t *testing.T) {
	m := withNotes(t, 80, 24)
	last := m.book.Notes[len(m.book.Notes)-1]
	saved := func(m Model, names ...string) logbook.Note {
		t.Helper()
		m = typeNote(m, append(append([]string{"m"}, names...), "enter")...)
		if !m.walking() {
			t.Fatalf("%q: nothing is saved: %q", names, as[noteMode](m).form.Fault)
		}
		return m.book.Notes[len(m.book.Notes)-1]
	}
	n := saved(m, "n")
	if n.Venue != last.Venue || n.Driver != "Kim" || n.TyreSet != "set B" || n.Tyres != last.Tyres || n.Track != logbook.TrackDry || n.Wind != last.Wind ||
		n.Adjusted("front bar") != "2" || n.Adjusted("rear bar") != "soft" || !math.IsNaN(n.Fuel) || !math.IsNaN(n.Lap) || n.Text != "" || n.Laps != nil {
		t.Errorf("as last: %+v", n)
	}
	if n.TyreLaps != last.TyreLaps+2 { // two laps were driven on them
		t.Errorf("%.0f laps on the tyres, want %.0f", n.TyreLaps, last.TyreLaps+2)
	}
	if n.BoltsMoved != 4 && n.BoltsMoved != 2 || n.Setting != m.row().ID { // from row 2, B2 to row 4, B2
		t.Errorf("%.0f bolts moved", n.BoltsMoved)
	}
	// The front bar a step up, the rear bar not noted, another temperature in °F, another set of tyres.
	at := func(name string) int {
		return slices.IndexFunc(noteFields(m.car), func(f noteField) bool { return f.name == name })
	}
	to := func(name string) (names []string) {
		for range at(name) {
			names = append(names, "down")
		}
		return names
	}
	if n := saved(m, append(to("front bar"), "right")...); n.Adjusted("front bar") != "3" || n.Adjusted("rear bar") != "soft" {
		t.Errorf("a step up from 2: %v", n.Adjustments)
	}
	if n := saved(m, append(to("other adjustments"), "-")...); n.Adjusted("front bar") != "2" || n.Adjusted("rear bar") != "" {
		t.Errorf("others taken out: %v", n.Adjustments)
	}
	if n := saved(m, append(to("air temperature"), "7", "2", "F")...); math.Abs(n.Air.Temperature-22.2) > 0.1 {
		t.Errorf("72F is %.1f °C", n.Air.Temperature)
	}
	if n := saved(m, append(to("tyre set"), "C")...); n.TyreSet != "C" || !math.IsNaN(n.Tyres[0]) || !math.IsNaN(n.TyreLaps) {
		t.Errorf("a set that was never noted has pressures or laps: %+v", n)
	}
	if n := saved(m, append(to("driver"), "right", "b", "o")...); n.Driver != "Kimbo" {
		t.Errorf("taken over and edited: %q", n.Driver)
	}
	bad := typeNote(m, append(append([]string{"m"}, to("front bar")...), "9", "enter")...)
	if f := as[noteMode](bad).form.Fault; !strings.Contains(f, "not one of its steps, 1, 2, 3, 4, 5") {
		t.Errorf("a step that there is not: %q", f)
	}
	// On another day the weather is not as last.
	later := m
	later.src.Now = func() time.Time { return time.Date(2026, 12, 1, 9, 0, 0, 0, time.UTC) }
	if n := saved(later, "n"); n.Track != "" || !math.IsNaN(n.Wind.Speed) || n.Driver != "Kim" {
		t.Errorf("weather of another day: %+v", n)
	}
	if m = typeNote(m, "m", "enter"); !isOpen[noteMode](m) {
		t.Error("a form in which nothing is typed is saved")
	}
}

// A correction says what is changed and keeps the rest to the last digit, with when it was and what was predicted then.
func TestCorrectedInTheNotebook(t *testing.T) {
	m := withNotes(t, 80, 24)
	old := m.book.Notes[len(m.book.Notes)-2]
	open := typeNote(m, "M", "down", "e")
	n := as[noteMode](open)
	if same := typeNote(open, "enter"); !strings.Contains(as[noteMode](same).form.Fault, "Nothing is changed") {
		t.Errorf("saved without a change: %q", same.message)
	}
	fill := func(n noteMode, name, text string) noteMode {
		n.form.Fields = slices.Clone(n.form.Fields)
		n.form.Fields[slices.Index(n.form.Names, name)].SetValue(text)
		return n
	}
	save := func(n noteMode) logbook.Note {
		t.Helper()
		_, cmd := n.save(open)
		if cmd == nil {
			t.Fatal("not saved")
		}
		msg, _ := cmd().(savedMsg)
		if msg.err != nil {
			t.Fatal(msg.err)
		}
		return msg.note
	}
	got := save(fill(fill(n, "driver", ""), "fast corners", "o2"))
	want := old
	want.Driver, want.Feel.Fast, want.Replaces, want.ID = "", logbook.Whole(2), old.ID, got.ID
	if fmt.Sprintf("%+v", got) != fmt.Sprintf("%+v", want) {
		t.Errorf("corrected:\n%+v, want\n%+v", got, want)
	}
	book, _ := m.src.Notes()
	if len(book.Notes) != 10 || len(book.All) != 11 {
		t.Errorf("%d notes in force of %d", len(book.Notes), len(book.All))
	}
	// Another setting was meant: what is predicted for it, by the car file as it is, and the bolts from the run before.
	m = m.withBook(book)
	open = typeNote(m, "M", "down", "down", "e")
	n = as[noteMode](open)
	moved := save(fill(n, "setting", "1 B2"))
	r := m.table.Named(splitWords("1 B2"))[0]
	if moved.Setting != r.ID || math.Abs(moved.Expected.Height-r.Height) > 1e-9 || moved.Car != "" {
		t.Errorf("of another setting: %+v", moved)
	}
	// Put aside, it goes on with m, and ctrl+n twice drops it for a new note.
	aside := typeNote(open, "n", "esc")
	if !isOpen[notebookMode](aside) || aside.draft.replaces == "" {
		t.Fatalf("put aside: %T, %+v", aside.open, aside.draft)
	}
	again := typeNote(aside, "esc", "m")
	if n := as[noteMode](again); !n.corrects() || n.form.Values()[0] != "n" {
		t.Errorf("m does not go on with the correction: %+v", n.form.Values())
	}
	fresh := typeNote(again, "ctrl+n", "ctrl+n")
	if n := as[noteMode](fresh); n.corrects() || len(n.lines()) > 0 || fresh.draft.replaces != "" {
		t.Error("ctrl+n twice does not begin anew")
	}
}

// m is one key away from each page about a setting, and esc leads back to it.
func TestNoteFromEveryPage(t *testing.T) {
	base := keys(t, withNotes(t, 80, 24), " ", "left")
	for _, s := range sheets() {
		m := keys(t, base, s.key)
		if s.key == "M" {
			continue
		}
		noted := typeNote(m, "m")
		if n, ok := in[noteMode](noted); !ok || n.about.Setting != base.row().ID {
			t.Errorf("page %s: m opens %T", s.name, noted.open)
			continue
		}
		if back := as[pageMode](typeNote(noted, "esc")); back.sheet != s.key {
			t.Errorf("page %s: esc goes to %q", s.name, back.sheet)
		}
		if back := as[pageMode](typeNote(noted, "n", "enter")); back.sheet != s.key {
			t.Errorf("page %s: saving goes to %q", s.name, back.sheet)
		}
		if book := as[notebookMode](keys(t, m, "M")); book.back == nil {
			t.Errorf("page %s: M does not go back to it", s.name)
		}
	}
}

// From the list a note's setting is gone to, and noted again.
func TestFromTheNotebook(t *testing.T) {
	m := withNotes(t, 80, 24)
	id := m.book.Notes[5].Setting
	list := keys(t, m, "M", "down", "down", "down", "down")
	if there := keys(t, list, "g"); !there.walking() || there.row().ID != id {
		t.Errorf("g goes to %s, want %s", there.row().ID, id)
	}
	if n := as[noteMode](typeNote(list, "m")); n.about.Setting != id {
		t.Errorf("m is about %s", n.about.Setting)
	}
	if shown := as[pageMode](keys(t, list, "enter", "right")); shown.note != m.book.Notes[4].ID {
		t.Errorf("→ shows %s", shown.note)
	}
	page := keys(t, list, "enter")
	if text := ansi.Strip(strings.Join(as[pageMode](page).lines(page), "\n")); !strings.Contains(text, "setting                   row 4, B2") || strings.Contains(text, id) || !strings.Contains(text, "now 1322 mm") {
		t.Errorf("the note:\n%s", text)
	}
	none := keys(t, m, "M", "/", "z", "z", "enter", "enter", "c", "e", "g", " ")
	if !isOpen[notebookMode](none) || none.message != "no note here" {
		t.Errorf("of none: %T %q", none.open, none.message)
	}
	if one := keys(t, m, "M", "c"); !strings.Contains(one.message, "mark another note") {
		t.Errorf("one alone is compared: %q", one.message)
	}
	goneCar := keys(t, m, "M")
	goneCar.book.Notes = slices.Clone(m.book.Notes)
	goneCar.book.Notes[9].Setting = "no such"
	for _, k := range []string{"g", "m"} {
		if got := keys(t, goneCar, k); !strings.Contains(got.message, "no longer has the setting") {
			t.Errorf("%s of a setting that is gone: %q", k, got.message)
		}
	}
}

// The answer stands first on the page of laps, and never without an interval.
func TestLapsOfTheNotebook(t *testing.T) {
	m := keys(t, withNotes(t, 80, 24), "M", "l")
	text := ansi.Strip(strings.Join(as[pageMode](m).lines(m), "\n"))
	if !strings.Contains(text, "laps by setting\n\nrow 1, B2 IS FASTER than row 2, B2 by 0.5") || !strings.Contains(text, "(95 % interval by runs)") || !strings.Contains(text, "NOT TOLD of what was run once only: row 3, B2; row 4, B2.") {
		t.Errorf("laps:\n%s", text)
	}
	if back := keys(t, m, "esc"); !isOpen[notebookMode](back) {
		t.Error("esc does not go back to the notebook")
	}
	other := withNotes(t, 80, 24)
	other.book.Notes = slices.Clone(other.book.Notes)
	other.book.Notes[0].Venue, other.book.Notes[1].Rain, other.book.Notes[9].Rain, other.book.Notes[2].Setting = "south loop", logbook.RainHeavy, logbook.RainNone, "gone"
	other = keys(t, other, "\"")
	if text := ansi.Strip(strings.Join(as[pageMode](other).lines(other), "\n")); !strings.Contains(text, "5 runs, all that are comparable with the last, note 2026-11-20.10") ||
		!strings.Contains(text, "2026-11-20.1 (another place), 2026-11-20.2 (dry and wet track), 2026-11-20.3 (its setting is no longer in the car file)") || !strings.Contains(text, "NOT TOLD whether row 1, B2") {
		t.Errorf("of two places, one wet:\n%s", text)
	}
	some := keys(t, withNotes(t, 80, 24), "M", "/", "4", " ", "b", "2", "enter", "l")
	if text := ansi.Strip(strings.Join(as[pageMode](some).lines(some), "\n")); !strings.Contains(text, `laps by setting with "4 b2"`) || !strings.Contains(text, "NOT TOLD: there are not two settings") {
		t.Errorf("laps of one:\n%s", text)
	}
	listed := keys(t, withNotes(t, 80, 24), "M", "/", "b", "2", "enter")
	before, _ := as[notebookMode](listed).note(listed)
	listed = keys(t, listed, "l", "esc")
	if after, _ := as[notebookMode](listed).note(listed); after.ID != before.ID {
		t.Errorf("after the laps note %s is marked, before %s", after.ID, before.ID)
	}
	none := keys(t, withNotes(t, 80, 24), "M", "/", "2", " ", "a", "2", "enter", "l")
	if !isOpen[notebookMode](none) || !strings.Contains(none.message, "has lap times") {
		t.Errorf("without laps: %q", none.message)
	}
}

// The setting to try next is a key away from its place on the map.
func TestNextFromTheNotebook(t *testing.T) {
	m := keys(t, withNotes(t, 80, 24), "M", "n")
	p := as[pageMode](m)
	text := ansi.Strip(strings.Join(p.lines(m), "\n"))
	if !strings.Contains(text, "\ntry ") && !strings.Contains(text, "\nthe setting to try is on the car") {
		t.Fatalf("next:\n%s", text)
	}
	there := keys(t, m, "g")
	if !there.walking() || !strings.Contains(text, ": "+there.table.Name(there.row().Setting)) {
		t.Errorf("g goes to %s of\n%s", there.table.Name(there.row().Setting), text)
	}
	if back := keys(t, m, "x", "esc"); !isOpen[notebookMode](back) {
		t.Error("esc does not go back to the notebook")
	}
}

// The fit is written when that is asked for twice, and undone; what is refused is written by A alone.
func TestFitFromTheNotebook(t *testing.T) {
	var ran []string
	m := withNotes(t, 80, 24)
	car := *m.car
	car.FrontRate, car.RearRate = given.Is(60), given.Is(55)
	n := logbook.Blank()
	n.ID, n.Setting, n.Sink = "s", m.row().ID, logbook.Sink{Speed: 50, Front: -3, Rear: 9}
	m.table.Car = &car
	m.book.Notes = append(slices.Clone(m.book.Notes), n)
	m.src.Change = nil
	refused := true
	m.src.Run = func(args []string, _ units.System, _ int) (string, bool) {
		ran = append(ran, strings.Join(args[3:], " "))
		return "the answer first\x1b[2J", refused && len(args) == 4
	}
	if p := as[pageMode](keys(t, m, "S")); len(p.keys) > 0 {
		t.Error("a car without a file can be written to")
	}
	m.src.Change = func(string, func([]byte) ([]carfile.Edit, error)) error { return nil }
	m.src.CanUndo = func() (string, string) { return "the fit to the runs", "" }
	ran = nil
	m = keys(t, m, "M", "f", "W")
	if !slices.Equal(ran, []string{""}) || !strings.Contains(m.message, "W again") || strings.Contains(m.View(), "\x1b[2J") {
		t.Fatalf("ran %q: %q", ran, m.message)
	}
	m = keys(t, m, "W")
	if !slices.Equal(ran, []string{"", "--write"}) || len(m.changes) > 0 {
		t.Fatalf("ran %q", ran)
	}
	if m = keys(t, m, "A", "A"); !slices.Equal(ran, []string{"", "--write", "--write --anyway"}) || len(m.changes) != 1 || m.can.undo == "" || !strings.Contains(m.message, "U takes it back") {
		t.Errorf("ran %q, %q", ran, m.message)
	}
}

// The notebook goes into a file that is asked for, and not over one without a word.
func TestExportFromTheNotebook(t *testing.T) {
	dir := t.TempDir()
	m := withNotes(t, 80, 24)
	m.src.Name = filepath.Join(dir, "my car.toml")
	var ran [][]string
	m.src.Run = func(args []string, _ units.System, _ int) (string, bool) {
		ran = append(ran, args)
		if to := args[6]; !slices.Contains(args, "--replace") {
			if _, err := os.Stat(to); err == nil {
				return "", true
			}
			return "10 notes written to " + to, os.WriteFile(to, nil, 0o600) != nil
		}
		return "10 notes written", false
	}
	run := m.src.Run
	m.src.Run = func(args []string, u units.System, cells int) (string, bool) {
		text, failed := run(args, u, cells)
		if failed {
			text = args[6] + ": exists already; choose another name, or give --replace"
		}
		return text, failed
	}
	asked := keys(t, m, "M", "x")
	if p := as[promptMode](asked); p.input.Value() != "my car.notes.md" {
		t.Fatalf("offered %q", p.input.Value())
	}
	golden(t, "notebook-export", asked)
	written := keys(t, asked, "enter")
	if !isOpen[notebookMode](written) || !strings.HasPrefix(written.message, "10 notes written") || ran[0][4] != "markdown" || ran[0][6] != filepath.Join(dir, "my car.notes.md") {
		t.Errorf("%q %q", written.message, ran)
	}
	over := keys(t, written, "x", "enter")
	if p, ok := in[promptMode](over); !ok || !strings.Contains(p.fault, "exists already") || slices.Contains(ran[1], "--replace") {
		t.Fatalf("over a file: %q, %q", over.message, ran)
	}
	if back := keys(t, over, "esc"); !isOpen[notebookMode](back) {
		t.Error("esc does not go back")
	}
	if keys(t, over, "enter"); !slices.Contains(ran[2], "--replace") {
		t.Errorf("the same name again: %q", ran)
	}
	if bad := keys(t, asked, "backspace", "enter"); !strings.Contains(as[promptMode](bad).fault, "must end in .md, .csv or .json") {
		t.Errorf("another ending: %q", as[promptMode](bad).fault)
	}
}

// All of it can be done in words.
func TestNotebookInWords(t *testing.T) {
	m := withNotes(t, 80, 24)
	book := m.book
	m = fresh(t, "coupe")
	m = m.withBook(book)
	got := walked(t, m, "M", "down", "up space down c", "enter", "esc", "/", "2 b2", "l", "n", "g", "q", "q")
	for _, want := range []string{"notebook, the newest first: 10 notes", "At note 2 of 10: 2026-11-20.9", "from note 2026-11-20.9 to 2026-11-20.10", "note 2026-11-20.9", `notebook: 3 of 10 notes have "2 b2"`,
		"row 2, B2: mean 1:43.", "try "} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is missing in:\n%s", want, got)
		}
	}
	if strings.ContainsFunc(got, braille) || strings.ContainsAny(got, "\x1b▸●○") {
		t.Errorf("there is drawing in it:\n%s", got)
	}
}

// A car file that is changed while a note is open, with other adjustments, mixes no lines up.
func TestFormOutlivesTheCarFile(t *testing.T) {
	m := typeNote(withNotes(t, 80, 24), "m", "n")
	car := *m.car
	car.Adjustments = []model.Adjustment{{Name: "flap", Steps: []string{"0", "1"}}}
	m = gave(t, m, seenMsg{stamp: "x", car: &car, once: true})
	m = typeNote(m, "esc", "m")
	n := as[noteMode](m)
	if n.form.Values()[0] != "n" || !slices.Contains(n.form.Names, "flap") || slices.Contains(n.form.Names, "splitter") {
		t.Errorf("after a change of the file: %q", n.form.Names)
	}
	if m = send(m, tea.WindowSizeMsg{Width: 50, Height: 20}); !strings.Contains(ansi.Strip(m.View()), "▸ fast corners          n") {
		t.Errorf("on a phone:\n%s", m.View())
	}
}

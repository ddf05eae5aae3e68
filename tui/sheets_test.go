package tui

import (
	"errors"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/holes"
	"stanchion/model"
	"stanchion/model/carfile"
	"stanchion/model/carfile/guide"
	"stanchion/model/units"
)

func TestGoldenSheets(t *testing.T) {
	for _, s := range sizes {
		m := opened(t, "coupe", s.w, s.h)
		golden(t, "strength-"+s.name, keys(t, m, "s"))
		golden(t, "clearance-"+s.name, keys(t, m, "c"))
		golden(t, "compare-"+s.name, keys(t, m, " ", "left", "w"))
		golden(t, "all-"+s.name, keys(t, m, "enter"))
		golden(t, "speeds-"+s.name, keys(t, m, " ", "left", "o"))
		golden(t, "table-"+s.name, keys(t, m, "t", "t"))
		golden(t, "side-"+s.name, keys(t, m, "Z"))
		golden(t, "form-"+s.name, keys(t, m, "i", "down", "x"))
	}
	golden(t, "lid-open", keys(t, opened(t, "coupe", 120, 40), ".", ".", ".", ".", ".", ".", "."))
}

// From any page one key leads to any other, arrows go to the next setting with the
// page open, and esc goes back to where one was.
func TestPagesLeadToOneAnother(t *testing.T) {
	m := keys(t, opened(t, "coupe", 100, 30), " ", "left")
	at := m.current
	for _, key := range []string{"s", "c", "w", "enter"} {
		if m = keys(t, m, key); !isOpen[pageMode](m) || as[pageMode](m).sheet != key || !strings.Contains(m.View(), "["+key+" ") {
			t.Fatalf("%s opens %q:\n%s", key, as[pageMode](m).sheet, m.View())
		}
	}
	m = keys(t, m, "left")
	if !isOpen[pageMode](m) || m.current == at {
		t.Errorf("the page does not follow to the next angle: mode %v, setting %d", m.open, m.current)
	}
	m = keys(t, m, "right", "x")
	if !isOpen[pageMode](m) {
		t.Error("going to the kept setting leaves the page")
	}
	if m = keys(t, m, "y"); !isOpen[pageMode](m) || !strings.Contains(m.View(), "esc goes back") {
		t.Error("a key that is for nothing leaves the page")
	}
	if m = keys(t, m, "esc"); !m.walking() {
		t.Error("esc does not go back")
	}
	if m = keys(t, keys(t, m, "s"), "s"); !m.walking() {
		t.Error("the page's own key does not close it")
	}
	// Help is no page about a setting: any key leaves it.
	if m = keys(t, keys(t, m, "?"), "y"); !m.walking() {
		t.Error("help stays")
	}
}

// Each change can be undone, the last first, and redone, and what is shown is then what it was.
func TestUndo(t *testing.T) {
	m := opened(t, "coupe", 120, 40)
	before := m.View()
	if m = keys(t, m, "U"); !strings.Contains(m.message, "nothing to undo") {
		t.Errorf("undo of nothing says %q", m.message)
	}
	if m = keys(t, m, "ctrl+r"); !strings.Contains(m.message, "nothing to redo") {
		t.Errorf("redo of nothing says %q", m.message)
	}
	m = keys(t, m, "d", "enter")
	if len(m.unsaved) != 1 || !strings.Contains(m.View(), "+N1") {
		t.Fatalf("the hole is not kept: %v", m.unsaved)
	}
	m = keys(t, m, "a", "8", ".", "9", "enter", "enter")
	if m.datum == nil {
		t.Fatal("the correction is not taken")
	}
	m.message = ""
	both := m.View()
	m = keys(t, m, "U")
	if m.datum != nil || len(m.unsaved) != 1 {
		t.Errorf("undo leaves datum %v and %d holes", m.datum, len(m.unsaved))
	}
	m = keys(t, m, "U", "U") // the reading, the hole
	undone := m
	undone.message = ""
	if len(m.unsaved) != 0 || undone.View() != before {
		t.Errorf("undo does not lead back:\n%s", m.View())
	}
	m = keys(t, m, "ctrl+r", "ctrl+r", "ctrl+r")
	m.message = ""
	if m.datum == nil || len(m.unsaved) != 1 || m.View() != both {
		t.Errorf("redo does not lead on:\n%s", m.View())
	}
}

// What was written to the car file is put back by its history, also when it was written on an earlier day, or it is
// said why not; and made again.
func TestUndoOfTheFile(t *testing.T) {
	m := opened(t, "coupe", 120, 40)
	steps, trouble := 0, error(nil)
	m.src.AddHole = func(string, holes.Hole) error { return nil }
	m.src.Undo = func() (string, error) { steps--; return "hole N1 in upright", trouble }
	m.src.Redo = func() (string, error) { steps++; return "hole N1 in upright", trouble }
	m.src.CanUndo = func() (string, string) { return "hole N1 in upright", "hole N1 in upright" }
	m.can = m.src.canUndo()
	if got := keys(t, m, "U"); steps != -1 || !strings.Contains(got.message, "undone: hole N1 in upright; the car file is what it was") {
		t.Errorf("of an earlier day: %d steps, %q", steps, got.message)
	}
	w := keys(t, m, "d", "W")
	if len(w.changes) != 1 {
		t.Fatalf("%d changes after writing", len(w.changes))
	}
	trouble = errors.New("it has been edited since")
	if got := keys(t, w, "U"); !strings.Contains(got.message, "not undone: it has been edited since") {
		t.Errorf("%q", got.message)
	}
	trouble, steps = nil, 0
	got := keys(t, w, "U")
	if steps != -1 || len(got.undone) != 1 {
		t.Errorf("%d steps, %d to redo", steps, len(got.undone))
	}
	if got = keys(t, got, "ctrl+r"); steps != 0 || !strings.Contains(got.message, "redone: hole N1") {
		t.Errorf("%d steps, %q", steps, got.message)
	}
}

// The guided start asks one thing after the other, says what is allowed, and makes a
// sound file that it opens.
func TestGuide(t *testing.T) {
	var name string
	var text []byte
	m := opened(t, "coupe", 80, 24)
	m.src.Guide = func(n string, b []byte) (Source, error) {
		name, text = n, b
		return Source{Name: n, Load: func() (*model.Car, error) { return carfile.Parse(n, b, nil) }}, nil
	}
	m = keys(t, m, "N")
	for _, s := range sizes {
		golden(t, "guide-first-"+s.name, send(m, tea.WindowSizeMsg{Width: s.w, Height: s.h}))
	}
	m = keys(t, m, "M", "y", " ", "c", "a", "r", "enter", "9", "enter")
	if !strings.Contains(m.View(), "it must be 1500 to 4000 mm") {
		t.Errorf("a wheelbase of 9 mm passes:\n%s", m.View())
	}
	m = keys(t, m, "backspace", "9", "8", "i", "n", "enter")
	m = keys(t, m, "up")
	if !strings.Contains(m.View(), "98in") {
		t.Error("going back loses what was typed")
	}
	for range len(guide.Questions()) - 1 {
		m = keys(t, m, "enter")
	}
	for _, s := range sizes {
		golden(t, "guide-last-"+s.name, send(m, tea.WindowSizeMsg{Width: s.w, Height: s.h}))
	}
	m = keys(t, m, "o")
	next, cmd := m.Update(keyMsg("enter"))
	m = settle(t, send(next.(Model), cmd()))
	if name != "o" || !m.walking() || m.car.Name != "My car" || m.row() == nil {
		t.Fatalf("made %q, mode %v, car %q", name, m.open, m.car.Name)
	}
	if car, err := carfile.Parse("x", text, nil); err != nil || car.Wheelbase < 2489 || car.Wheelbase > 2490 {
		t.Errorf("the file: %v", err)
	}
}

// Every question's picture has its letter, at every size, and nothing breaks without
// a car.
func TestGuidePictures(t *testing.T) {
	for _, q := range guide.Questions() {
		if _, ok := guidePictures[q.Picture]; !ok {
			t.Errorf("%s: no picture %q", q.Key, q.Picture)
		}
		if q.Letter != "" && !strings.Contains(strings.Join(guidePicture(q.Picture, q.Letter), "\n"), q.Letter+"◂") {
			t.Errorf("%s: the picture lacks %s", q.Key, q.Letter)
		}
	}
	m := send(Guided(Source{Guide: func(string, []byte) (Source, error) { return Source{}, errors.New("there is one") }}, units.Metric), tea.WindowSizeMsg{Width: 80, Height: 24})
	for range len(guide.Questions()) {
		m = send(m, keyMsg("enter"))
		if lines := strings.Split(m.View(), "\n"); len(lines) != 24 {
			t.Fatalf("%d lines", len(lines))
		}
	}
	next, cmd := m.Update(keyMsg("enter"))
	if m = send(next.(Model), cmd()); !strings.Contains(m.View(), "there is one") {
		t.Errorf("a file that cannot be made is not told:\n%s", m.View())
	}
}

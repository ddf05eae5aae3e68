package tui

import (
	"errors"
	"strings"
	"testing"

	"stanchion/holes"
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

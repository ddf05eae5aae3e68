package tui

import (
	"errors"
	"path/filepath"
	"strings"
	"testing"

	"stanchion/model/files"
	"stanchion/model/logbook"
	"stanchion/model/units"
)

// typeOut types a text key by key.
func (k *monkey) typeOut(text string) {
	for _, r := range text {
		k.give(keyMsg(string(r)))
	}
}

// A note that was being typed when the program ended is there at the next start, and
// gone once it is saved.
func TestNoteOutlivesTheProgram(t *testing.T) {
	dir := t.TempDir()
	k := newMonkey(t, dir)
	k.give(keyMsg("m"))
	k.give(keyMsg("2"))
	for range 4 {
		k.give(keyMsg("down"))
	}
	k.typeOut("calm")
	setting := as[noteMode](k.m).about.Setting

	next := newMonkey(t, dir) // as if the first had been killed
	if !strings.Contains(next.m.message, next.m.settingName(setting)) || strings.Contains(next.m.message, setting) || !strings.Contains(next.m.message, "was not saved last time") {
		t.Fatalf("at the next start: %q", next.m.message)
	}
	next.give(keyMsg("m"))
	if v := as[noteMode](next.m).form.Values(); v[0] != "2" || v[4] != "calm" {
		t.Errorf("the form has %q", v)
	}
	next.give(keyMsg("enter"))
	if !strings.Contains(next.m.message, "saved as n1") {
		t.Fatalf("%q, fault %q", next.m.message, as[noteMode](next.m).form.Fault)
	}
	if third := newMonkey(t, dir); len(third.m.draft.lines) > 0 {
		t.Errorf("a saved note is offered again: %q", third.m.draft.lines)
	}
}

// A draft that cannot be kept says so.
func TestDraftOnAFullDisk(t *testing.T) {
	k := newMonkey(t, t.TempDir())
	k.m.src.NoteDraft = files.NewDraft("/dev/null/draft")
	k.give(keyMsg("m"))
	k.give(keyMsg("1"))
	if !isOpen[noteMode](k.m) || !strings.Contains(as[noteMode](k.m).form.Fault, "cannot be kept") {
		t.Errorf("no word that what is typed is not kept")
	}
}

// Leaving the guided start ends cleanly without a file, and the next one goes on with
// the answers; ctrl+n begins anew when pressed twice.
func TestGuideIsLeftAndGoneOnWith(t *testing.T) {
	path := filepath.Join(t.TempDir(), "draft")
	begin := func() *monkey {
		src := Source{GuideDraft: files.NewDraft(path), Guide: func(string, []byte) (Source, error) { return Source{}, errors.New("not now") }}
		k := &monkey{t: t, m: Guided(src, units.Metric)}
		k.run(k.m.Init())
		k.m.width, k.m.height = 80, 24
		return k
	}
	for _, leave := range []string{"esc", "ctrl+c"} {
		k := begin()
		k.give(keyMsg("ctrl+n"))
		if k.give(keyMsg(leave)); !k.left || k.m.farewell != "no file was made" {
			t.Errorf("%s: left %v, %q", leave, k.left, k.m.farewell)
		}
	}
	k := begin()
	k.typeOut("1")
	k.give(keyMsg("enter"))
	k.typeOut("Tin")
	k.give(keyMsg("enter"))
	k.typeOut("26")
	k.give(keyMsg("esc"))
	if !k.left || k.m.farewell != "no file was made; the answers are kept for next time" {
		t.Fatalf("left %v, %q", k.left, k.m.farewell)
	}
	k = begin()
	if as[guideMode](k.m).answers["name"] != "Tin" || as[guideMode](k.m).step != 2 || as[guideMode](k.m).input.Value() != "26" {
		t.Errorf("goes on at %d with %q and %q", as[guideMode](k.m).step, as[guideMode](k.m).answers, as[guideMode](k.m).input.Value())
	}
	for _, between := range []string{"x", "up", "enter"} { // asked for once, and something else done, nothing is lost
		k.give(keyMsg("ctrl+n"))
		if g := as[guideMode](k.m); len(g.answers) != 2 || !strings.Contains(k.m.View(), "ctrl+n again throws 2 answers away") {
			t.Errorf("once: %q\n%s", g.answers, k.m.View())
		}
		if between == "x" {
			k.typeOut("x")
		} else {
			k.give(keyMsg(between))
		}
	}
	if kept := as[guideMode](begin().m); len(kept.answers) != 2 {
		t.Errorf("the draft has %q", kept.answers)
	}
	k.give(keyMsg("ctrl+n"))
	k.give(keyMsg("ctrl+n"))
	if k = begin(); len(as[guideMode](k.m).answers) > 0 || as[guideMode](k.m).step != 0 {
		t.Errorf("after beginning anew: %q", as[guideMode](k.m).answers)
	}
}

// q asks once before a correction or holes that are in no file are lost.
func TestQuitAsksBeforeLosing(t *testing.T) {
	k := newMonkey(t, t.TempDir())
	for _, key := range []string{"a", "8", ".", "9", "enter", "enter"} {
		k.give(keyMsg(key))
	}
	if k.m.datum == nil {
		t.Fatal("no correction is taken")
	}
	if k.give(keyMsg("q")); k.left || !strings.Contains(k.m.message, "correction is not in the car file") {
		t.Errorf("left %v, %q", k.left, k.m.message)
	}
	if k.give(keyMsg("q")); !k.left {
		t.Error("q again does not leave")
	}
}

// Every answer reaches the explorer and the walk in words alike.
var _ = []answer{rowsMsg{}, frameMsg{}, lookMsg{}, seenMsg{}, trialMsg{}, sweptMsg{}, savedMsg{}, undoneMsg{}, writtenMsg{}, bestMsg{}, stripMsg{}, paintedMsg{}, copiedMsg{}, editedMsg{}, ranMsg{}, guidedMsg{}, drawingMsg{}, keptMsg{}, noteDraftMsg{}, guideDraftMsg{}, resumedMsg{}}

// In words no text is cut, no empty plot is told, and no mark is told as what it is
// not.
func TestPlainTellsTextsWhole(t *testing.T) {
	got := walked(t, fresh(t, "coupe"), "?", "o", "enter")
	for _, bad := range []string{"not: not", "└", "downforce, N\n\n", "┤"} {
		if strings.Contains(got, bad) {
			t.Errorf("%q is in it:\n%s", bad, got)
		}
	}
	if !strings.Contains(got, "× breaks a limit, ~ stalled") || !strings.Contains(got, "km/h") {
		t.Errorf("the legend or the table over speed is missing:\n%s", got)
	}
}

// A fault of the prompt in words keeps the prompt open.
func TestPlainPromptStaysOpen(t *testing.T) {
	m := fresh(t, "coupe")
	m.src.AddNote = func(n logbook.Note) (logbook.Note, string, error) { t.Error("a note was saved"); return n, "", nil }
	got := walked(t, m, "v", "m", "120km/h", "q")
	if !strings.Contains(got, `"m" is not a number`) || !strings.Contains(got, "at 120 km/h") {
		t.Errorf("%s", got)
	}
}

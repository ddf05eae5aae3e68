package logbook

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

// Undone as often as there were notes and corrections, a notebook says what it said before each of them, in the
// reverse order, and is only ever added to.
func TestUndoGoesBackStepByStep(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "x.notes.toml")
	rapid.Check(t, func(t *rapid.T) {
		if err := os.WriteFile(path, nil, 0o644); err != nil {
			t.Fatal(err)
		}
		var before [][]Note
		for i := range rapid.IntRange(1, 4).Draw(t, "notes") {
			b, err := Read(path)
			if err != nil {
				t.Fatal(err)
			}
			before = append(before, b.Notes)
			n := sample(i)
			if len(b.Notes) > 0 && rapid.Bool().Draw(t, "correction") {
				n.Replaces = rapid.SampledFrom(b.Notes).Draw(t, "of").ID
			}
			if _, _, err := quick.append(path, n); err != nil {
				t.Fatal(err)
			}
			if rapid.IntRange(0, 3).Draw(t, "undone at once") == 0 {
				if _, err := quick.undo(path, sample(i).At); err != nil {
					t.Fatal(err)
				}
				says(t, path, before[len(before)-1])
				before = before[:len(before)-1]
			}
		}
		for len(before) > 0 {
			was, _ := os.ReadFile(path)
			if _, err := quick.undo(path, sample(59).At); err != nil {
				t.Fatal(err)
			}
			says(t, path, before[len(before)-1])
			before = before[:len(before)-1]
			if now, _ := os.ReadFile(path); !bytes.HasPrefix(now, was) {
				t.Fatal("the notebook was not only added to")
			}
		}
		if _, err := quick.undo(path, sample(59).At); !errors.Is(err, ErrNothingToUndo) {
			t.Fatal(err)
		}
		if v, err := Verify(path); err != nil || len(v.Findings) > 0 {
			t.Fatal(v, err)
		}
	})
}

// says compares what is in force with what was, whatever the notes are called.
func says(t *rapid.T, path string, want []Note) {
	t.Helper()
	b, err := Read(path)
	if err != nil || len(b.Told) > 0 {
		t.Fatal(err, b.Told)
	}
	if d := cmp.Diff(want, b.Notes, same, cmpopts.EquateEmpty(), cmpopts.IgnoreFields(Note{}, "ID", "Replaces", "Restores")); d != "" {
		t.Fatal(d)
	}
}

// By hand: a note, its correction, a second correction of the same note by another person. The last goes without the
// note coming back that the first corrects.
func TestUndoOfOneOfTwoCorrections(t *testing.T) {
	path := filepath.Join(t.TempDir(), "x.notes.toml")
	for i, replaces := range []string{"", "2026-11-25.1", "2026-11-25.1"} {
		n := sample(i)
		n.Replaces = replaces
		if _, _, err := Append(path, n); err != nil {
			t.Fatal(err)
		}
	}
	u, err := Undo(path, time.Date(2026, 11, 26, 9, 0, 0, 0, time.UTC))
	if err != nil || u.Note.ID != "2026-11-25.3" || u.Back != nil || !u.Written.Withdrawn || u.Written.ID != "2026-11-26.1" {
		t.Fatalf("%+v, %v", u, err)
	}
	if b, _ := Read(path); len(b.Notes) != 1 || b.Notes[0].ID != "2026-11-25.2" || len(b.All) != 4 {
		t.Errorf("%d in force of %d", len(b.Notes), len(b.All))
	}
	// Then the first correction, which brings the note back, and then that.
	u, err = Undo(path, time.Date(2026, 11, 26, 9, 1, 0, 0, time.UTC))
	if err != nil || u.Note.ID != "2026-11-25.2" || u.Back == nil || u.Back.ID != "2026-11-25.1" || u.Written.Restores != "2026-11-25.1" {
		t.Fatalf("%+v, %v", u, err)
	}
	u, err = Undo(path, time.Date(2026, 11, 26, 9, 2, 0, 0, time.UTC))
	if err != nil || u.Back != nil || u.Note.Text != sample(0).Text {
		t.Fatalf("%+v, %v", u, err)
	}
	if b, _ := Read(path); len(b.Notes) != 0 || len(b.All) != 6 {
		t.Errorf("%d in force of %d", len(b.Notes), len(b.All))
	}
}

// Notes that replace one another in a circle do not all go: the one that stands last counts.
func TestACircleOfReplacements(t *testing.T) {
	var data []byte
	data = append(data, head...)
	for i, replaces := range []string{"2026-11-25.3", "2026-11-25.1", "2026-11-25.2"} {
		n := sample(i)
		n.ID, n.Replaces = newID(n.At, i+1), replaces
		data = append(data, encode(n)...)
	}
	b := parse("x", data)
	if len(b.Notes) != 1 || b.Notes[0].ID != "2026-11-25.3" {
		t.Errorf("%d in force", len(b.Notes))
	}
	v := verify("x", data)
	if len(v.Findings) != 1 || v.Findings[0].Kind != Circle || len(v.Findings[0].Others) != 3 {
		t.Errorf("%+v", v.Findings)
	}
}

package logbook

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// aBook draws a notebook of notes, corrections, withdrawals and keys that this program does not
// know, behind those of begin.
func aBook(t *rapid.T, path string, begin []byte, who string) {
	data := bytes.Clone(begin)
	if data == nil {
		data = []byte(head)
	}
	_, ids := wholeNotes(data)
	for i := range rapid.IntRange(0, 3).Draw(t, who+" notes") {
		n := sample(rapid.IntRange(0, 30).Draw(t, "second"))
		n.Text = rapid.SampledFrom([]string{"calm", "loose", "[[note]]\n# end"}).Draw(t, "text")
		n.ID = freshID(ids, n.At)
		if len(ids) > 0 && rapid.Bool().Draw(t, "names one") {
			n.Replaces = rapid.SampledFrom(append(ids, "2026-11-25.99")).Draw(t, "of")
			n.Withdrawn = rapid.IntRange(0, 3).Draw(t, "takes back") == 0
		}
		body := bytes.TrimLeft(encode(n), "\n")
		body = body[:bytes.LastIndex(body, []byte(closing))]
		if rapid.Bool().Draw(t, "unknown key") {
			body = append(body, fmt.Sprintf("camber_deg   =  [ -2.50, %d, %q ]   # kept\n", i, who)...)
		}
		text, err := sealed(body, n.ID)
		if err != nil {
			t.Fatal(err)
		}
		data = append(data, text...)
		ids = append(ids, n.ID)
	}
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
}

// said is what the notes of a book say, whatever they are called, with what the ones that they
// replace say.
func said(t *rapid.T, path string) (all []string) {
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var notes []incoming
	for _, k := range blocks(data) {
		if k.wrong != "" || !k.sound {
			t.Fatalf("a block is not whole: %s", data[k.from:k.to])
		}
		of, _ := values(data[k.from:k.end])
		notes = append(notes, incoming{of: of, note: k.note})
	}
	all, _ = contents(notes, false)
	slices.Sort(all)
	return all
}

// Merging two notebooks either way gives the same notes, and all of both; merging again changes nothing; what is not
// known is kept byte for byte; no id is there twice.
func TestMergeIsAUnion(t *testing.T) {
	dir := t.TempDir()
	rapid.Check(t, func(t *rapid.T) {
		path := func(name string) string { return filepath.Join(dir, name+".notes.toml") }
		a, b := path("a"), path("b")
		var begin []byte
		if rapid.Bool().Draw(t, "copies of one book") {
			aBook(t, a, nil, "both")
			begin, _ = os.ReadFile(a)
		}
		aBook(t, a, begin, "a")
		aBook(t, b, begin, "b")
		ofA, ofB := said(t, a), said(t, b)
		before, _ := os.ReadFile(a)
		bytesB, _ := os.ReadFile(b)
		there := path("there")
		if err := os.WriteFile(there, bytesB, 0o644); err != nil {
			t.Fatal(err)
		}
		m, err := quick.merge(a, b, false)
		if err != nil {
			t.Fatal(err)
		}
		if now, _ := os.ReadFile(a); !bytes.Equal(now, before) {
			t.Fatal("looking changed the notebook")
		}
		if _, err := quick.merge(a, b, true); err != nil {
			t.Fatal(err)
		}
		merged, _ := os.ReadFile(a)
		if !bytes.HasPrefix(merged, before) {
			t.Fatal("what stood there is not as it was")
		}
		if _, err := quick.merge(there, filepath.Join(dir, "a-then.notes.toml"), true); !os.IsNotExist(err) {
			t.Fatal(err)
		}
		then := path("a-then")
		if err := os.WriteFile(then, before, 0o644); err != nil {
			t.Fatal(err)
		}
		defer os.Remove(then)
		if _, err := quick.merge(there, then, true); err != nil {
			t.Fatal(err)
		}
		one, other := said(t, a), said(t, there)
		if !slices.Equal(one, other) {
			t.Fatalf("%d notes one way, %d the other\n%s\n\n%s", len(one), len(other), merged, bytesB)
		}
		for _, s := range append(ofA, ofB...) {
			if _, is := slices.BinarySearch(one, s); !is {
				t.Fatalf("a note is lost")
			}
		}
		if len(one) != len(ofA)+len(m.Taken) {
			t.Fatalf("%d notes of %d and %d", len(one), len(ofA), len(m.Taken))
		}
		again, err := quick.merge(a, b, true)
		if now, _ := os.ReadFile(a); err != nil || !bytes.Equal(now, merged) || len(again.Taken) > 0 {
			t.Fatalf("again: %+v, %v", again, err)
		}
		for _, k := range blocks(bytesB) {
			for _, l := range strings.SplitAfter(string(k.body(bytesB)), "\n") {
				if strings.HasPrefix(l, "camber") && !bytes.Contains(merged, []byte(l)) {
					t.Fatalf("%q is not kept", l)
				}
			}
		}
		_, ids := wholeNotes(merged)
		slices.Sort(ids)
		if len(slices.Compact(slices.Clone(ids))) != len(ids) {
			t.Fatal("an id is there twice", ids)
		}
		v, err := Verify(a)
		if err != nil || slices.ContainsFunc(v.Findings, func(f Finding) bool { return f.Kind != ReplacesNone && f.Kind != ReplacedTwice }) {
			t.Fatal(v, err)
		}
	})
}

// A by hand: both copies of a book got a third note, and both corrected the first.
func TestMergeOfTwoCopies(t *testing.T) {
	dir := t.TempDir()
	a, b := filepath.Join(dir, "a.notes.toml"), filepath.Join(dir, "b.notes.toml")
	add := func(path, text, replaces string, second int) {
		t.Helper()
		n := sample(second)
		n.Text, n.Replaces = text, replaces
		if _, _, err := Append(path, n); err != nil {
			t.Fatal(err)
		}
	}
	add(a, "first", "", 0)
	data, _ := os.ReadFile(a)
	if err := os.WriteFile(b, data, 0o644); err != nil {
		t.Fatal(err)
	}
	add(a, "a's second", "", 2)
	add(a, "a's first", "2026-11-25.1", 3)
	add(b, "b's second", "", 1)
	add(b, "b's first", "2026-11-25.1", 4)
	add(b, "b's second, again", "2026-11-25.2", 5)
	m, err := Merge(a, b, true)
	if err != nil || m.Same != 1 || len(m.Taken) != 3 || len(m.Conflicts) != 1 {
		t.Fatalf("%+v, %v", m, err)
	}
	for i, want := range []struct{ text, id, was, replaces string }{
		{"b's second", "2026-11-25.5", "2026-11-25.2", ""}, // .4 is the other's third and keeps it
		{"b's first", "2026-11-25.6", "2026-11-25.3", "2026-11-25.1"},
		{"b's second, again", "2026-11-25.4", "2026-11-25.4", "2026-11-25.5"},
	} {
		if g := m.Taken[i]; g.Note.Text != want.text || g.Note.ID != want.id || g.Was != want.was || g.Note.Replaces != want.replaces {
			t.Errorf("taken %d: %q as %s, was %s, replaces %s; want %+v", i, g.Note.Text, g.Note.ID, g.Was, g.Note.Replaces, want)
		}
	}
	if c := m.Conflicts[0]; c != (Conflict{"2026-11-25.1", "2026-11-25.3", "2026-11-25.6"}) {
		t.Errorf("%+v", c)
	}
	book, err := Read(a)
	if err != nil || len(book.Notes) != 4 || len(book.All) != 6 || len(book.Told) > 0 {
		t.Errorf("%d in force of %d, %q, %v", len(book.Notes), len(book.All), book.Told, err)
	}
}

// A correction whose note is in neither book does not become the correction of one here that has
// the same id.
func TestMergeOfACorrectionOfNothing(t *testing.T) {
	dir := t.TempDir()
	a, b := filepath.Join(dir, "a.notes.toml"), filepath.Join(dir, "b.notes.toml")
	if _, _, err := Append(a, sample(0)); err != nil {
		t.Fatal(err)
	}
	n := sample(9)
	n.ID, n.Replaces = "2026-11-25.2", "2026-11-25.1"
	if err := os.WriteFile(b, append([]byte(head), encode(n)...), 0o644); err != nil {
		t.Fatal(err)
	}
	for range 2 {
		if _, err := Merge(a, b, true); err != nil {
			t.Fatal(err)
		}
		if book, _ := Read(a); len(book.Notes) != 2 {
			t.Errorf("%d notes in force, want 2", len(book.Notes))
		}
	}
	n = sample(20)
	n.At = time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)
	for range 3 {
		w, _, err := Append(b, n)
		if book, _ := Read(b); err != nil || w.ID == "2026-11-25.1" || !slices.ContainsFunc(book.Notes, func(n Note) bool { return n.ID == w.ID }) {
			t.Errorf("a new note %s does not count: %v", w.ID, err)
		}
	}
}

// A note that a hand changed in one of two copies is not there twice: what was changed counts, and what was
// written first stays where it was.
func TestMergeOfACopyChangedByHand(t *testing.T) {
	for _, changedHere := range []bool{true, false} {
		dir := t.TempDir()
		a, b := filepath.Join(dir, "a.notes.toml"), filepath.Join(dir, "b.notes.toml")
		if _, _, err := Append(a, sample(0)); err != nil {
			t.Fatal(err)
		}
		data, _ := os.ReadFile(a)
		edited := bytes.Replace(data, []byte("92.31"), []byte("91.11"), 1)
		if changedHere {
			data, edited = edited, data
		}
		if err := errors.Join(os.WriteFile(a, data, 0o644), os.WriteFile(b, edited, 0o644)); err != nil {
			t.Fatal(err)
		}
		for range 2 {
			if _, err := Merge(a, b, true); err != nil {
				t.Fatal(err)
			}
			book, err := Read(a)
			if err != nil || len(book.Notes) != 1 || book.Notes[0].Lap != 91.11 {
				t.Errorf("changed here %t: %d in force, %v", changedHere, len(book.Notes), err)
			}
			if want := map[bool]int{true: 1, false: 2}[changedHere]; len(book.All) != want {
				t.Errorf("changed here %t: %d notes, want %d", changedHere, len(book.All), want)
			}
		}
	}
}

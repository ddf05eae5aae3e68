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

// quick is the disk without waiting for it: its own promise is not what these tests look at.
var quick = disk{realDisk.write, func(*os.File) error { return nil }, func(string) error { return nil }}

// whole are the lines of a text up to a cut that have a key and its value; a cut that takes no more than the newline behind a
// text leaves it whole.
func wholeLines(text []byte) (all []string) {
	for _, l := range strings.SplitAfter(string(text), "\n") {
		if k, _, ok := strings.Cut(l, " = "); ok && strings.HasSuffix(l, "\n") && !strings.HasPrefix(l, "#") && k != "id" && k != "notes_format" {
			all = append(all, strings.TrimSuffix(l, "\n"))
		}
	}
	return all
}

// lost names a line of a note that was cut short which no one note of a book has.
func lost(book []byte, cut []string) string {
	if len(cut) == 0 || len(cut) == 1 && strings.HasPrefix(cut[0], "replaces") {
		return ""
	}
	best := cut[0]
	for _, b := range blocks(ended(book)) {
		if !b.sound {
			continue
		}
		lines := strings.Split(string(b.body(book)), "\n")
		missing := ""
		for _, l := range cut {
			if !slices.ContainsFunc(lines, func(have string) bool {
				return have == l || strings.HasPrefix(l, "text = ") && strings.HasPrefix(have, strings.TrimSuffix(l, `"`))
			}) {
				missing = l
				break
			}
		}
		if missing == "" {
			return ""
		}
		best = missing
	}
	return best
}

// Wherever a save is cut off, and whatever is saved after it: every line of it that was whole is in the
// notebook once torn notes are put back, all other notes are as they were, and doing it again changes nothing.
func TestEveryWholeLineComesBack(t *testing.T) {
	dir := t.TempDir()
	n := 0
	rapid.Check(t, func(t *rapid.T) {
		n++
		path := filepath.Join(dir, fmt.Sprint(n), "x.notes.toml")
		if err := os.Mkdir(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		var want []string
		notes := rapid.IntRange(1, 4).Draw(t, "notes")
		var ids []string
		for i := range notes {
			m := sample(i)
			m.Text = rapid.StringMatching(`[\PC\n"'\\#\[\]=]{0,20}`).Draw(t, "text")
			if i > 0 && rapid.Bool().Draw(t, "correction") {
				m.Replaces = rapid.SampledFrom(ids).Draw(t, "of")
			}
			w, _, err := quick.append(path, m)
			if err != nil {
				t.Fatal(err)
			}
			ids = append(ids, w.ID)
		}
		for range rapid.IntRange(1, 3).Draw(t, "cuts") {
			data, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			all := blocks(data)
			last := all[len(all)-1]
			cut := rapid.IntRange(last.from, len(data)-1).Draw(t, "cut at")
			want = append(want, string(data[last.from:cut]))
			if err := os.WriteFile(path, data[:cut], 0o644); err != nil {
				t.Fatal(err)
			}
			if !rapid.Bool().Draw(t, "saved after") {
				break // a save is cut off once
			}
			if _, _, err := quick.append(path, sample(rapid.IntRange(10, 50).Draw(t, "next"))); err != nil {
				t.Fatal(err)
			}
		}
		before, _ := os.ReadFile(path)
		if r, err := quick.recover(path, nil, false, time.Now()); err != nil || r.Renamed != nil {
			t.Fatal(r, err)
		}
		if now, _ := os.ReadFile(path); !bytes.Equal(now, before) {
			t.Fatal("looking changed the notebook")
		}
		r, err := quick.recover(path, nil, true, time.Now())
		if err != nil {
			t.Fatal(err)
		}
		after, _ := os.ReadFile(path)
		length, _ := wholeNotes(ended(before))
		if !bytes.HasPrefix(after, before[:min(length, len(before))]) {
			t.Fatalf("a note that was whole is not as it was: %q became %q", before, after)
		}
		for _, w := range want {
			if l := lost(after, wholeLines([]byte(w))); l != "" {
				t.Fatalf("lost: %q of %q\nbook: %s", l, w, after)
			}
		}
		if torn, _ := tornFiles(path); len(torn) > 0 {
			t.Fatalf("%s is still called torn: %q; %+v", torn[0].name, torn[0].data, r)
		}
		if again, err := quick.recover(path, nil, true, time.Now()); err != nil || len(again.Notes)+len(again.Renamed) > 0 {
			t.Fatalf("again: %+v, %v", again, err)
		}
		if now, _ := os.ReadFile(path); !bytes.Equal(now, after) {
			t.Fatal("again: the notebook changed")
		}
		b, err := Read(path)
		if err != nil || len(b.Told) > 0 {
			t.Fatal(err, b.Told)
		}
		seen := map[string]bool{}
		for _, n := range b.All {
			if seen[n.ID] {
				t.Fatal("twice:", n.ID)
			}
			seen[n.ID] = true
		}
	})
}

// A fault while notes are put back leaves everything as it was; a kill leaves what can be put back again,
// once.
func TestPuttingBackIsCutOff(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "x.notes.toml")
	book := append([]byte(head), encode(func() Note { n := sample(0); n.ID = "2026-11-25.1"; return n }())...)
	n := sample(5)
	n.ID, n.Text = "2026-11-25.2", "short"
	torn := encode(n)[:300]
	begin := func(end []byte) {
		t.Helper()
		old, _ := filepath.Glob(filepath.Join(dir, "*"))
		for _, f := range old {
			os.Remove(f)
		}
		if err := errors.Join(os.WriteFile(path, append(bytes.Clone(book), end...), 0o644), os.WriteFile(path+".torn-1", torn, 0o644)); err != nil {
			t.Fatal(err)
		}
	}
	full := errors.New("no space left on device")
	begin(nil)
	faulty := quick
	faulty.write = func(f *os.File, data []byte) (int, error) {
		n, _ := f.Write(data[:len(data)/2])
		return n, full
	}
	if _, err := faulty.recover(path, nil, true, time.Now()); !errors.Is(err, full) {
		t.Fatal(err)
	}
	if now, _ := os.ReadFile(path); !bytes.Equal(now, book) {
		t.Error("the notebook is not as it was")
	}
	if all, _ := tornFiles(path); len(all) != 1 {
		t.Error("the torn file was renamed")
	}
	r, err := quick.recover(path, nil, false, time.Now())
	if err != nil || len(r.Notes) != 1 {
		t.Fatal(r, err)
	}
	for cut := 1; cut < len(r.Notes[0].block); cut += 5 {
		begin(r.Notes[0].block[:cut])
		if _, err := quick.recover(path, nil, true, time.Now()); err != nil {
			t.Fatal(err)
		}
		after, _ := os.ReadFile(path)
		if l := lost(after, wholeLines(torn)); l != "" {
			t.Fatalf("cut at %d: lost %q", cut, l)
		}
		b, err := Read(path)
		if err != nil || len(b.Notes) > 2 || len(b.Told) > 0 {
			t.Fatalf("cut at %d: %d notes, %q, %v\n%s", cut, len(b.Notes), b.Told, err, after)
		}
	}
}

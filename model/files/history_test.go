package files

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

var noon = time.Date(2026, 5, 31, 12, 0, 0, 0, time.UTC)

// Changes are undone the last first and redone the first first, on another day by another program too; one that
// was undone and overtaken is gone from the list, and its copy stays.
func TestUndoAndRedo(t *testing.T) {
	path := write(t, filepath.Join(t.TempDir(), "car.toml"), "one", 0o644)
	h := func() History { return HistoryOf(path, 1<<20) }
	if _, err := h().Undo(); !errors.Is(err, ErrNoChange) {
		t.Errorf("undo of nothing: %v", err)
	}
	change := func(was, is, what string) {
		t.Helper()
		if err := h().Change([]byte(was), []byte(is), what, noon); err != nil {
			t.Fatal(err)
		}
		holds(t, path, is)
	}
	step := func(do func() (string, error), what, is string) {
		t.Helper()
		got, err := do()
		if err != nil || got != what {
			t.Fatalf("%q, %v; want %q", got, err, what)
		}
		holds(t, path, is)
	}
	change("one", "two", "hole N1")
	change("two", "three", "hole N2")
	step(h().Undo, "hole N2", "two")
	step(h().Undo, "hole N1", "one")
	if _, err := h().Undo(); !errors.Is(err, ErrNoChange) {
		t.Errorf("undo beyond the first: %v", err)
	}
	step(h().Redo, "hole N1", "two")
	change("two", "four", "hole N3")
	if undo, redo := h().Can(); undo != "hole N3" || redo != "" {
		t.Errorf("can undo %q, redo %q", undo, redo)
	}
	step(h().Undo, "hole N3", "two")
	found := 0
	all, _ := os.ReadDir(h().Folder())
	for _, f := range all {
		if data, _ := os.ReadFile(filepath.Join(h().Folder(), f.Name())); string(data) == "three" && strings.HasPrefix(f.Name(), "2026-05-31T12-00-00") {
			found++
		}
	}
	if found != 1 {
		t.Error("the copy of what was overtaken is gone")
	}
}

// What a hand wrote since is never taken back, and is in the copies once the program writes again.
func TestUndoLeavesEditsAlone(t *testing.T) {
	path := write(t, filepath.Join(t.TempDir(), "car.toml"), "one", 0o644)
	h := HistoryOf(path, 1<<20)
	if err := h.Change([]byte("one"), []byte("two"), "a hole", noon); err != nil {
		t.Fatal(err)
	}
	write(t, path, "by hand", 0o644)
	if _, err := h.Undo(); err == nil || !strings.Contains(err.Error(), "has been edited since") {
		t.Errorf("undo over an edit: %v", err)
	}
	holds(t, path, "by hand")
	if err := h.Change([]byte("by hand"), []byte("both"), "another hole", noon); err != nil {
		t.Fatal(err)
	}
	if what, err := h.Undo(); err != nil || what != "another hole" {
		t.Errorf("%q, %v", what, err)
	}
	holds(t, path, "by hand")
	if _, err := h.Undo(); !errors.Is(err, ErrNoChange) { // what came before was the hand's
		t.Errorf("undo of what a hand wrote: %v", err)
	}
	if err := h.Change([]byte("other"), []byte("x"), "", noon); err == nil {
		t.Error("a file that changed meanwhile is overwritten")
	}
	holds(t, path, "by hand")
}

// A list that cannot be read stops undo, and nothing is touched.
func TestBrokenHistory(t *testing.T) {
	for _, list := range []string{"now x\n", "now 3\na\tb\n", "now 0\n../car.toml\tb\n", "now 0\n", ""} {
		dir := t.TempDir()
		path := write(t, filepath.Join(dir, "car.toml"), "one", 0o644)
		h := HistoryOf(path, 1<<20)
		if err := os.Mkdir(h.Folder(), 0o755); err != nil {
			t.Fatal(err)
		}
		write(t, filepath.Join(h.Folder(), "order"), list, 0o644)
		if _, err := h.Undo(); err == nil {
			t.Errorf("%q: undone", list)
		}
		if undo, redo := h.Can(); undo != "" || redo != "" {
			t.Errorf("%q: can undo %q, redo %q", list, undo, redo)
		}
		holds(t, path, "one")
	}
}

// Whatever stands in the list, undo and redo never touch a file that they do not know, nor leave the folder.
func FuzzOrder(f *testing.F) {
	f.Add("now 1\na.toml\tas it was\nb.toml\thole N1\n")
	f.Add("now 0\n../x\ty\n")
	f.Add("now 99999999999999999999\n")
	f.Fuzz(func(t *testing.T, list string) {
		dir := t.TempDir()
		path := write(t, filepath.Join(dir, "car.toml"), "one", 0o644)
		h := HistoryOf(path, 1<<20)
		if err := os.Mkdir(h.Folder(), 0o755); err != nil {
			t.Fatal(err)
		}
		write(t, filepath.Join(h.Folder(), "order"), list, 0o644)
		write(t, filepath.Join(h.Folder(), "a.toml"), "another", 0o644)
		_, _ = h.Can()
		_, _ = h.Undo()
		_, _ = h.Redo()
		holds(t, path, "one")
	})
}

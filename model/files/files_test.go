package files

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

func write(t *testing.T, path, text string, mode fs.FileMode) string {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), mode); err != nil {
		t.Fatal(err)
	}
	return path
}

func holds(t *testing.T, path, want string) {
	t.Helper()
	if got, err := os.ReadFile(path); err != nil || string(got) != want {
		t.Errorf("%s holds %q (%v), want %q", filepath.Base(path), got, err, want)
	}
}

// An editor that saves while the new file is on its way to a slow disk is not
// overwritten.
func TestReplaceComparesLast(t *testing.T) {
	path := write(t, filepath.Join(t.TempDir(), "car.toml"), "old", 0o644)
	slow := disk{func(f *os.File) error {
		write(t, path, "the editor's", 0o644)
		return f.Sync()
	}}
	if err := slow.replace(path, []byte("old"), []byte("new")); !errors.Is(err, ErrChanged) {
		t.Errorf("replaced a file that an editor had saved: %v", err)
	}
	holds(t, path, "the editor's")
	if left, _ := filepath.Glob(filepath.Join(filepath.Dir(path), ".*")); len(left) > 0 {
		t.Errorf("left behind: %q", left)
	}
}

func TestReplaceKeepsModeAndLinks(t *testing.T) {
	dir := t.TempDir()
	path := write(t, filepath.Join(dir, "real.toml"), "old", 0o640)
	link := filepath.Join(dir, "link.toml")
	if err := os.Symlink("real.toml", link); err != nil {
		t.Skip(err)
	}
	if err := Replace(link, []byte("old"), []byte("new")); err != nil {
		t.Fatal(err)
	}
	holds(t, path, "new")
	info, _ := os.Lstat(path)
	if to, err := os.Readlink(link); err != nil || to != "real.toml" || info.Mode().Perm() != 0o640 {
		t.Errorf("the link leads to %q (%v), the mode is %v, want real.toml and 0640", to, err, info.Mode())
	}
}

func TestReplaceRefusesReadOnly(t *testing.T) {
	path := write(t, filepath.Join(t.TempDir(), "car.toml"), "old", 0o444)
	if err := Replace(path, []byte("old"), []byte("new")); err == nil || !strings.Contains(err.Error(), "read-only") {
		t.Errorf("a read-only file: %v", err)
	}
	holds(t, path, "old")
}

// A disk that fails leaves the old file and nothing else.
func TestReplaceOnAFailingDisk(t *testing.T) {
	path := write(t, filepath.Join(t.TempDir(), "car.toml"), "old", 0o644)
	full := disk{func(*os.File) error { return errors.New("no space left") }}
	if err := full.replace(path, []byte("old"), []byte("new")); err == nil {
		t.Error("no error from a full disk")
	}
	holds(t, path, "old")
	if all, _ := os.ReadDir(filepath.Dir(path)); len(all) != 1 {
		t.Errorf("%d files are there, want 1", len(all))
	}
}

// What a killed program left is cleared away by the next one, and nothing else.
func TestReplaceTidies(t *testing.T) {
	dir := t.TempDir()
	path := write(t, filepath.Join(dir, "car.toml"), "old", 0o644)
	stale := write(t, filepath.Join(dir, ".car.toml.stanchion-123"), "x", 0o600)
	young := write(t, filepath.Join(dir, ".car.toml.stanchion-456"), "x", 0o600)
	other := write(t, filepath.Join(dir, ".car.toml.swp"), "x", 0o600)
	for _, f := range []string{stale, other} {
		if err := os.Chtimes(f, time.Time{}, time.Now().Add(-time.Hour)); err != nil {
			t.Fatal(err)
		}
	}
	if err := Replace(path, []byte("old"), []byte("new")); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(stale); !errors.Is(err, fs.ErrNotExist) {
		t.Error("the leftover is still there")
	}
	holds(t, young, "x")
	holds(t, other, "x")
}

func TestReadRefusesWhatIsNoFile(t *testing.T) {
	dir := t.TempDir()
	if _, err := Read(dir, 10); err == nil || !strings.Contains(err.Error(), "folder") {
		t.Errorf("a folder: %v", err)
	}
	if _, err := Read(write(t, filepath.Join(dir, "large"), "12345678901", 0o644), 10); err == nil || !strings.Contains(err.Error(), "larger") {
		t.Errorf("11 bytes of 10: %v", err)
	}
	link := filepath.Join(dir, "endless")
	if err := os.Symlink("/dev/zero", link); err == nil {
		if _, err := Read(link, 10); err == nil || !strings.Contains(err.Error(), "regular") {
			t.Errorf("an endless device: %v", err)
		}
	}
}

func TestOutputNeedsLeave(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.svg")
	if err := Output(path, []byte("1"), false); err != nil {
		t.Fatal(err)
	}
	if err := Output(path, []byte("2"), false); !errors.Is(err, fs.ErrExist) {
		t.Errorf("written over: %v", err)
	}
	holds(t, path, "1")
	if err := Output(path, []byte("3"), true); err != nil {
		t.Fatal(err)
	}
	holds(t, path, "3")
}

func TestResolve(t *testing.T) {
	dir, err := filepath.EvalSymlinks(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("not-there.toml", filepath.Join(dir, "link")); err != nil {
		t.Skip(err)
	}
	for _, name := range []string{"link", "not-there.toml"} {
		if got, err := Resolve(filepath.Join(dir, name)); err != nil || got != filepath.Join(dir, "not-there.toml") {
			t.Errorf("%s resolves to %q, %v", name, got, err)
		}
	}
}

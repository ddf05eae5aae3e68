package logbook

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
)

// An editor that replaces the notebook while a note is on its way to the disk does not
// take the note away: it is written again, into the file that is there now.
func TestNotebookReplacedWhileSaving(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "x.notes.toml")
	if _, _, err := Append(path, sample(0)); err != nil {
		t.Fatal(err)
	}
	for name, save := range map[string]func([]byte) error{
		"by rename": func(data []byte) error {
			if err := os.WriteFile(path+"~", data, 0o644); err != nil {
				return err
			}
			return os.Rename(path+"~", path)
		},
		"in place": func(data []byte) error { return os.WriteFile(path, data, 0o644) },
	} {
		before, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		saves := 0
		d := realDisk
		d.sync = func(f *os.File) error {
			err := f.Sync()
			if saves++; saves == 1 {
				err = save(append(bytes.Clone(before), "# the editor's remark\n"...))
			}
			return err
		}
		n, _, err := d.append(path, sample(7))
		if err != nil {
			t.Fatal(name, err)
		}
		b, err := Read(path)
		if _, ok := b.Find(n.ID); !ok || err != nil || len(b.Told) > 0 {
			t.Errorf("%s: the note %s that was called saved is not there (%v, %q)", name, n.ID, err, b.Told)
		}
		if data, _ := os.ReadFile(path); !bytes.Contains(data, []byte("the editor's remark")) {
			t.Errorf("%s: what the editor saved is gone", name)
		}
	}
}

// An editor that never stops replacing the file ends in an error, not in "saved".
func TestNotebookReplacedWithoutEnd(t *testing.T) {
	path := filepath.Join(t.TempDir(), "x.notes.toml")
	d := realDisk
	d.sync = func(*os.File) error { return os.WriteFile(path, []byte(head), 0o644) }
	if _, _, err := d.append(path, sample(0)); err == nil || !strings.Contains(err.Error(), "not saved") {
		t.Errorf("%v, want that the note is not saved", err)
	}
}

// Two names of one notebook have one lock: no note of either is lost.
func TestOneLockForAllNames(t *testing.T) {
	dir := t.TempDir()
	path, link := filepath.Join(dir, "x.notes.toml"), filepath.Join(dir, "link.notes.toml")
	if err := os.Symlink("x.notes.toml", link); err != nil {
		t.Skip(err)
	}
	const each = 40
	var writers sync.WaitGroup
	for _, name := range []string{path, link} {
		writers.Go(func() {
			for i := range each {
				if _, _, err := Append(name, sample(i)); err != nil {
					t.Error(err)
				}
			}
		})
	}
	writers.Wait()
	if b, err := Read(path); err != nil || len(b.Notes) != 2*each || len(b.Told) > 0 {
		t.Errorf("%d notes, want %d (%v, %q)", len(b.Notes), 2*each, err, b.Told)
	}
	if _, err := os.Stat(link + ".lock"); err == nil {
		t.Error("the link has a lock of its own")
	}
}

// A lock that only its maker may open keeps a second user from writing.
func TestOthersMayLock(t *testing.T) {
	path := filepath.Join(t.TempDir(), "x.notes.toml")
	if _, _, err := Append(path, sample(0)); err != nil {
		t.Fatal(err)
	}
	info, err := os.Stat(path + ".lock")
	if err != nil || info.Mode().Perm()&0o044 != 0o044 {
		t.Errorf("the lock's mode is %v (%v), want it readable by all", info.Mode(), err)
	}
}

// Text in two-byte characters is refused with what to do, and not set aside as torn.
func TestUTF16IsRefused(t *testing.T) {
	for name, data := range map[string]string{"little": "\xff\xfen\x00o\x00", "big": "\xfe\xff\x00n\x00o", "without a mark": "n\x00o\x00t\x00"} {
		path := filepath.Join(t.TempDir(), "x.notes.toml")
		if err := os.WriteFile(path, []byte(data), 0o644); err != nil {
			t.Fatal(err)
		}
		_, readErr := Read(path)
		_, told, err := Append(path, sample(0))
		for _, e := range []error{readErr, err} {
			if e == nil || !strings.Contains(e.Error(), "save it as UTF-8") {
				t.Errorf("%s: %v", name, e)
			}
		}
		if after, _ := os.ReadFile(path); string(after) != data || told != "" {
			t.Errorf("%s: the file was changed", name)
		}
	}
}

// A link to an endless device is no notebook.
func TestDeviceIsRefused(t *testing.T) {
	path := filepath.Join(t.TempDir(), "x.notes.toml")
	if err := os.Symlink("/dev/zero", path); err != nil {
		t.Skip(err)
	}
	if _, err := Read(path); err == nil {
		t.Error("an endless device was read")
	}
	if _, _, err := Append(path, sample(0)); err == nil {
		t.Error("a note was written to a device")
	}
}

// Brackets without end in a note are no stack overflow.
func TestDeepNoteIsNotRead(t *testing.T) {
	text := head + "\n[[note]]\nx = " + strings.Repeat("[", 3_000_000) + "\n# end x 00000000\n"
	if b := parse("x", []byte(text)); len(b.All) != 0 || len(b.Told) != 1 {
		t.Errorf("%d notes, told %.200q", len(b.All), b.Told)
	}
}

// BenchmarkRead shows that reading grows in proportion: ns per note at 1000 and at
// 20 000 notes.
func BenchmarkRead(b *testing.B) {
	for _, n := range []int{1000, 20_000} {
		var data bytes.Buffer
		data.WriteString(head)
		for i := range n {
			note := sample(i)
			note.ID = newID(note.At, i+1)
			data.Write(encode(note))
		}
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				if book := parse("x", data.Bytes()); len(book.Notes) != n {
					b.Fatalf("%d notes", len(book.Notes))
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/note")
		})
	}
}

package logbook

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// What a person's editor does to a notebook loses no note, and is told where it
// matters.
func TestEditedByHand(t *testing.T) {
	for _, c := range []struct {
		name  string
		edit  func(string) string
		notes int    // that are listed, of three
		told  string // part of what is told; "" for nothing
	}{
		{"no newline at the end", func(s string) string { return strings.TrimSuffix(s, "\n") }, 3, ""},
		{"a remark at the end", func(s string) string { return s + "# tyres were new\n\n" }, 3, ""},
		{"a remark behind the opening", func(s string) string { return last(s, "[[note]]", "[[note]]  # third") }, 3, "changed by hand"},
		{"a spaced opening", func(s string) string { return last(s, "[[note]]", "  [[ note ]]") }, 3, "changed by hand"},
		{"a remark behind the format", func(s string) string {
			return strings.Replace(s, "notes_format = 1", "notes_format = 1 # do not touch", 1)
		}, 3, ""},
		{"an id twice", func(s string) string { return strings.Replace(s, `id = "2026-11-25.2"`, `id = "2026-11-25.1"`, 1) }, 3, "2026-11-25.1 is there twice"},
		{"an id that acts on the terminal", func(s string) string {
			return strings.Replace(s, `id = "2026-11-25.2"`, `id = "\u001b[2J\u009b"`, 1)
		}, 3, `\u001b[2J\u009b was changed`},
		{"a note that replaces itself", func(s string) string { return last(s, "place =", "replaces = \"2026-11-25.3\"\nplace =") }, 3, "changed by hand"},
		{"a lap of an age", func(s string) string { return last(s, "lap_s = 92.31", "lap_s = 1e300") }, 3, "not usable: lap_s"},
		{"a grip of seven", func(s string) string { return last(s, "rear_grip_fast = 2", "rear_grip_fast = 7") }, 3, "not usable: rear_grip_fast"},
	} {
		path := filepath.Join(t.TempDir(), "x.notes.toml")
		for i := range 3 {
			if _, _, err := Append(path, sample(i)); err != nil {
				t.Fatal(err)
			}
		}
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		edited := c.edit(string(data))
		if edited == string(data) {
			t.Fatalf("%s: nothing is edited", c.name)
		}
		if err := os.WriteFile(path, []byte(edited), 0o644); err != nil {
			t.Fatal(err)
		}
		b, err := Read(path)
		told := strings.Join(b.Told, "\n")
		if err != nil || len(b.Notes) != c.notes || (told == "") != (c.told == "") || !strings.Contains(told, c.told) {
			t.Errorf("%s: %d notes, told %q, %v", c.name, len(b.Notes), told, err)
		}
		n, aside, err := Append(path, sample(9))
		if err != nil || aside != "" {
			t.Errorf("%s: the next note: set aside %q, %v", c.name, aside, err)
		}
		after, _ := os.ReadFile(path)
		if !strings.HasPrefix(string(after), strings.TrimSuffix(edited, "\n")) {
			t.Errorf("%s: the next note changes what was there", c.name)
		}
		if b, _ := Read(path); len(b.Notes) != c.notes+1 || b.Notes[len(b.Notes)-1].ID != n.ID {
			t.Errorf("%s: %d notes after the next", c.name, len(b.Notes))
		}
	}
}

// last replaces the last place of a text.
func last(s, old, with string) string {
	i := strings.LastIndex(s, old)
	return s[:i] + with + s[i+len(old):]
}

// Notes are in the order of their time, whatever the order they were written in.
func TestOrderOfTime(t *testing.T) {
	path := filepath.Join(t.TempDir(), "x.notes.toml")
	for _, i := range []int{5, 2, 8} {
		if _, _, err := Append(path, sample(i)); err != nil {
			t.Fatal(err)
		}
	}
	b, err := Read(path)
	if err != nil || len(b.Notes) != 3 || b.Notes[0].At.Second() != 2 || b.Notes[2].At.Second() != 8 {
		t.Errorf("%+v, %v", b.Notes, err)
	}
}

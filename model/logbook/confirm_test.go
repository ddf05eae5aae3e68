package logbook

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// changedBook is a notebook of three notes, the last of which corrects the second, with a key of a newer program and
// a word changed by hand in one of them.
func changedBook(t *testing.T, in string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "x.notes.toml")
	data := []byte(head)
	for i, replaces := range []string{"", "", "2026-11-25.2"} {
		n := sample(i)
		n.ID, n.Replaces = newID(n.At, i+1), replaces
		body := append(bytes.TrimLeft(encode(n), "\n"), "\n"...)
		body = append(body[:bytes.LastIndex(body, []byte(closing))], "newer_key = [1, 2] # kept\n"...)
		text, err := sealed(body, n.ID)
		if err != nil {
			t.Fatal(err)
		}
		if n.ID == in {
			text = bytes.Replace(text, []byte("Invented airfield"), []byte("Another place"), 1)
		}
		data = append(data, text...)
	}
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestConfirm(t *testing.T) {
	now := time.Date(2026, 11, 26, 9, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		in      string
		inForce []string
	}{
		{"2026-11-25.1", []string{"2026-11-25.4", "2026-11-25.3"}}, // by time
		{"2026-11-25.2", []string{"2026-11-25.1", "2026-11-25.3"}}, // it is corrected already and stays so
		{"2026-11-25.3", []string{"2026-11-25.1", "2026-11-25.4"}},
	} {
		path := changedBook(t, c.in)
		before, _ := os.ReadFile(path)
		if v, err := Verify(path); err != nil || len(v.Findings) != 1 || v.Findings[0].Kind != ChangedByHand || v.Findings[0].ID != c.in {
			t.Fatalf("%s: %+v, %v", c.in, v.Findings, err)
		}
		if _, err := Recover(path, []string{c.in}, true, now); err != nil {
			t.Fatal(err)
		}
		after, _ := os.ReadFile(path)
		if !bytes.HasPrefix(after, before) {
			t.Errorf("%s: what stood there is not as it was", c.in)
		}
		b, err := Read(path)
		var ids []string
		for _, n := range b.Notes {
			ids = append(ids, n.ID)
			if n.Confirms != "" && (n.Venue != "Another place" || !strings.Contains(string(after[len(before):]), "newer_key = [1, 2] # kept\n")) {
				t.Errorf("%s: confirmed as %q", c.in, after[len(before):])
			}
		}
		if err != nil || len(b.Told) > 0 || !slices.Equal(ids, c.inForce) {
			t.Errorf("%s: in force %q, want %q; %q, %v", c.in, ids, c.inForce, b.Told, err)
		}
		if v, err := Verify(path); err != nil || len(v.Findings) > 0 {
			t.Errorf("%s: %+v, %v", c.in, v.Findings, err)
		}
		if _, err := Recover(path, []string{c.in}, true, now); err == nil {
			t.Errorf("%s: confirmed twice", c.in)
		}
	}
}

// A correction that was cut short has what is behind the cut from the note that it corrects, save what was predicted
// where the setting is another, and the key in which it was cut; where that note is corrected already, it is
// taken back at once.
func TestACorrectionCutShort(t *testing.T) {
	now := time.Date(2026, 11, 26, 9, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		name, torn string
		between    bool // another correction was written after it
		want       func(n Note) bool
		inForce    int
	}{
		{"the lap cut", "replaces = \"2026-11-25.1\"\nat = 2026-11-25T10:30:00Z\nplace = \"Elsewhere\"\nsetting = \"1:k1+2:k2/A:F+A2:R\"\nspeed_m_s = 44.44\nlap_s = 9", false,
			func(n Note) bool {
				return n.Venue == "Elsewhere" && n.Lap != n.Lap && n.Tyres[1] != n.Tyres[1] && n.Feel.RearFast == 2 && n.Expected.Downforce == 529.4
			}, 1},
		{"another setting", "replaces = \"2026-11-25.1\"\nat = 2026-11-25T10:30:00Z\nplace = \"Elsewhere\"\nsetting = \"other\"\nspeed_m_s = 44.44\n", false,
			func(n Note) bool {
				return n.Lap == 92.31 && n.Expected.Downforce != n.Expected.Downforce && strings.HasPrefix(n.Text, sample(0).Text+"\n"+recoveredMark)
			}, 1},
		{"corrected since", "replaces = \"2026-11-25.1\"\nat = 2026-11-25T10:30:00Z\nplace = \"Elsewhere\"\n", true,
			func(n Note) bool { return n.Venue == "Invented airfield" }, 1},
	} {
		path := filepath.Join(t.TempDir(), "x.notes.toml")
		if _, _, err := Append(path, sample(0)); err != nil {
			t.Fatal(err)
		}
		data, _ := os.ReadFile(path)
		if err := os.WriteFile(path, append(data, "\n[[note]]\nid = \"2026-11-25.2\"\n"+c.torn...), 0o644); err != nil {
			t.Fatal(err)
		}
		if c.between {
			n := sample(1)
			n.Replaces = "2026-11-25.1"
			if _, _, err := Append(path, n); err != nil {
				t.Fatal(err)
			}
		}
		if _, err := Recover(path, nil, true, now); err != nil {
			t.Fatal(err)
		}
		b, err := Read(path)
		if err != nil || len(b.Notes) != c.inForce || !c.want(b.Notes[0]) {
			t.Errorf("%s: %d in force, %+v, %v", c.name, len(b.Notes), b.Notes, err)
		}
		if v, err := Verify(path); err != nil || len(v.Findings) > 0 {
			t.Errorf("%s: %+v, %v", c.name, v.Findings, err)
		}
	}
}

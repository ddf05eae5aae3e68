package tui

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stanchion/model"
	"stanchion/model/carfile"
	"stanchion/model/logbook"
	"stanchion/model/units"
)

func braille(r rune) bool { return r >= 0x2800 && r < 0x2900 }

// walked is what a walk line by line prints for lines typed.
func walked(t *testing.T, m Model, lines ...string) string {
	t.Helper()
	var out bytes.Buffer
	if err := Plain(m, strings.NewReader(strings.Join(lines, "\n")+"\n"), &out); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

func fresh(t *testing.T, demo string) Model {
	t.Helper()
	car, err := carfile.Demo(demo)
	if err != nil {
		t.Fatal(err)
	}
	return New(Source{Name: "test", Load: func() (*model.Car, error) { return car, nil }}, car, car.Speed, units.Metric)
}

// The walk in words is kept as a screen is, and no drawing gets into it.
func TestPlainWalk(t *testing.T) {
	got := walked(t, fresh(t, "coupe"), "left", "space", "up f", "w", "esc", "t", "t", "y", "esc", ":", "hole", "esc", "v", "120km/h", "/", "A A3 4", "i", "49.9", "0.3", ".", "d", "right", "esc", "nothing", "q", "left")
	if strings.ContainsFunc(got, braille) || strings.ContainsAny(got, "\x1b▸◆•×│─") {
		t.Errorf("there is drawing in it:\n%s", got)
	}
	path := filepath.Join("../testdata/screens", "plain.txt")
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil || string(want) != got {
		t.Errorf("the walk has changed (%v):\n%s", err, got)
	}
}

// Every key of the explorer works in words, and none ends the walk but q.
func TestPlainHasEveryKey(t *testing.T) {
	var lines []string
	n := 0
	for _, a := range keyTable() {
		for _, k := range a.keys {
			if k == "q" || k == "ctrl+c" {
				continue
			}
			if k == " " {
				k = "space"
			}
			lines = append(lines, k, "esc", "esc", "G", "g")
			n++
		}
	}
	if got := strings.Count(walked(t, fresh(t, "coupe"), lines...), "Setting row 1, A1,"); got < n {
		t.Errorf("after %d keys the walk went on %d times", n, got)
	}
}

// A note is taken line by line, and a fault in it asks again.
func TestPlainNote(t *testing.T) {
	m := fresh(t, "coupe")
	var saved logbook.Note
	m.src.AddNote = func(n logbook.Note) (logbook.Note, string, error) {
		n.ID = "n1"
		saved = n
		return n, "", nil
	}
	m.src.Notes = func() (logbook.Book, error) { return logbook.Book{}, errors.New("not now") }
	got := walked(t, m, "m", "o2", "", "", "0", "fine", "lap", "save", "1:42.3", "wind: 4m/s head", "save")
	if saved.Text != "fine" || saved.Feel.Fast != logbook.Whole(2) || saved.Feel.Straight != 0 || saved.Lap != 102.3 || saved.Wind != (logbook.Wind{Speed: 4}) || !strings.Contains(got, "saved as n1") {
		t.Errorf("noted %+v:\n%s", saved, got)
	}
}

package tui

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/x/ansi"

	"stanchion/model/logbook"
)

// checksBook is a notebook of a car that was looked over, and then driven 62 laps.
func checksBook(id string) logbook.Book {
	at := time.Date(2026, 5, 1, 9, 0, 0, 0, time.UTC)
	var b logbook.Book
	note := func(name string, n logbook.Note) {
		n.ID, n.At = name, at
		at = at.Add(24 * time.Hour)
		b.All = append(b.All, n)
		if n.Inspecting() {
			b.Checks = append(b.Checks, n)
		} else {
			b.Notes = append(b.Notes, n)
		}
	}
	run, look := logbook.Blank(), logbook.Blank()
	run.Setting, run.LapsRun = id, 31
	look.Inspected = logbook.Inspection{Looked: []string{"torque foot", "torque head", "paint marks", "inserts", "play", "lid pins", "end plates",
		"cracks bracket", "cracks upright"}, By: "A. Smith (invented)", Setting: id}
	note("2026-05-01.1", run)
	note("2026-05-02.1", look)
	note("2026-05-03.1", run)
	note("2026-05-04.1", run)
	return b
}

// withChecks is the explorer of the demo with that notebook; what is saved is put into it.
func withChecks(t *testing.T, w, h int) (Model, *logbook.Book) {
	t.Helper()
	m := opened(t, "coupe", w, h)
	b := checksBook(m.row().ID)
	m.src.Notes = func() (logbook.Book, error) { return b, nil }
	m.src.AddNote = func(n logbook.Note) (logbook.Note, string, error) {
		n.ID, n.At = "2026-05-05.1", time.Date(2026, 5, 5, 9, 0, 0, 0, time.UTC)
		b.All, b.Checks = append(b.All, n), append(b.Checks, n)
		return n, "", nil
	}
	m.src.Now = func() time.Time { return time.Date(2026, 5, 5, 10, 0, 0, 0, time.UTC) }
	return m.withBook(b), &b
}

func TestChecksScreens(t *testing.T) {
	for _, size := range [][2]int{{50, 20}, {80, 24}, {120, 40}, {200, 60}} {
		w, h := size[0], size[1]
		m, _ := withChecks(t, w, h)
		first, _, _ := strings.Cut(ansi.Strip(m.View()), "\n")
		if !strings.Contains(first, "9 overdue") && !strings.Contains(first, "9 checks overdue: torque foot") || w >= 80 && !strings.Contains(first, "overdue: torque foot") {
			t.Errorf("%d×%d: the first line is %q", w, h, first)
		}
		m = keys(t, m, "%")
		golden(t, fmt.Sprintf("checks-%dx%d", w, h), m)
		golden(t, fmt.Sprintf("checks-ticked-%dx%d", w, h), keys(t, m, "j", "j", " ", "j", "j"))
	}
}

// What is ticked and failed is on the disk as one note; the first line then says STOP, and the list is fresh.
func TestChecksAreSaved(t *testing.T) {
	m, b := withChecks(t, 120, 40)
	m = keys(t, m, "%", "enter")
	if c, ok := in[checksMode](m); !ok || !strings.Contains(c.fault, "nothing is noted") {
		t.Fatalf("an empty list is saved: %+v", m.open)
	}
	m = keys(t, m, "j", "f")
	m = typeIn(t, m, "crack at k3")
	m = keys(t, m, "a", "b")
	m = typeIn(t, m, "B. Jones")
	m = keys(t, m, "s")
	if v := ansi.Strip(m.View()); !strings.Contains(v, "not saved yet: 9 ticked, struck: kerb, found: crack at k3, by: B. Jones") || !strings.Contains(v, "[FAILED]") {
		t.Errorf("%s", v)
	}
	if left := keys(t, m, "esc"); left.open == nil || !strings.Contains(ansi.Strip(left.View()), "is not saved") {
		t.Error("esc drops what is ticked without a word")
	} else if left = keys(t, left, "esc"); left.open != nil {
		t.Error("the second esc does not leave")
	}
	m = keys(t, m, "enter")
	if len(b.Checks) != 2 {
		t.Fatalf("%d looks are noted", len(b.Checks))
	}
	k := b.Checks[1].Inspected
	if len(k.Looked) != 9 || len(k.Failed) != 1 || k.Failed[0] != "torque head" || k.Found != "crack at k3" || k.By != "B. Jones" || k.Struck != "kerb" ||
		k.Setting != m.row().ID {
		t.Errorf("%+v", k)
	}
	c, _ := in[checksMode](m)
	if c.unsaved() || c.by != "B. Jones" {
		t.Errorf("%+v", c)
	}
	if first, _, _ := strings.Cut(ansi.Strip(keys(t, m, "esc").View()), "\n"); !strings.Contains(first, "STOP: torque head failed") {
		t.Errorf("the first line is %q", first)
	}
}

// A disk that fails takes nothing away.
func TestChecksSurviveTheDisk(t *testing.T) {
	m, _ := withChecks(t, 80, 24)
	m.src.AddNote = func(n logbook.Note) (logbook.Note, string, error) { return n, "", errors.New("no space left") }
	m = keys(t, m, "%", " ", "enter")
	c, ok := in[checksMode](m)
	if !ok || !strings.Contains(c.fault, "no space left") || len(c.ticked) != 1 || m.saving {
		t.Errorf("%+v", m.open)
	}
}

// A demo has the list, and no notebook to save it in.
func TestChecksOfADemo(t *testing.T) {
	m := keys(t, opened(t, "coupe", 80, 24), "%")
	if v := ansi.Strip(m.View()); !strings.Contains(v, "There is no notebook") || strings.Contains(v, "overdue") {
		t.Errorf("%s", v)
	}
	if c, _ := in[checksMode](keys(t, m, " ", "enter")); !strings.Contains(c.fault, "no notebook") || len(c.ticked) != 1 {
		t.Errorf("%+v", c)
	}
}

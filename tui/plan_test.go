package tui

import (
	"errors"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"

	"stanchion/model/logbook"
	"stanchion/model/plan"
)

// The plan of a day: what comes next is on the screen, run and lost go into the file, the rest is planned anew, and all is taken back.
func TestPlanFollowed(t *testing.T) {
	m := opened(t, "saloon", 80, 24)
	path := filepath.Join(t.TempDir(), "car.plan.toml")
	m.src.Plan = func() (plan.Kept, error) { return plan.Load(path) }
	m.src.KeepPlan = func(k plan.Kept) error { return k.Save(path) }
	key := func(m Model, name string) Model {
		next, cmd := m.Update(keyMsg(name))
		return done(t, next.(Model), cmd)
	}
	m = key(m, "&")
	for _, say := range []string{"Session 1, +0:00: A", "Order: A B B A A B", "esc back"} {
		if !strings.Contains(m.View(), say) {
			t.Errorf("%q is not on the screen:\n%s", say, m.View())
		}
	}
	if _, err := plan.Load(path); err == nil {
		t.Error("looking at the plan wrote a file")
	}
	m = key(key(m, "r"), "l")
	k, err := plan.Load(path)
	if err != nil || len(k.Past) != 2 || k.Past[0].State != plan.Run || k.Past[1].State != plan.LostSession {
		t.Fatalf("kept %+v, %v", k.Past, err)
	}
	if !strings.Contains(m.View(), "Session 3, +2:00") || strings.Contains(m.View(), "Order: A B B A A B") {
		t.Errorf("the rest is not planned anew:\n%s", m.View())
	}
	m = key(m, "x")
	if k, _ = plan.Load(path); len(k.Past) != 1 || !strings.Contains(m.View(), "Order: A B B A A B") {
		t.Errorf("taken back: %+v", k.Past)
	}
	next := as[planMode](m).plan
	want := next.Candidates[next.Next().Setting].Row.ID
	if m = key(m, "enter"); !m.walking() || m.row().ID != want {
		t.Errorf("enter leads to %s, want %s", m.row().ID, want)
	}

	// A day that is over, or of the past, makes room for a new one; today's sessions do not.
	m = key(key(m, "&"), "N")
	if !strings.Contains(m.View(), "still to come") {
		t.Errorf("a day that is not over makes room:\n%s", m.View())
	}
	for range 6 {
		m = key(m, "l")
	}
	m = key(m, "N")
	if k, err = plan.Load(path); err != nil || len(k.Past) != 0 || !strings.Contains(m.View(), "Order: A B B A A B") {
		t.Errorf("a new day: %+v, %v", k.Past, err)
	}

	// What cannot be kept is said, and the page stays.
	m.src.KeepPlan = func(plan.Kept) error { return errors.New("no space left on device") }
	m = key(key(m, "&"), "r")
	if !strings.Contains(m.View(), "no space left on device") {
		t.Errorf("not said:\n%s", m.View())
	}
}

// On a demo nothing is kept but what the page holds; small terminals have the way back on the last line.
func TestPlanOfDemo(t *testing.T) {
	for _, size := range [][2]int{{50, 20}, {80, 24}, {200, 60}} {
		m := opened(t, "saloon", size[0], size[1])
		for _, name := range []string{"&", "r", "r", "l", " ", "u"} {
			next, cmd := m.Update(keyMsg(name))
			m = done(t, next.(Model), cmd)
			lines := strings.Split(ansi.Strip(m.View()), "\n")
			for _, l := range lines {
				if len(lines) != size[1] || ansi.StringWidth(l) > size[0] {
					t.Fatalf("%s at %v: %d lines, one is %q", name, size, len(lines), l)
				}
			}
		}
		if d := as[planMode](m); len(d.plan.Past) != 3 || d.plan.Next().Number != 4 {
			t.Errorf("at %v: %d sessions are over", size, len(d.plan.Past))
		}
		if lines := strings.Split(m.View(), "\n"); !strings.Contains(lines[len(lines)-1], "esc back") {
			t.Errorf("at %v the last line is %q", size, lines[len(lines)-1])
		}
	}
}

// What failed stands before the next session until it is put right.
func TestPlanSaysStop(t *testing.T) {
	m, b := withChecks(t, 50, 20)
	m.src.Plan = func() (plan.Kept, error) { return plan.Kept{}, fs.ErrNotExist }
	next, cmd := m.Update(keyMsg("&"))
	if m := done(t, next.(Model), cmd); strings.Contains(m.View(), "STOP") {
		t.Errorf("nothing failed:\n%s", m.View())
	}
	fail := logbook.Blank()
	fail.ID, fail.At = "2026-05-05.1", b.All[len(b.All)-1].At
	fail.Inspected = logbook.Inspection{Failed: []string{"cracks upright"}, Found: "crack at k3"}
	b.All, b.Checks = append(b.All, fail), append(b.Checks, fail)
	next, cmd = m.withBook(*b).Update(keyMsg("&"))
	text := ansi.Strip(done(t, next.(Model), cmd).View())
	if at := strings.Index(text, "STOP: cracks in the upright"); at < 0 || at > strings.Index(text, "Session 1") {
		t.Errorf("a failed check does not stand before the next session:\n%s", text)
	}
}

package tui

import (
	"context"
	"errors"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/holes"
	"stanchion/model/logbook"
	"stanchion/model/modeltest"
	"stanchion/model/units"
)

// A target that is taken away while the maps show it leaves them with the downforce.
func TestTargetTakenAway(t *testing.T) {
	m := keys(t, wish(t, opened(t, "coupe", 80, 24), "49.9", "0.3"), "0")
	if paintings()[m.paint].key != "0" {
		t.Fatal("the maps do not show the target")
	}
	open := keys(t, m, "i")
	for i := range as[targetMode](open).form.Fields {
		as[targetMode](open).form.Fields[i].SetValue("")
	}
	gone := keys(t, open, "enter")
	if gone.View(); gone.target != nil || gone.paint != 0 {
		t.Errorf("target %v, painted by %d", gone.target, gone.paint)
	}
}

// The lines of equal downforce follow the units.
func TestContoursFollowUnits(t *testing.T) {
	m := keys(t, opened(t, "coupe", 120, 40), "t")
	if v := m.View(); !strings.Contains(v, "─300─") {
		t.Fatalf("no line at 300 N:\n%s", v)
	}
	m = keys(t, m, "u")
	for m.units != units.Imperial {
		m = keys(t, m, "u")
	}
	if v := m.View(); strings.Contains(v, "─300─") || !strings.Contains(v, "lbf") {
		t.Errorf("lines at newtons stand under pounds:\n%s", v)
	}
}

// Strength stays on the map through a reload, and through showing a place bolted another way.
func TestSlowPaintingsStay(t *testing.T) {
	m := keys(t, openedCar(t, modeltest.File(t, "hatch.toml"), 120, 40), "7")
	value := func(m Model) float64 { return m.paintedNow().values[m.current] }
	if !(value(m) > 0) {
		t.Fatalf("± %g", value(m))
	}
	for i := range m.table.Rows {
		if r := &m.table.Rows[i]; len(r.Alternatives) > 0 && r.Within() {
			m = keys(t, m.show(r.ID), ";")
			break
		}
	}
	if !(value(m) > 0) {
		t.Error("another way of bolting empties the map")
	}
	s := keys(t, opened(t, "coupe", 120, 40), "5")
	s = gave(t, s, seenMsg{stamp: "2", car: opened(t, "coupe", 80, 24).car})
	if paintings()[s.paint].key != "5" || !(s.paintedNow().values[s.current] > 0) {
		t.Errorf("after a reload the maps show %s", paintings()[s.paint].name)
	}
}

// A hole that is kept while a changed file is being worked out is laid on the changed car.
func TestKeepingDuringAReload(t *testing.T) {
	m := keys(t, opened(t, "coupe", 120, 40), "d")
	changed := *m.car
	changed.Name = "Changed"
	next, _ := m.Update(seenMsg{stamp: "2", car: &changed})
	next, cmd := next.(Model).Update(keyMsg("enter"))
	if got := done(t, next.(Model), cmd); got.car.Name != "Changed" || len(got.unsaved) != 1 {
		t.Errorf("car %q with %d holes", got.car.Name, len(got.unsaved))
	}
}

// What is still on its way about a hole of before says nothing of the next one.
func TestHolesOneAfterTheOther(t *testing.T) {
	m, first := opened(t, "coupe", 120, 40).startDrill()
	m = keys(t, m, "esc")
	m, _ = m.startDrill()
	late := first().(tea.BatchMsg)[0]().(trialMsg)
	if got := send(m, late); as[drillMode](got).trial != nil || got.message != m.message {
		t.Errorf("a late answer is taken: %q", got.message)
	}
	canceled := send(m, trialMsg{asked: as[drillMode](m).asked, err: context.Canceled})
	if canceled.message != m.message {
		t.Errorf("work that was ended says %q", canceled.message)
	}
}

// A hole that is on its way to the file closes nothing that was opened since.
func TestWritingLeavesANoteOpen(t *testing.T) {
	m := opened(t, "coupe", 120, 40)
	m.src.AddHole = func(string, holes.Hole) error { return nil }
	m.src.AddNote = func(n logbook.Note) (logbook.Note, string, error) { return n, "", nil }
	next, cmd := keys(t, m, "d").Update(keyMsg("W"))
	n := keys(t, next.(Model), "esc", "m", "x")
	if n = done(t, n, cmd); !isOpen[noteMode](n) {
		t.Errorf("the note is closed: %q", n.message)
	}
}

// Two holes that go to the file together come back one after the other, the first of them to the walk again.
func TestUndoOfTwoHoles(t *testing.T) {
	m := opened(t, "coupe", 120, 40)
	m.src.AddHole = func(string, holes.Hole) error { return nil }
	m.src.Undo = func() (string, error) { return "a hole", nil }
	m.src.Redo = func() (string, error) { return "", errors.New("it has been edited since") }
	m = keys(t, m, "d", "enter", "d", "n", "W", "W")
	if len(m.unsaved) != 0 || len(m.changes) != 3 {
		t.Fatalf("%d unsaved, %d changes", len(m.unsaved), len(m.changes))
	}
	m = keys(t, m, "U")
	m = keys(t, m, "U")
	if len(m.unsaved) != 1 || len(m.changes) != 1 {
		t.Errorf("after taking both back %d unsaved, %d changes", len(m.unsaved), len(m.changes))
	}
	again := keys(t, m, "ctrl+r")
	if len(again.unsaved) != 1 || len(again.changes) != 1 || len(again.undone) != len(m.undone) || !strings.Contains(again.message, "not redone") {
		t.Errorf("a redo that fails leaves %d unsaved, %d changes: %q", len(again.unsaved), len(again.changes), again.message)
	}
}

// Settings at one height have a map too, and a joint that cannot turn a strip.
func TestFlatMapAndNarrowStrip(t *testing.T) {
	car := modeltest.File(t, "slot.toml")
	car.Parts[0].Holes = car.Parts[0].Holes[:2]
	car.Parts[0].Slots = nil
	m := keys(t, openedCar(t, car, 80, 24), "t")
	if v := m.View(); !strings.Contains(v, "[") {
		t.Errorf("the map is empty:\n%s", v)
	}
	tight := opened(t, "coupe", 80, 24)
	joints := append(tight.car.Joints[:0:0], tight.car.Joints...)
	joints[1].MaxTurn = 0
	c := *tight.car
	c.Joints = joints
	d := keys(t, openedCar(t, &c, 80, 24), "d", "tab", "left", "right")
	_ = d.View()
}

// In words what only a screen can do says so, and a slot is read from end to end.
func TestWordsSayWhatTheyCannot(t *testing.T) {
	m := fresh(t, "coupe")
	m.src.Copy = func(string) error { t.Error("something is copied"); return nil }
	if got := walked(t, m, "Y"); !strings.Contains(got, "no terminal to copy with") {
		t.Errorf("%s", got)
	}
	car := modeltest.File(t, "slot.toml")
	got := walked(t, New(Source{Name: "slot"}, car, car.Speed, units.Metric), "g", "right", "right", "t")
	if !strings.Contains(got, "slot, 0.0 to 10.0 degrees") || !strings.Contains(got, " to 337, ") || !strings.Contains(got, " here") {
		t.Errorf("%s", got)
	}
}

// Above the design speed, and where something is not checked, no figure of strength stands in the maps, nor in the picture.
func TestNoStrengthThatIsNotChecked(t *testing.T) {
	m := keys(t, opened(t, "coupe", 120, 40), "5")
	if v := m.paintedNow().values[m.current]; !(v > 0) || !strings.Contains(m.View(), "84 % used") {
		t.Fatalf("strength %g", v)
	}
	fast := typed(t, m, "v", "300km/h")
	for i, v := range fast.paintedNow().values {
		if v <= 100 {
			t.Errorf("above the design speed %s shows %.0f %%", fast.table.Rows[i].ID, v)
		}
	}
	if v := fast.View(); strings.Contains(v, "% used") || !strings.Contains(v, "NOT CHECKED") {
		t.Errorf("above the design speed the screen says:\n%s", v)
	}
	hatch := keys(t, openedCar(t, modeltest.File(t, "hatch.toml"), 120, 40), "5") // its bracket is of no known material
	for i, v := range hatch.paintedNow().values {
		if v <= 100 {
			t.Errorf("%s shows %.0f %% with the bracket not checked", hatch.table.Rows[i].ID, v)
		}
	}
}

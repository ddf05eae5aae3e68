package tui

import (
	"errors"
	"math"
	"strings"
	"testing"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model/drill"
)

// A hole starts at the best place that there is, on a curve on which the bolts go in, and runs along it: each step
// changes the angle that it gives by half a degree.
func TestHoleRunsAlongItsCurve(t *testing.T) {
	m := keys(t, opened(t, "coupe", 120, 40), "d")
	d := as[drillMode](m)
	if d.trial == nil || len(d.trial.Useful) == 0 || d.curve < 0 {
		t.Fatalf("it starts where nothing useful is: %+v", d.hole)
	}
	found, err := drill.Suggest(t.Context(), drill.NewExisting(m.table), drill.Goal{Fill: true, Count: 1, Grid: 0.5, Part: 1, Joint: d.hole.Joint, D: d.hole.D,
		Name: func(int) string { return "N1" }}, nil)
	if err != nil || found.Best[0].Holes[0].At() != d.hole.At() {
		t.Errorf("it starts at %v, the best place is %v", d.hole.At(), found.Best[0].Holes[0].At())
	}
	angle := func(m Model) float64 { // that the hole gives in the row that is shown
		d := as[drillMode](m)
		near := math.Inf(1)
		for _, i := range d.trial.Added {
			r := &d.trial.Table.Rows[i]
			if math.Abs(r.Angle-d.turn-d.lean(m)) < math.Abs(near-d.turn-d.lean(m)) {
				near = r.Angle
			}
		}
		return near / plane.Deg
	}
	m = keys(t, m, "right")
	a := angle(m)
	if b := angle(keys(t, m, "right")); math.Abs(b-a-0.5) > 0.02 {
		t.Errorf("a step goes from %.2f° to %.2f°", a, b)
	}
	if b := angle(keys(t, m, ">")); math.Abs(b-a-0.1) > 0.02 {
		t.Errorf("a fine step goes from %.2f° to %.2f°", a, b)
	}
	if tab := as[drillMode](keys(t, m, "tab")); tab.curve == as[drillMode](m).curve {
		t.Error("tab keeps the partner")
	}
	if typed := keys(t, m, "4", ".", "3", "enter"); math.Abs(angle(typed)-4.3) > 0.02 {
		t.Errorf("4.3° typed gives %.2f°", angle(typed))
	}
	at := as[drillMode](keys(t, m, "x", "-", "5", ",", "4", "4", "5", ".", "5", "enter"))
	if at.hole.X != -5 || at.hole.Z != 445.5 {
		t.Errorf("typed to %v", at.hole.At())
	}
	if bad := keys(t, m, "x", "q", "enter"); !isOpen[promptMode](bad) || as[promptMode](bad).fault == "" {
		t.Error("what cannot be read is taken")
	}
	if back := keys(t, m, "x", "esc"); !isOpen[drillMode](back) {
		t.Error("esc at the prompt drops the hole")
	}
	free := keys(t, m, "f", "up", "up")
	if d := as[drillMode](free); d.curve >= 0 || math.Abs(d.hole.Z-as[drillMode](keys(t, m, "f")).hole.Z-2) > 1e-9 {
		t.Errorf("free it moves to %v", d.hole.At())
	}
	if d := as[drillMode](keys(t, free, "f")); d.curve < 0 {
		t.Error("f does not go back to the curve")
	}
	if next := as[drillMode](keys(t, m, "n")); next.strip == nil || next.trial == nil || len(next.trial.Useful) == 0 {
		t.Errorf("n goes where nothing useful is: %q", keys(t, m, "n").message)
	}
}

// The strip says of each place what Try says there.
func TestStripIsTrue(t *testing.T) {
	m := keys(t, opened(t, "coupe", 80, 24), "d")
	d := as[drillMode](m)
	if len(d.strip) != stripPlaces {
		t.Fatalf("%d places", len(d.strip))
	}
	kinds := map[drill.Holds]int{}
	for _, p := range d.strip {
		kinds[p.Holds]++
	}
	if kinds[drill.TooNear] == 0 || kinds[drill.NewStep] == 0 {
		t.Errorf("kinds %v", kinds)
	}
	if v := m.View(); !strings.Contains(v, "◆") || !strings.Contains(v, "###") || !strings.Contains(v, "xxx") || !strings.Contains(v, "╵10.3") {
		t.Errorf("the strip is not there:\n%s", v)
	}
}

// A kept hole brings its settings into the walk; a dropped one leaves none.
func TestDrilling(t *testing.T) {
	m := opened(t, "coupe", 120, 40)
	before := len(m.table.Rows)
	d := keys(t, m, "g", "d")
	added := len(as[drillMode](d).trial.Added)
	if added == 0 || !strings.Contains(d.View(), "+ ") {
		t.Fatal("the hole where drilling starts adds nothing to judge")
	}
	if got := keys(t, d, "esc"); isOpen[drillMode](got) || !got.walking() || len(got.table.Rows) != before {
		t.Error("a dropped hole leaves something behind")
	}
	kept := keys(t, d, "enter")
	if !strings.Contains(kept.View(), "[not in the file: +N1]") {
		t.Error("the screen does not say that N1 is not in the file")
	}
	again := gave(t, kept, seenMsg{stamp: "2", car: m.car})
	if len(again.table.Rows) != len(kept.table.Rows) {
		t.Error("a change of the file takes the kept hole away")
	}
	if n := len(kept.table.Rows); n != before+added {
		t.Errorf("%d settings after keeping a hole, want %d + %d", n, before, added)
	}
	old := send(d, trialMsg{asked: as[drillMode](d).asked - 1, trial: drill.Trial{Further: []string{"old"}}})
	if len(as[drillMode](old).trial.Further) == 1 {
		t.Error("an older answer was taken")
	}
}

// A hole is written through the source, and a failure is told with the hole
// still there.
func TestWritingAHole(t *testing.T) {
	m := opened(t, "coupe", 120, 40)
	m.src.AddHole = func(string, holes.Hole) error { return errors.New("the disk is full") }
	d := keys(t, m, "d")
	if got := keys(t, d, "W"); !isOpen[drillMode](got) || !strings.Contains(got.View(), "the disk is full") {
		t.Errorf("message %q", got.message)
	}
	// One that breaks a rule is neither kept nor written.
	at := as[drillMode](d)
	bolt := d.car.Parts[1].Holes[8]
	at.hole.X, at.hole.Z = bolt.X+9, bolt.Z
	d = d.with(at)
	for _, key := range []string{"enter", "W"} {
		next, cmd := d.Update(keyMsg(key))
		if got := next.(Model); cmd != nil || !isOpen[drillMode](got) || !strings.Contains(got.message, "cannot be drilled there") {
			t.Errorf("%s takes a hole that cannot be drilled: %q", key, got.message)
		}
	}
}

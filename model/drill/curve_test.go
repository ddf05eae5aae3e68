package drill_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/drill"
	"stanchion/model/modeltest"
)

// By hand on the lever: F in p at (0, 0) and R 100 mm behind it: turned by 90° the new hole is at
// (0, 100), by 0° at q. From q outwards the curve misses (100, 30) by √(100² + 30²) − 100 = 4.403 mm, at
// atan(0.3) = 16.699°.
func TestCurveByHand(t *testing.T) {
	car := modeltest.Lever(t, 0)
	k := drill.Curve{Part: 0, Partner: 0, Through: 0, Moving: 1}
	for turn, want := range map[float64]plane.Point{0: {X: 100}, 90: {Z: 100}, -90: {Z: -100}} {
		if at := k.At(car, turn*plane.Deg); at.Distance(want) > 1e-9 {
			t.Errorf("turned by %g° at %v, want %v", turn, at, want)
		}
	}
	turn, off := k.Nearest(car, plane.Point{X: 100, Z: 30})
	if math.Abs(turn/plane.Deg-16.699) > 1e-3 || math.Abs(off-4.403) > 1e-3 {
		t.Errorf("nearest at %.3f°, %.3f mm off", turn/plane.Deg, off)
	}
	if n := len(drill.Curves(car, 0)); n != 4 { // two holes, two orders
		t.Errorf("%d curves, want 4", n)
	}
	if drill.Curves(car, 1) != nil {
		t.Error("the wing has curves")
	}
}

// Anywhere on any curve the bolts go in, with the turn that was asked for: a hole there adds a setting with that
// angle.
func TestBoltsGoInAlongEveryCurve(t *testing.T) {
	table := modeltest.Table(t, "coupe")
	curves := drill.Curves(table.Car, 1)
	lean := table.Rows[0].Angle - table.Rows[0].Fits[1].Pose.Turn
	rapid.Check(t, func(rt *rapid.T) {
		k := curves[rapid.IntRange(0, len(curves)-1).Draw(rt, "curve")]
		turn := rapid.Float64Range(-0.25, 0.35).Draw(rt, "turn")
		at := k.At(table.Car, turn)
		if back, off := k.Nearest(table.Car, at); math.Abs(back-turn) > 1e-9 || off > 1e-9 {
			rt.Fatalf("the place for %g is nearest at %g, %g mm off", turn, back, off)
		}
		h := drill.NewHole{Part: 1}
		h.ID, h.X, h.Z, h.D, h.Joint = "N1", at.X, at.Z, 8.4, "head"
		tr, err := drill.Try(t.Context(), table, h)
		if err != nil {
			rt.Fatal(err)
		}
		near := math.Inf(1)
		for i := range tr.Table.Rows {
			if usesHole(tr.Table, &tr.Table.Rows[i], "N1") {
				near = min(near, math.Abs(tr.Table.Rows[i].Angle-turn-lean))
			}
		}
		if near > 0.01*plane.Deg && len(tr.Added) > 0 {
			rt.Fatalf("no setting with the turn that was asked for: %g° off", near/plane.Deg)
		}
	})
}

// usesHole reports whether a row has a bolt in a hole.
func usesHole(t *model.Table, r *model.Row, id string) bool {
	for _, joint := range t.Car.Bolts(r.Setting) {
		for _, p := range joint {
			if p[0] == id {
				return true
			}
		}
	}
	return false
}

// Along the curve of R about A3's bolt the places beside existing holes are too near, and those in the widest
// step are new: what Try says of each place is what stands there.
func TestAlongSaysWhatTrySays(t *testing.T) {
	table := modeltest.Table(t, "coupe")
	h := table.Car.Parts[1].Holes[len(table.Car.Parts[1].Holes)-1]
	h.ID = "N1"
	lean := table.Rows[0].Angle - table.Rows[0].Fits[1].Pose.Turn
	kinds := map[drill.Holds]int{}
	for _, k := range drill.Curves(table.Car, 1) {
		places, err := k.Along(t.Context(), drill.NewExisting(table), h, -0.05, 0.3, lean, 8)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range places {
			kinds[p.Holds]++
			at := k.At(table.Car, p.Turn)
			h.X, h.Z = at.X, at.Z
			tr, err := drill.Try(t.Context(), table, drill.NewHole{Part: 1, Hole: h})
			if err != nil {
				t.Fatal(err)
			}
			want := drill.AddsNothing
			if _, broken := drill.Broken(tr.Rules); broken {
				want = drill.TooNear
			} else if len(tr.Useful) > 0 {
				want = drill.NewStep
			}
			if p.Holds != want || math.Abs(p.Angle-p.Turn-lean) > 1e-12 {
				t.Errorf("at %.2f°: %v, Try says %v", p.Angle/plane.Deg, p.Holds, want)
			}
		}
	}
	if kinds[drill.TooNear] == 0 || kinds[drill.NewStep] == 0 {
		t.Errorf("kinds %v: the test sees too few", kinds)
	}
}

// Beside A2 a hole at 6.5° gives settings that are like those of A2 in rows 2 to 4, and in row 1 one that the lid
// forbids: what is said is that it makes no clear difference, of a setting that could be run.
func TestWhyOfNoUseIsOfWhatCouldBeRun(t *testing.T) {
	table := modeltest.Table(t, "coupe")
	h := drill.NewHole{Part: 1}
	h.ID, h.X, h.Z, h.D, h.Joint = "N1", -4.3, 439.9, 8.4, "head"
	tr, err := drill.Try(t.Context(), table, h)
	if err != nil {
		t.Fatal(err)
	}
	v := tr.Verdict
	if v.Worth != drill.NothingNew || v.Unlike.Use != drill.LikeAnother || !tr.Table.Rows[v.Row].Within() {
		t.Errorf("%+v", v)
	}
	outside := 0
	for _, i := range tr.Added {
		if !tr.Table.Rows[i].Within() {
			outside++
		}
	}
	if outside == 0 || outside == len(tr.Added) {
		t.Errorf("%d of %d break a limit: the test sees nothing", outside, len(tr.Added))
	}
}

package drill

import (
	"context"
	"errors"
	"math"
	"slices"
	"testing"
	"time"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/given"
	"stanchion/model/modeltest"
)

// twoAngles is the lever whose quarter chord is at the wing's front hole, with a second setting at an angle in degrees,
// at the same height: the rear bolt in r, 100 mm from p.
func twoAngles(t *testing.T, degrees float64) *model.Table {
	t.Helper()
	car := modeltest.Lever(t, 0)
	sin, cos := math.Sincos(degrees * plane.Deg)
	car.Parts[0].Holes = append(car.Parts[0].Holes, holes.Hole{ID: "r", X: 100 * cos, Z: 100 * sin, D: 8.4})
	car.Parts[1].Holes = []holes.Hole{{ID: "F", X: 62.5, D: 8.4}, {ID: "R", X: 162.5, D: 8.4}}
	car.Speed = 45
	table, err := car.Map(45)
	if err != nil {
		t.Fatal(err)
	}
	if len(table.Rows) != 2 || math.Abs(table.Rows[0].Height-table.Rows[1].Height) > 1e-6 {
		t.Fatalf("%d settings", len(table.Rows))
	}
	return table
}

// A hole for an angle of 10° lies 100 mm from a pivot at 10°: by hand at 98.48 and 17.36 mm from p or q, ahead or
// behind. What is found is on one of these, within what clearances of 0.4 mm each leave.
func TestPlacesByHand(t *testing.T) {
	table := lever(t)
	sin, cos := math.Sincos(10 * plane.Deg)
	want := []plane.Point{{X: 100 * cos, Z: 100 * sin}, {X: 100 + 100*cos, Z: 100 * sin}, {X: -100 * cos, Z: -100 * sin}, {X: 100 - 100*cos, Z: -100 * sin}}
	w := goal(func(w *Goal) { w.Angle, w.Grid = given.Is(10*plane.Deg), 0.5 })
	field, err := newField(t.Context(), table.Car, w, 0)
	if err != nil {
		t.Fatal(err)
	}
	scan, err := newScan(t.Context(), newAim(NewExisting(table), w), field, 0, func(float64) {})
	if err != nil {
		t.Fatal(err)
	}
	met := map[int]bool{}
	for _, c := range scan.order {
		at := field.at(c.place)
		near := slices.IndexFunc(want, func(p plane.Point) bool { return p.Distance(at) < 1.2 }) // 0.8 mm across, 0.4° along
		if near < 0 {
			t.Fatalf("%v is said to give 10°", at)
		}
		met[near] = true
	}
	if len(met) != 4 {
		t.Errorf("found about %d of four places", len(met))
	}
}

// By hand: settings at 0° and 12°; half-way by angle is 6°, 100 mm from q at (199.5, 10.5), as 6° about p is 10.5 mm from
// q. A setting at 6° is clear of both.
func TestBetweenByHand(t *testing.T) {
	table := twoAngles(t, 12)
	e := NewExisting(table)
	low, high := &table.Rows[0], &table.Rows[1]
	if low.Angle > high.Angle {
		low, high = high, low
	}
	w := goal(func(w *Goal) { w.Between, w.Grid = &Between{A: high, B: low, By: ByAngle}, 0.5 })
	found, err := Suggest(t.Context(), e, w, nil)
	if err != nil || len(found.Best) == 0 {
		t.Fatalf("%d suggestions, %v", len(found.Best), err)
	}
	s := found.Best[0]
	at := s.Holes[0].At()
	if ahead, behind := at.Distance(plane.Point{X: 199.45, Z: 10.45}), at.Distance(plane.Point{X: -99.45, Z: -10.45}); min(ahead, behind) > 1.5 {
		t.Errorf("a hole at %v", at)
	}
	if s.Hits < 1 || math.Abs(s.Table.Rows[s.Met[0]].Angle/plane.Deg-6) > 0.5 {
		t.Errorf("%d hits, the first at %.2f°", s.Hits, s.Table.Rows[s.Met[0]].Angle/plane.Deg)
	}
	// The figure half-way is 1, at either setting 0, beyond below 0.
	for angle, want := range map[float64]float64{6: 1, 0: 0, 12: 0, 3: 0.5, -3: -0.5} {
		b := &Between{A: &model.Row{Position: &model.Position{}}, B: &model.Row{Position: &model.Position{Angle: 12 * plane.Deg}}, By: ByAngle}
		if got := b.Middle(angle * plane.Deg); math.Abs(got-want) > 1e-9 {
			t.Errorf("%g° of 0° to 12° is %g, want %g", angle, got, want)
		}
	}
	// Between 0° and 1° nothing is clear of both: 1° is 7 % of the downforce at 5° from zero lift, known to about as much.
	close := twoAngles(t, 12)
	close.Rows[1].Position = &model.Position{Setting: close.Rows[1].Setting, Pose: close.Rows[0].Pose, X: close.Rows[0].X, Height: close.Rows[0].Height, Angle: close.Rows[0].Angle + plane.Deg}
	near := close.RowAt(close.Rows[1].Position)
	w.Between = &Between{A: &close.Rows[0], B: near}
	if found, err = Suggest(t.Context(), NewExisting(close), w, nil); err != nil || len(found.Best) != 0 {
		t.Errorf("%d suggestions between 0° and 1°, %v", len(found.Best), err)
	}
}

// By hand: a step of 12° needs two further angles to be no wider than 4°, three for 3°; with 6° one is enough. On the
// lever a new hole gives one angle more, so that as many holes are needed.
func TestFewestHolesByHand(t *testing.T) {
	e := NewExisting(twoAngles(t, 12))
	for _, c := range []struct {
		most   float64
		count  int
		holes  int
		lacks  int
		fewest int
	}{{13, 4, 0, 0, 0}, {6.2, 4, 1, 0, 1}, {4.2, 4, 2, 0, 2}, {4.2, 1, 1, 1, 2}} {
		w := goal(func(w *Goal) { w.MaxStep, w.Grid, w.Count = given.Is(c.most*plane.Deg), 0.5, c.count })
		found, err := Suggest(t.Context(), e, w, nil)
		if err != nil {
			t.Fatal(err)
		}
		if c.holes == 0 {
			if len(found.Best) != 0 || found.Lacking != 0 {
				t.Errorf("steps of %g°: %d suggestions, %d lacking", c.most, len(found.Best), found.Lacking)
			}
			continue
		}
		if len(found.Best) != 1 || len(found.Best[0].Holes) != c.holes || found.Best[0].Lacking != c.lacks || found.Fewest > c.fewest {
			t.Errorf("steps of %g° with up to %d holes: %+v", c.most, c.count, found.Best)
			continue
		}
		if step := found.Best[0].After[0].AngleStep; c.lacks == 0 && step > c.most*plane.Deg+1e-9 {
			t.Errorf("steps of %g°: %.2f° is left", c.most, step/plane.Deg)
		}
		if !drillable(e.Table.Car, found.Best[0].Holes...) {
			t.Errorf("steps of %g°: %+v cannot be drilled", c.most, found.Best[0].Holes)
		}
	}
	// At a height that there is not, nothing is lacking.
	w := goal(func(w *Goal) {
		w.MaxStep, w.Height, w.Grid, w.Count = given.Is(4*plane.Deg), given.Is(1300), 0.5, 2
	})
	if found, err := Suggest(t.Context(), e, w, nil); err != nil || found.Lacking != 0 {
		t.Errorf("at 1300 mm %d angles are lacking, %v", found.Lacking, err)
	}
}

// By hand: the wing has four holes, F, R and two 30 mm above; the bracket has p and q for two of them. It gets all four
// bolts with holes at (0, 30) and (100, 30), one of them where only one may be drilled. With the joint's minimum at three
// it is no setting yet, and the same holes make it one.
func TestAllBoltsByHand(t *testing.T) {
	square := []plane.Point{{X: -30, Z: -30}, {X: 130, Z: -30}, {X: 130, Z: 60}, {X: -30, Z: 60}}
	for _, minBolts := range []int{2, 3} {
		car := modeltest.Lever(t, 0)
		car.Parts[1].Holes = append(car.Parts[1].Holes, holes.Hole{ID: "T", Z: 30, D: 8.4}, holes.Hole{ID: "U", X: 100, Z: 30, D: 8.4})
		car.Parts[0].Outline = square
		car.Joints[0].MinBolts = minBolts
		table, err := car.Map(45)
		if err != nil {
			t.Fatal(err)
		}
		e := NewExisting(table)
		w := BoltsGoal{Height: given.Is(1200), Grid: 0.5, Name: func(_, n int) string { return string(rune('M' + n)) }}
		if minBolts == 2 {
			w = BoltsGoal{Setting: e.Table.Named([]string{"p:F+q:R"})[0], Grid: 0.5, Name: w.Name}
		}
		found, err := SuggestBolts(t.Context(), e, w)
		if err != nil {
			t.Fatal(err)
		}
		var b *AllBolts
		for i := range found.Best {
			if h := found.Best[i].Holes; len(h) == 2 && h[0].At().Distance(plane.Point{Z: 30}) < 0.01 && h[1].At().Distance(plane.Point{X: 100, Z: 30}) < 0.01 {
				b = &found.Best[i]
			}
		}
		if b == nil {
			t.Fatalf("at least %d bolts: %+v, %+v", minBolts, found.Best, found.Near)
		}
		if b.Have != 2 || b.Takes != 4 || (b.Setting == "") != (minBolts == 3) {
			t.Errorf("at least %d bolts: %d of %d, setting %q", minBolts, b.Have, b.Takes, b.Setting)
		}
		whole := 0
		for i := range b.Table.Rows {
			if len(b.Table.Rows[i].Fits[0].Pairs) == 4 {
				whole++
			}
		}
		if whole != 1 {
			t.Errorf("at least %d bolts: %d settings have all four", minBolts, whole)
		}
		if minBolts == 2 && !slices.Contains(b.Further, "p:F+q:R") {
			t.Errorf("further bolts for %v", b.Further)
		}
		// With one hole at most there is no answer.
		w.Most = 1
		if found, err = SuggestBolts(t.Context(), e, w); err != nil || slices.ContainsFunc(found.Best, func(b AllBolts) bool { return len(b.Holes) > 1 }) {
			t.Errorf("with one hole: %+v, %v", found.Best, err)
		}
	}
}

// Where a rule forbids the exact place, the hole is slid as far as clearances let it: 20.16 mm must lie between holes of
// 8.4 mm; 20 mm are there, and 0.3 mm may be gone.
func TestHoleIsSlidOffARule(t *testing.T) {
	car := modeltest.Lever(t, 0)
	car.Parts[1].Holes = append(car.Parts[1].Holes, holes.Hole{ID: "T", Z: 20, D: 8.4})
	h := NewHole{Part: 0, Hole: holes.Hole{ID: "N", D: 8.4}}
	got := fitting(car, 0, h, car.Parts[1].Holes[2], plane.Pose{}, 0.1, nil)
	if d := got.At().Length(); d < 20.16 || d > 20.3 {
		t.Errorf("at %v, %.2f mm from p", got.At(), d)
	}
	if got := fitting(car, 0, h, car.Parts[1].Holes[0], plane.Pose{}, 0.1, nil); got.At().Length() > 0.05 {
		t.Errorf("a hole that cannot be slid is at %v", got.At())
	}
}

// A bolt does not pass through a hole of 5 mm.
func TestTooSmallByHand(t *testing.T) {
	car := modeltest.Car(t, "coupe")
	for _, c := range []struct {
		part  int
		joint string
		d     float64
		small bool
	}{{1, "head", 5, true}, {1, "head", 8, false}, {1, "", 7.9, true}, {1, "foot", 8.4, false}, {2, "head", 7, true}} {
		if j, small := TooSmall(car, c.part, c.joint, c.d); small != c.small || small && j.Bolt != "M8" {
			t.Errorf("part %d, joint %q, %g mm: %v %q", c.part, c.joint, c.d, small, j.Bolt)
		}
	}
}

// Where the only step is as wide as what can be told, nothing is suggested, and the setting that it would be like is
// named.
func TestAlikeIsNamed(t *testing.T) {
	table := twoAngles(t, 0.8)
	found, err := Suggest(t.Context(), NewExisting(table), goal(func(w *Goal) { w.Fill, w.Grid = true, 0.5 }), nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(found.Best) != 0 || found.Alike == nil || found.Alike.Verdict.Unlike.Use != LikeAnother || found.Alike.Verdict.Unlike.ID == "" {
		t.Errorf("%d suggestions, alike %+v", len(found.Best), found.Alike)
	}
}

// A search that is stopped ends with the context's error, at whichever place it is.
func TestSearchStops(t *testing.T) {
	e := NewExisting(modeltest.Table(t, "coupe"))
	for _, w := range []Goal{{Fill: true, Count: 2}, {MaxStep: given.Is(2 * plane.Deg), Count: 3}, {Angle: given.Is(4 * plane.Deg), Count: 1}} {
		w.Grid, w.Part, w.Joint, w.D, w.Name = 0.5, 1, "head", 8.4, func(n int) string { return FreeHoleName(e.Table.Car.Parts[1], n) }
		for _, at := range []float64{0, 0.3, 0.65} {
			ctx, cancel := context.WithCancel(t.Context())
			var stopped time.Time
			_, err := Suggest(ctx, e, w, func(part float64) {
				if part >= at && stopped.IsZero() {
					stopped = time.Now()
					cancel()
				}
			})
			cancel()
			if !stopped.IsZero() && !errors.Is(err, context.Canceled) && !(err == nil && at > 0.6) {
				t.Errorf("%+v stopped at %g: %v", w, at, err)
			}
		}
	}
}

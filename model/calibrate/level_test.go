package calibrate

import (
	"math"
	"testing"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/given"
)

// onFloor is a table whose car stands on the floor "f", read so in degrees; NaN for not turned.
func onFloor(t *model.Table, first, turned float64) *model.Table {
	f := model.Floor{Name: "f", Angle: first * plane.Deg}
	if !math.IsNaN(turned) {
		f.Turned = given.Is(turned * plane.Deg)
	}
	t.Car.Floors = append(t.Car.Floors, f)
	return t
}

// By hand, with a chord that is 2.4° up at the rear where the holes give 2°, a floor that rises by
// 0.5°, a level that reads 0.3° too much and a face 4° steeper than the chord: on the face
// 2.4 + 4 + 0.5 = 6.9°, read 7.2° and turned 6.6°; on the floor 0.8° and 0.2°. However few of these
// are read, as long as the zero goes out, the angle is 2.4°. Each is known to 0.2°: one less another
// to 0.2828°, a mean less a mean to 0.2°; the face to 0.1°.
func TestLevelByHand(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		what                string
		first, turned       float64
		floor, floorTurned  float64
		onFace, zero, slope float64
		unc                 float64
	}{
		{"all four", 7.2, 6.6, 0.8, 0.2, 6.9, 0.3, 0.5, 0.2},
		{"wing turned", 7.2, 6.6, 0.8, nan, 6.9, 0.3, 0.5, 0.2828},
		{"floor turned", 7.2, nan, 0.8, 0.2, 6.9, nan, 0.5, 0.2828},
		{"none turned", 7.2, nan, 0.8, nan, 7.2, nan, 0.8, 0.2828},
	} {
		table := onFloor(flat(), c.floor, c.floorTurned)
		table.Car.Faces = []model.Face{{Name: "top", Angle: 4 * plane.Deg, StdUnc: given.Is(0.1 * plane.Deg)}}
		r := reading("a", c.first, nan, "")
		r.Floor, r.Face = "f", "top"
		if !math.IsNaN(c.turned) {
			r.Turned = given.Is(c.turned * plane.Deg)
		}
		near := func(got, want float64) bool {
			return math.IsNaN(got) && math.IsNaN(want) || math.Abs(got/plane.Deg-want) < 1e-4
		}
		f := Understand(table.Car, r)
		want := math.Hypot(c.unc, 0.1)
		if !near(f.Angle, 2.4) || !near(f.OnFace, c.onFace) || !near(f.Zero, c.zero) || !near(f.Floor, c.slope) || !near(f.StdUnc, want) {
			t.Errorf("%s: understood %+v", c.what, f)
		}
		d, err := fitReadings(table, []model.Reading{r})
		if err != nil || !near(d.Angle, 0.4) || !near(d.AngleStdUnc, want) || !near(d.Floors[0].Slope, c.slope) {
			t.Errorf("%s: %v, %.4f ± %.4f°, want 0.4 ± %.4f°; floor %.4f°", c.what, err, d.Angle/plane.Deg, d.AngleStdUnc/plane.Deg, want,
				d.Floors[0].Slope/plane.Deg)
		}
	}
	// Without a floor: half the sum, known to 0.2°/√2.
	r := reading("a", 2.7, nan, "")
	r.Turned = given.Is(2.1 * plane.Deg)
	d, err := fitReadings(flat(), []model.Reading{r})
	if err != nil || off(d.Angle/plane.Deg-0.4, 1e-9) || off(d.AngleStdUnc/plane.Deg-0.2/math.Sqrt2, 1e-9) {
		t.Errorf("%v: %+v", err, d)
	}
	if f := Understand(flat().Car, r); off(f.Angle/plane.Deg-2.4, 1e-9) || off(f.StdUnc/plane.Deg-0.1414, 1e-4) || off(f.Zero/plane.Deg-0.3, 1e-9) {
		t.Errorf("understood %+v", f)
	}
	if len(d.Taken) != 1 || d.Taken[0] != (Taken{LevelFloor, 1}) {
		t.Errorf("taken for granted %v", d.Taken)
	}
}

// A floor that is read once for two sides is one error in both: left and right are each known to
// hypot(0.2, 0.2)°, their mean to √(0.2²/2 + 0.2²) = 0.2449°, and their difference, the twist, to
// 0.2°·√2, as if there were no floor. A face is one error in the same way.
func TestSharedErrors(t *testing.T) {
	table := onFloor(flat(), 0.5, math.NaN())
	l, r := reading("a", 2.5, math.NaN(), "left"), reading("a", 2.5, math.NaN(), "right")
	l.Floor, r.Floor = "f", "f"
	d, err := fitReadings(table, []model.Reading{l, r})
	if err != nil || off(d.AngleStdUnc/plane.Deg-0.2449, 1e-4) || off(d.TwistStdUnc/plane.Deg-0.2*math.Sqrt2, 1e-6) {
		t.Errorf("%v: ± %.4f°, twist ± %.4f°", err, d.AngleStdUnc/plane.Deg, d.TwistStdUnc/plane.Deg)
	}
	table = flat()
	table.Car.Faces = []model.Face{{Name: "top", StdUnc: given.Is(0.2 * plane.Deg)}}
	l, r = reading("a", 2, math.NaN(), "left"), reading("a", 2, math.NaN(), "right")
	l.Face, r.Face = "top", "top"
	d, err = fitReadings(table, []model.Reading{l, r})
	if err != nil || off(d.AngleStdUnc/plane.Deg-0.2449, 1e-4) || off(d.TwistStdUnc/plane.Deg-0.2*math.Sqrt2, 1e-6) {
		t.Errorf("face, %v: ± %.4f°, twist ± %.4f°", err, d.AngleStdUnc/plane.Deg, d.TwistStdUnc/plane.Deg)
	}
	// Play is one error in a reading and in the same one turned: √(0.2²/2 + 0.3²/3).
	loose := flat()
	loose.Rows[0].Setting.Play = 0.3 * plane.Deg
	p := reading("a", 2, math.NaN(), "")
	p.Turned = given.Is(2 * plane.Deg)
	d, err = fitReadings(loose, []model.Reading{p})
	if want := math.Sqrt(0.02 + 0.03); err != nil || off(d.AngleStdUnc/plane.Deg-want, 1e-9) {
		t.Errorf("%v: ± %.4f°, want %.4f°", err, d.AngleStdUnc/plane.Deg, want)
	}
}

// By hand: 20 mm over a chord of 250 mm are asin(0.08) = 4.5885°, each height known to 1.5 mm:
// √2·1.5/(250·cos 4.5885°) = 0.008513 = 0.4877°.
func TestTapeAngle(t *testing.T) {
	a, u := TapeAngle(1300, 1320, 250, 1.5)
	if off(a/plane.Deg-4.5885, 1e-4) || off(u/plane.Deg-0.4877, 1e-4) {
		t.Errorf("%.4f ± %.4f°", a/plane.Deg, u/plane.Deg)
	}
	if a, u := TapeAngle(1300, 1551, 250, 1.5); !math.IsNaN(a) || !math.IsNaN(u) {
		t.Errorf("251 mm over 250 mm: %g ± %g", a, u)
	}
	if a, _ := TapeAngle(1320, 1300, 250, 1.5); a > 0 {
		t.Error("a trailing edge that is lower has a positive angle")
	}
}

// By hand: a wing whose leading edge is at 450, 1200 on the ground, level as the holes have it, on a part
// fixed at 100, 800, with a chord of 200 mm. Read at 1203.5 and 1204.9 mm: the rear is 1.4 mm further up,
// 1.4/200 = 0.007 rad ± √2·2/200 = 0.01414. The leading edge has a lever of 350 mm: the part is
// 3.5 − 0.007·350 = 1.05 mm higher, ± 2 mm·√(550² + 350²)/200 = 6.519 mm.
func TestTapeInTheFit(t *testing.T) {
	table := flat()
	table.Car.Wing.Chord = 200
	table.Rows[0].Position.Angle = 0
	table.Rows[0].Position.Pose = plane.Pose{X: 450, Z: 1200}
	r := reading("a", math.NaN(), math.NaN(), "")
	r.Leading, r.Trailing = given.Is(1203.5), given.Is(1204.9)
	d, err := fitReadings(table, []model.Reading{r})
	if err != nil || off(d.Angle-0.007, 1e-9) || off(d.AngleStdUnc-0.014142, 1e-6) || off(d.Z-1.05, 1e-6) || off(d.ZStdUnc-6.519, 1e-3) {
		t.Errorf("%v: %.5f ± %.5f rad, %.3f ± %.3f mm", err, d.Angle, d.AngleStdUnc, d.Z, d.ZStdUnc)
	}
	// With a level of 0.2° that reads 0.5°, the tape weighs (0.2/0.8103)² = 0.0609 as much.
	r.Angle = given.Is(0.5 * plane.Deg)
	d, err = fitReadings(table, []model.Reading{r})
	w := math.Pow(0.2*plane.Deg/0.0141421, 2)
	if want := (0.5*plane.Deg + w*0.007) / (1 + w); err != nil || off(d.Angle-want, 1e-8) {
		t.Errorf("%v: %.6f rad, want %.6f", err, d.Angle, want)
	}
	// One edge alone tells the height.
	r = reading("a", math.NaN(), math.NaN(), "")
	r.Trailing, r.TapeStdUnc = given.Is(1206), given.Is(1)
	d, err = fitReadings(table, []model.Reading{r})
	if err != nil || !math.IsNaN(d.Angle) || off(d.Z-6, 1e-9) || off(d.ZStdUnc-1, 1e-9) {
		t.Errorf("%v: %+v", err, d)
	}
}

// A car that hangs 8 mm lower on the right is no slip: the lean is told, and the height of the middle.
func TestLean(t *testing.T) {
	table := flat()
	var all []model.Reading
	for i, side := range []string{"left", "right", "left", "right"} {
		all = append(all, reading("a", 2, 1204-8*float64(i%2), side))
	}
	d, err := fitReadings(table, all)
	if err != nil || off(d.Lean-8, 1e-9) || off(d.Z, 1e-9) || !d.Clean() || off(d.LeanStdUnc-2, 1e-9) {
		t.Errorf("%v: lean %.3f ± %.3f, z %.3f", err, d.Lean, d.LeanStdUnc, d.Z)
	}
}

// What cannot be told says why.
func TestUntold(t *testing.T) {
	nan := math.NaN()
	d, err := fitReadings(flat(), []model.Reading{reading("a", nan, 1210, "")})
	if err != nil {
		t.Fatal(err)
	}
	why := map[Unknown]Why{}
	for _, n := range d.Untold {
		why[n.What] = n.Why
	}
	if why[TheAngle] != NoAngles || why[TheX] != NeverTold || why[TheTwist] != OneSide || why[TheLean] != OneSide || why[TheZ] != "" || len(d.Taken) != 0 {
		t.Errorf("%v, %v", why, d.Taken)
	}
	if !math.IsNaN(d.Residuals[0].Times) {
		t.Error("one reading alone is checked by nothing")
	}
}

// off reports whether a difference is more than it may be, or not known.
func off(difference, most float64) bool { return !(math.Abs(difference) <= most) }

// By hand: on one side only the middle may be off by half of a twist of 0.5°, and of a lean of 4 mm:
// √(0.2² + 0.25²) = 0.3202°, √(2² + 2²) = 2.828 mm, however often that side is read: four times
// √(0.2²/4 + 0.25²) = 0.2693°. With both sides neither counts.
func TestOneSide(t *testing.T) {
	nan := math.NaN()
	d, err := fitReadings(flat(), []model.Reading{reading("a", 2, nan, "left")})
	if err != nil || off(d.AngleStdUnc/plane.Deg-0.3202, 1e-4) || !math.IsNaN(d.Twist) || d.Taken[len(d.Taken)-1] != (Taken{OneSided, 1}) {
		t.Errorf("%v: ± %.4f°, %v", err, d.AngleStdUnc/plane.Deg, d.Taken)
	}
	d, err = fitReadings(flat(), []model.Reading{reading("a", nan, 1200, "right")})
	if err != nil || off(d.ZStdUnc-2.828, 1e-3) || !math.IsNaN(d.Lean) {
		t.Errorf("%v: ± %.4f mm", err, d.ZStdUnc)
	}
	l := reading("a", 2, nan, "left")
	d, err = fitReadings(flat(), []model.Reading{l, l, l, l})
	if err != nil || off(d.AngleStdUnc/plane.Deg-0.2693, 1e-4) {
		t.Errorf("%v: ± %.4f°", err, d.AngleStdUnc/plane.Deg)
	}
	d, err = fitReadings(flat(), []model.Reading{l, reading("a", 2, nan, "right")})
	if err != nil || off(d.AngleStdUnc/plane.Deg-0.2/math.Sqrt2, 1e-6) {
		t.Errorf("%v: ± %.4f°", err, d.AngleStdUnc/plane.Deg)
	}
}

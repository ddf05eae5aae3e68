package calibrate

import (
	"fmt"
	"math"
	"testing"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/given"
)

// levelled is a reading of a setting of flat, in degrees off what the holes give, level and floor turned, so that
// nothing is taken for granted: ±√(0.2²/2 + 0.2²/2) = 0.2°.
func levelled(id string, offs ...float64) (all []model.Reading) {
	for _, o := range offs {
		a := (map[string]float64{"a": 2, "b": 6}[id] + o) * plane.Deg
		all = append(all, model.Reading{Setting: id, Angle: given.Is(a), Turned: given.Is(a), Floor: "f"})
	}
	return all
}

// By hand, the file's own angle being known to 0.3°. A level that was not turned, on ground that nobody read, is
// known to √(0.2² + 0.2² + 0.2²) = 0.3464°, the difference to √(0.12 + 0.09) = 0.4583°: 0.5° off weighs
// 0.09/0.21, so that 0.2143° is left, ±0.3464·0.3/0.4583 = 0.2268°. It counts up to 2.0537·0.4583 = 0.9412°.
// Turned on a floor that was turned it is 0.2°, and 0.5° leave 0.5·0.09/0.13 = 0.3462° ± 0.2·0.3/0.3606 = 0.1664°.
// Two alike on one floor are known to √(0.2²/4 + 0.2²/2) = 0.1732°, the difference to 0.3464°, and with the level's
// zero three times there are five tests: 2.6475·0.3464 = 0.9171°.
func TestWithFileByHand(t *testing.T) {
	nan := math.NaN()
	once := func(o float64) []model.Reading { return []model.Reading{reading("a", 2+o, nan, "")} }
	both := func(a, b float64) []model.Reading { return append(levelled("a", a), levelled("b", b)...) }
	for _, c := range []struct {
		all          []model.Reading
		standing     Standing
		angle, unc   float64 // °
		times, after float64
		settings     int
	}{
		{all: once(0.5), standing: WithFile, angle: 0.2143, unc: 0.2268, times: 1.0911, settings: 1},
		{all: once(-0.5), standing: WithFile, angle: -0.2143, unc: 0.2268, times: 1.0911, settings: 1},
		{all: once(0.940), standing: WithFile, angle: 0.4029, unc: 0.2268, times: 2.0511, settings: 1},
		{all: once(0.943), standing: AgainstFile, angle: 0.943, unc: 0.3464, times: 2.0578, settings: 1},
		{all: once(-0.943), standing: AgainstFile, angle: -0.943, unc: 0.3464, times: 2.0578, settings: 1},
		{all: once(-4), standing: Flipped, angle: -4, unc: 0.3464, times: 8.7287, settings: 1},
		{all: once(-3.07), standing: Flipped, angle: -3.07, unc: 0.3464, times: 6.6993, settings: 1},
		{all: once(-3.05), standing: AgainstFile, angle: -3.05, unc: 0.3464, times: 6.6556, settings: 1},
		{all: levelled("a", 0.5), standing: WithFile, angle: 0.3462, unc: 0.1664, times: 1.3868, settings: 1},
		{all: levelled("a", 3, 3), standing: AgainstFile, angle: 3, unc: 0.1732, times: 8.6603, settings: 1},
		{all: levelled("a", -3.1, -3.1), standing: Flipped, angle: -3.1, unc: 0.1732, times: 8.9490, settings: 1},
		{all: levelled("a", -3.07, -3.07), standing: AgainstFile, angle: -3.07, unc: 0.1732, times: 8.8624, settings: 1},
		{all: append(levelled("a", 3, 3, 3), levelled("b", 0)...), standing: AgainstFile, angle: 3, unc: 0.1633, times: 8.7831, settings: 1}, // b is suspect
		{all: both(0.915, 0.915), standing: WithFile, angle: 0.6863, unc: 0.15, times: 2.6414, settings: 2},
		{all: both(0.920, 0.920), standing: WithoutFile, angle: 0.92, unc: 0.1732, times: 2.6558, settings: 2},
		{all: both(-4, -12), standing: Flipped, angle: -8, unc: 0.1732, times: 23.094, settings: 2},
		{all: []model.Reading{reading("a", nan, 1210, "")}, standing: NoAngle, angle: nan},
	} {
		d, err := FitDatum(onFloor(flat(), 0, 0), c.all)
		if err != nil || d.Standing != c.standing || d.Settings != c.settings || d.Refused() != (c.standing == AgainstFile || c.standing == Flipped) {
			t.Errorf("%v: %v, %s of %d settings, want %s", c.all, err, d.Standing, d.Settings, c.standing)
		}
		if math.IsNaN(c.angle) {
			if !math.IsNaN(d.Angle) || off(d.Z-10, 1e-9) || off(d.ZStdUnc-2, 1e-9) {
				t.Errorf("a height alone: %+v", d)
			}
			continue
		}
		if off(d.Angle/plane.Deg-c.angle, 1e-4) || off(d.AngleStdUnc/plane.Deg-c.unc, 1e-4) || off(d.Times-c.times, 1e-3) {
			t.Errorf("%s: %.4f ± %.4f°, %.4f apart, want %.4f ± %.4f°, %.4f", c.standing, d.Angle/plane.Deg, d.AngleStdUnc/plane.Deg, d.Times, c.angle, c.unc, c.times)
		}
	}
	// A file that is sure of its angle keeps it; one that knows nothing takes the reading.
	for u, want := range map[float64]float64{0: 0, 1e6: 0.5} {
		table := flat()
		table.Car.Uncertainty.AngleReading = u * plane.Deg
		if d, err := FitDatum(table, once(0.5)); err != nil || off(d.Angle/plane.Deg-want, 1e-6) {
			t.Errorf("file ± %g°: %v, %.4f°, want %g°", u, err, d.Angle/plane.Deg, want)
		}
	}
}

// By hand: 0.5° of the level at a lever of 400 mm take 3.4907 mm off a height of 10 mm, and where 0.2143° of them
// are left 1.4960 mm; with the angle known to 0.2268° the height is to √(2² + (400·0.2268°)²) = 2.5498 mm.
func TestHeightGoesWithTheAngle(t *testing.T) {
	d, err := FitDatum(flat(), []model.Reading{reading("a", 2.5, 1210, "")})
	if err != nil || off(d.Z-(10-1.4960), 1e-3) || off(d.ZStdUnc-2.5498, 1e-3) {
		t.Errorf("%v: %.4f ± %.4f mm", err, d.Z, d.ZStdUnc)
	}
}

// standingAt is a table whose part stands where a correction put it, with its settings.
func standingAt(t *model.Table, d Datum) *model.Table {
	next := flat()
	next.Car = Corrected(t.Car, d)
	for i := range next.Rows {
		p := *next.Rows[i].Position
		p.Angle += next.Car.Fixed.Turn - flat().Car.Fixed.Turn
		next.Rows[i].Position = &p
	}
	return next
}

// Once a correction is in the file the same readings ask for no other and are as sure, and a further one
// comes to the same as if all had been put in at once: none counts twice.
func TestNoReadingCountsTwice(t *testing.T) {
	for _, first := range [][]model.Reading{levelled("a", 0.5), levelled("a", 0.5, 0.6), levelled("a", -3.1, -3.1), append(levelled("a", 1.5), levelled("b", 1.6)...)} {
		table := onFloor(flat(), 0, 0)
		d, err := FitDatum(table, first)
		if err != nil {
			t.Fatal(err)
		}
		written := standingAt(table, d)
		again, err := FitDatum(written, first)
		if err != nil || off(again.Angle, 1e-12) || off(again.AngleStdUnc-d.AngleStdUnc, 1e-12) || again.Standing != d.Standing {
			t.Errorf("again: %v, %.6f ± %.4f°, %s; before ± %.4f°", err, again.Angle/plane.Deg, again.AngleStdUnc/plane.Deg, again.Standing, d.AngleStdUnc/plane.Deg)
		}
		all := append(first[:len(first):len(first)], levelled("b", 0.9)...)
		atOnce, err := FitDatum(table, all)
		if err != nil {
			t.Fatal(err)
		}
		later, err := FitDatum(written, all)
		if err != nil || off(d.Angle+later.Angle-atOnce.Angle, 1e-12) || off(later.AngleStdUnc-atOnce.AngleStdUnc, 1e-12) {
			t.Errorf("later: %v, %.6f ± %.4f°, want %.6f ± %.4f°", err, (d.Angle+later.Angle)/plane.Deg, later.AngleStdUnc/plane.Deg, atOnce.Angle/plane.Deg, atOnce.AngleStdUnc/plane.Deg)
		}
	}
}

// What is allowed for counts by how many of the angles take it for granted: two of four, √(0.1² + 0.1²)°.
func TestAllowedForGround(t *testing.T) {
	all := append(levelled("a", 0, 0), reading("a", 2, math.NaN(), ""), reading("b", 6, math.NaN(), ""))
	d, err := FitDatum(onFloor(flat(), 0, 0), all)
	if got := d.takenStdUnc() / plane.Deg; err != nil || off(got-0.1*math.Sqrt2, 1e-9) {
		t.Errorf("%v: %.4f°, %s", err, got, fmt.Sprint(d.Taken))
	}
}

// An angle that was assumed has no weight: the readings alone are the angle, ±0.2°, however far off they are and whatever
// their sign; written, it is no longer assumed, and neither the same readings nor further ones count what was.
func TestAssumedAngleDoesNotCount(t *testing.T) {
	table := onFloor(flat(), 0, 0)
	table.Car.Assumed = []model.Assumption{{What: "bracket's angle", Value: "0°", Said: true}, {What: "roof height", Said: true}}
	for _, o := range []float64{0.1, 0.5, -0.5, 3, -4, -12} { // -4 is a at 2° with its sign turned
		first := levelled("a", o)
		d, err := FitDatum(table, first)
		if err != nil || d.Standing != FileAssumed || d.Refused() || d.Checked() || off(d.Angle/plane.Deg-o, 1e-9) || off(d.AngleStdUnc/plane.Deg-0.2, 1e-9) {
			t.Errorf("%g°: %v, %s, %.4f ± %.4f°", o, err, d.Standing, d.Angle/plane.Deg, d.AngleStdUnc/plane.Deg)
		}
		written := standingAt(table, d)
		written.Car.Floors = table.Car.Floors
		if c := written.Car; c.AngleAssumed() || !c.AngleBeforeAssumed() || len(c.Assumed) != 1 || len(table.Car.Assumed) != 2 {
			t.Errorf("%g° written: %v assumed, of %v", o, c.Assumed, table.Car.Assumed)
		}
		again, err := FitDatum(written, first)
		if err != nil || again.Standing != FileAssumed || off(again.Angle, 1e-12) || off(again.AngleStdUnc-d.AngleStdUnc, 1e-12) {
			t.Errorf("%g° again: %v, %s, %.6f ± %.4f°", o, err, again.Standing, again.Angle/plane.Deg, again.AngleStdUnc/plane.Deg)
		}
		written.Car.Fixed.Turn += 0.01 // measured anew
		if written.Car.AngleBeforeAssumed() {
			t.Errorf("%g°: measured anew, and assumed", o)
		}
	}
}

// Settings a at 2° and b at 6° tell a sign that was turned in both: what they say of the bracket is then 8° apart.
// Readings of one setting alone, however many, never do.
func TestSignShows(t *testing.T) {
	table := onFloor(flat(), 0, 0)
	table.Car.Assumed = []model.Assumption{{What: "bracket's angle", Said: true}}
	for _, c := range []struct {
		all          []model.Reading
		shows, clean bool
	}{
		{levelled("a", 0, 0, 0), false, true}, {levelled("a", -4, -4), false, true},
		{append(levelled("a", 0), levelled("b", 0)...), true, true}, {append(levelled("a", -4), levelled("b", -12)...), true, false},
	} {
		if d, err := FitDatum(table, c.all); err != nil || d.SignShows(table) != c.shows || d.Clean() != c.clean {
			t.Errorf("%v: %v, shows %v, clean %v", c.all, err, d.SignShows(table), d.Clean())
		}
	}
}

package calibrate

import (
	"math"
	"testing"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/given"
)

// By hand: a chance of 0.04 over n residuals is 1 − 0.96^(1/n) for each, half of it on either side:
// 0.02 for one, 0.0101 for two, 0.00339 for six, 0.00051 for forty; the normal table has 2.054, 2.322,
// 2.707 and 3.285 for them.
func TestThreshold(t *testing.T) {
	for n, want := range map[int]float64{0: 2.054, 1: 2.054, 2: 2.322, 6: 2.707, 40: 3.285} {
		if got := Threshold(n); off(got-want, 0.002) {
			t.Errorf("Threshold(%d) = %.4f, want %.3f", n, got, want)
		}
	}
}

// A reading is suspect beyond the threshold when two more tell so, and is then left out of the fit.
// Of n alike readings one off by x has a residual of x(n−1)/n with a spread of 0.2°·√((n−1)/n):
// x/0.2·√(3/4) for four, whose threshold is 2.570, at x = 0.5935°. Two readings can be told to
// disagree from x/0.2·√(1/2) = 2.322, at 0.6567°, and not which is wrong.
func TestSuspectByHand(t *testing.T) {
	nan := math.NaN()
	at := func(off ...float64) []model.Reading {
		var all []model.Reading
		for _, o := range off {
			all = append(all, reading("a", 2+o, nan, ""))
		}
		return all
	}
	for _, c := range []struct {
		off               []float64
		suspect, disagree bool
	}{
		{[]float64{0, 0, 0, 0.588}, false, false},
		{[]float64{0, 0, 0, 0.599}, true, false},
		{[]float64{0, 0.652}, false, false},
		{[]float64{0, 0.662}, false, true},
		{[]float64{0, 5}, false, true},
		{[]float64{0, 0, 2}, true, false},
	} {
		d, err := fitReadings(flat(), at(c.off...))
		if err != nil {
			t.Fatal(err)
		}
		k := len(c.off) - 1
		last := d.Residuals[k]
		if last.Suspect != c.suspect || last.Disagree != c.disagree || d.Clean() == (c.suspect || c.disagree) {
			t.Errorf("%v°: suspect %v, disagree %v at %.3f of %.3f", c.off, last.Suspect, last.Disagree, last.Times, d.Threshold)
		}
		if c.suspect && (off(d.Angle, 1e-12) || off(last.Off/plane.Deg-c.off[k], 1e-9) || last.Slip != SlipAngle) {
			t.Errorf("%v°: left out, angle %.4f°, off by %.4f°, slip %v", c.off, d.Angle/plane.Deg, last.Off/plane.Deg, last.Slip)
		}
		if want := c.off[k] / 0.2 * math.Sqrt(float64(k)/float64(k+1)); off(last.Times-want, 1e-9) || d.Tests != k+1 {
			t.Errorf("%v°: %.4f standard uncertainties off of %d, want %.4f of %d", c.off, last.Times, d.Tests, want, k+1)
		}
	}
	// A third of the readings is left out at most: of five one, and the other stays to be seen.
	d, err := fitReadings(flat(), at(0, 0, 0, 9, -8))
	if err != nil || suspects(d) != 1 || d.Clean() {
		t.Errorf("two slips of five: %v, %+v", err, d.Residuals)
	}
	// Two slips among seven: both are named, and the rest alone counts.
	d, err = fitReadings(flat(), at(0, 0, 0, 3, 0, -2, 0))
	if err != nil || !d.Residuals[3].Suspect || !d.Residuals[5].Suspect || suspects(d) != 2 || off(d.Angle, 1e-12) {
		t.Errorf("two slips: %v, %+v", err, d)
	}
}

// On a side with two readings that disagree nobody can tell which is wrong, though the other side
// has two as well.
func TestDisagreeOnOneSide(t *testing.T) {
	nan := math.NaN()
	d, err := fitReadings(flat(), []model.Reading{
		reading("a", 2, nan, "left"), reading("a", 4, nan, "left"), reading("a", 2, nan, "right"), reading("a", 2, nan, "right"),
	})
	if err != nil || suspects(d) > 0 || !d.Residuals[0].Disagree || !d.Residuals[1].Disagree || d.Residuals[2].Disagree {
		t.Errorf("%v: %+v", err, d.Residuals)
	}
}

// The level's zero from left, right and floor must be the same: a slip of 2° in one of six numbers
// is named though every angle by itself looks right. With one side only, floor and wing disagree.
func TestTurningSlip(t *testing.T) {
	table := onFloor(flat(), 0.3, 0.5)
	side := func(first, turned float64, side string) model.Reading {
		r := reading("a", first, math.NaN(), side)
		r.Turned, r.Floor = given.Is(turned*plane.Deg), "f"
		return r
	}
	d, err := fitReadings(table, []model.Reading{side(4.3, 2.5, "left"), side(2.3, 2.5, "right")})
	if err != nil || !d.Residuals[0].Suspect || d.Residuals[0].Slip != SlipTurning || d.Residuals[1].Suspect {
		t.Errorf("%v: %+v", err, d.Residuals)
	}
	d, err = fitReadings(table, []model.Reading{side(4.3, 2.5, "left")})
	if err != nil || suspects(d) > 0 || !d.Residuals[0].Disagree || !d.Floors[0].Disagree {
		t.Errorf("%v: %+v, %+v", err, d.Residuals, d.Floors)
	}
	d, err = fitReadings(table, []model.Reading{side(2.3, 2.5, "left"), side(2.3, 2.5, "right")})
	if err != nil || !d.Clean() || off(d.Floors[0].Slope/plane.Deg-0.4, 1e-9) || off(d.Floors[0].Zero/plane.Deg+0.1, 1e-9) {
		t.Errorf("%v: %+v", err, d)
	}
}

// suspects counts the suspect readings.
func suspects(d Datum) (n int) {
	for _, r := range d.Residuals {
		if r.Suspect {
			n++
		}
	}
	return n
}

// A reading is shown by the worst of its numbers: a height of 8 mm beside four that agree, its angle
// being right. By hand: 8 mm of five, 2 mm each: 8/2·√(4/5) = 3.578.
func TestWorstNumberCounts(t *testing.T) {
	var all []model.Reading
	for i := range 5 {
		all = append(all, reading("a", 2, 1200+8*float64(i/4), ""))
	}
	d, err := fitReadings(flat(), all)
	if err != nil || d.Tests != 10 {
		t.Fatalf("%v, %d tests", err, d.Tests)
	}
	r := d.Residuals[4]
	if !r.Suspect || r.Slip != SlipHeight || off(r.Times-3.5777, 1e-3) || d.Residuals[0].Suspect {
		t.Errorf("%+v", r)
	}
	// The angle's residual is 0, the height's not: the worse one is shown, whichever comes first.
	all = append(all[:4:4], reading("a", 2, 1203, ""))
	if d, err = fitReadings(flat(), all); err != nil || off(d.Residuals[4].Times-1.3416, 1e-3) {
		t.Errorf("%v, %+v", err, d.Residuals[4])
	}
	all[4] = reading("a", 2.3, 1200, "") // the lever moves with the angle, and the angle is the worse
	if d, err = fitReadings(flat(), all); err != nil || d.Residuals[4].Times < 1.2 {
		t.Errorf("%v, %+v", err, d.Residuals[4])
	}
}

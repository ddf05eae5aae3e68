package model

import (
	"testing"

	"stanchion/holes/plane"
	"stanchion/model/given"
)

// What was known before the readings holds as long as the angle in the file is what they made of it.
func TestAngleBefore(t *testing.T) {
	c := Car{Fixed: plane.Pose{Turn: 0.02}}
	c.Uncertainty.AngleReading = 0.004
	for _, x := range []struct {
		before       AngleBefore
		turn, stdUnc float64
	}{
		{AngleBefore{}, 0.02, 0.004},
		{AngleBefore{given.Is(0.01), 0.005, 0.02, false}, 0.01, 0.005},
		{AngleBefore{given.Is(0.01), 0.005, 0.02 + 1e-12, false}, 0.01, 0.005},
		{AngleBefore{given.Is(0), 0, 0.02, false}, 0, 0},
		{AngleBefore{given.Is(0.01), 0.005, 0.0201, true}, 0.02, 0.004},
	} {
		c.Before = x.before
		if turn, u := c.AngleBefore(); turn != x.turn || u != x.stdUnc {
			t.Errorf("%+v: %g ± %g, want %g ± %g", x.before, turn, u, x.turn, x.stdUnc)
		}
	}
}

// Assumed is what the file itself says so, of the fixed part's angle alone; once readings are in it what was before stays
// so, until it is measured anew.
func TestAngleAssumed(t *testing.T) {
	for _, x := range []struct {
		what             string
		said             bool
		before           AngleBefore
		assumed, earlier bool
	}{
		{"bracket's angle", true, AngleBefore{}, true, true},
		{"Upright’s angle", true, AngleBefore{}, true, true},
		{"flow angle at the wing", true, AngleBefore{}, false, false},
		{"bracket's angle", false, AngleBefore{}, false, false},
		{"chord", true, AngleBefore{given.Is(0), 0.005, 0.02, true}, false, true},
		{"chord", true, AngleBefore{given.Is(0), 0.005, 0.02, false}, false, false},
		{"chord", true, AngleBefore{given.Is(0), 0.005, 0.03, true}, false, false},
	} {
		c := Car{Before: x.before, Assumed: []Assumption{{What: x.what, Said: x.said}}}
		c.Fixed.Turn = 0.02
		if c.AngleAssumed() != x.assumed || c.AngleBeforeAssumed() != x.earlier {
			t.Errorf("%+v: %v, %v", x, c.AngleAssumed(), c.AngleBeforeAssumed())
		}
	}
}

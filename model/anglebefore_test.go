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
		{AngleBefore{given.Is(0.01), 0.005, 0.02}, 0.01, 0.005},
		{AngleBefore{given.Is(0.01), 0.005, 0.02 + 1e-12}, 0.01, 0.005},
		{AngleBefore{given.Is(0), 0, 0.02}, 0, 0},
		{AngleBefore{given.Is(0.01), 0.005, 0.0201}, 0.02, 0.004},
	} {
		c.Before = x.before
		if turn, u := c.AngleBefore(); turn != x.turn || u != x.stdUnc {
			t.Errorf("%+v: %g ± %g, want %g ± %g", x.before, turn, u, x.turn, x.stdUnc)
		}
	}
}

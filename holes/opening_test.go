package holes

import (
	"math"
	"testing"

	"stanchion/holes/plane"
)

// By hand around a window of 20 by 10 mm at the origin: a hole of 8 mm runs into it from 4 mm
// away on, and at the corner as far as 3-4-5 says; a slot does all along its way.
func TestHolesAndSlotsAtAnOpening(t *testing.T) {
	window := []plane.Point{{X: 0, Z: 0}, {X: 20, Z: 0}, {X: 20, Z: 10}, {X: 0, Z: 10}}
	for _, c := range []struct {
		x, z, d float64
		want    bool
	}{
		{-4.01, 5, 8, false}, {-3.99, 5, 8, true}, {10, 5, 2, true}, {-3, -4, 9.99, false}, {-3, -4, 10.01, true},
		{23, 14, 9.99, false}, {23, 14, 10.01, true}, {-4, 5, 8, true}, {math.NaN(), 5, 8, false}, {400, 5, 8, false},
	} {
		if got := (Hole{X: c.x, Z: c.z, D: c.d}).ReachesInto(window); got != c.want {
			t.Errorf("a hole of %g mm at %g, %g: %v", c.d, c.x, c.z, got)
		}
	}
	start := Hole{X: -30, Z: 5, D: 8}
	for what, c := range map[string]struct {
		s    Slot
		want bool
	}{
		"ends 5 mm short":            {Slot{Hole: start, To: plane.Point{X: -5, Z: 5}}, false},
		"ends 3 mm short":            {Slot{Hole: start, To: plane.Point{X: -3, Z: 5}}, true},
		"runs right through":         {Slot{Hole: start, To: plane.Point{X: 50, Z: 5}}, true},
		"passes 5 mm above":          {Slot{Hole: Hole{X: -30, Z: 15, D: 8}, To: plane.Point{X: 50, Z: 15}}, false},
		"over it by an arc, clear":   {Slot{Hole: Hole{X: -20, Z: 0, D: 8}, Centre: plane.Point{X: 10, Z: 0}, Turn: -math.Pi}, false},
		"over it by an arc, at 3 mm": {Slot{Hole: Hole{X: -3, Z: 10, D: 8}, Centre: plane.Point{X: 10, Z: 10}, Turn: -math.Pi}, true},
		"within it":                  {Slot{Hole: Hole{X: 5, Z: 5, D: 2}, To: plane.Point{X: 9, Z: 5}}, true},
	} {
		if got := c.s.ReachesInto(window); got != c.want {
			t.Errorf("%s: %v", what, got)
		}
	}
}

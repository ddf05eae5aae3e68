package holes

import (
	"math"
	"strings"
	"testing"

	"stanchion/holes/plane"
)

// The bottom of a parabola and of a slope that ends at its border, to a millionth.
func TestLowest(t *testing.T) {
	for _, c := range []struct{ f func(float64) float64 }{{func(x float64) float64 { return (x - 0.37) * (x - 0.37) }}, {func(x float64) float64 { return math.Abs(x - 0.37) }}} {
		calls := 0
		got := lowest(func(x float64) float64 { calls++; return c.f(x) }, -2, 3)
		if math.Abs(got-0.37) > 1e-6 || calls > 70 {
			t.Errorf("%.9f after %d calls, want 0.37", got, calls)
		}
	}
	if got := lowest(func(x float64) float64 { return x }, -2, 3); math.Abs(got+2) > 1e-6 {
		t.Errorf("%g, want -2", got)
	}
}

// The last place that holds, to a millionth, either way; the end itself when it holds.
func TestEdge(t *testing.T) {
	up := func(x float64) bool { return x <= 0.37 }
	down := func(x float64) bool { return x >= -1.2 }
	for _, c := range []struct {
		fits              func(float64) bool
		inside, end, want float64
	}{{up, 0, 1, 0.37}, {down, 0, -3, -1.2}, {up, 0, 0.2, 0.2}, {down, 0, -1, -1}} {
		if got := edge(c.fits, c.inside, c.end); math.Abs(got-c.want) > 1e-6 || !c.fits(got) {
			t.Errorf("from %g to %g: %.9f, want %g", c.inside, c.end, got, c.want)
		}
	}
}

// By hand: circles of 5 about 1, 2 and 7, 2 cross 3 along and 4 across: at 4, 6 and 4, −2;
// of 13 and 15 about 0, 0 and 0, 14 (the triangle 13, 14, 15) 5 along and 12 across.
func TestCrossingsByHand(t *testing.T) {
	for _, c := range []struct {
		a, b   plane.Point
		ra, rb float64
		want   []plane.Point
	}{
		{plane.Point{X: 1, Z: 2}, plane.Point{X: 7, Z: 2}, 5, 5, []plane.Point{{X: 4, Z: 6}, {X: 4, Z: -2}}},
		{plane.Point{X: 0, Z: 0}, plane.Point{X: 0, Z: 14}, 13, 15, []plane.Point{{X: -12, Z: 5}, {X: 12, Z: 5}}},
		{plane.Point{X: 0, Z: 0}, plane.Point{X: 10, Z: 0}, 4, 6, []plane.Point{{X: 4, Z: 0}, {X: 4, Z: 0}}},
		{plane.Point{X: 0, Z: 0}, plane.Point{X: 10, Z: 0}, 4, 5.9, nil}, // apart
		{plane.Point{X: 0, Z: 0}, plane.Point{X: 2, Z: 0}, 6, 3, nil},    // one in the other
		{plane.Point{X: 3, Z: 3}, plane.Point{X: 3, Z: 3}, 2, 2, nil},    // one
	} {
		got := crossings(c.a, c.ra, c.b, c.rb)
		if len(got) != len(c.want) {
			t.Errorf("%v of %g and %v of %g cross at %v, want %v", c.a, c.ra, c.b, c.rb, got, c.want)
			continue
		}
		for i := range got {
			if got[i].Distance(c.want[i]) > 1e-9 {
				t.Errorf("%v of %g and %v of %g cross at %v, want %v", c.a, c.ra, c.b, c.rb, got, c.want)
			}
		}
	}
}

// By hand: three bolts whose centres should be shifted to 0, 0 and 6, 0 and 3, 9 lie on a
// circle about 3, 4 of radius 5: with clearances of 4 all must grow by 1 mm for one shift
// to serve, with 6 they may shrink by 1. On two alone the middle serves: 3 mm each.
func TestDepthByHand(t *testing.T) {
	three := func(clearance float64) []bolt {
		return []bolt{{plane.Point{X: 0, Z: 0}, plane.Point{}, clearance}, {plane.Point{X: 6, Z: 0}, plane.Point{}, clearance}, {plane.Point{X: 3, Z: 9}, plane.Point{}, clearance}}
	}
	for _, c := range []struct {
		bolts []bolt
		want  float64
	}{{three(4), 1}, {three(6), -1}, {three(4)[:2], -1}, {three(2)[:2], 1}} {
		if got := depth(c.bolts, 0); math.Abs(got-c.want) > 1e-5 {
			t.Errorf("%v: %.6f mm, want %g", c.bolts, got, c.want)
		}
		if got := excess(c.bolts, 0); (got > eps) != (c.want > 0) {
			t.Errorf("%v: excess %.6f mm, and must grow by %g", c.bolts, got, c.want)
		}
	}
}

// Two holes nearer than the bolt is thick, in the lower part or in the upper one, would
// let the bolts overlap; at its thickness they go side by side.
func TestWhyBoltsOverlap(t *testing.T) {
	part := func(apart float64) Part {
		return Part{Holes: []Hole{{ID: "a", X: 10, Z: 20, D: 8.4}, {ID: "b", X: 10 + 0.6*apart, Z: 20 + 0.8*apart, D: 8.4}}}
	}
	pairs := []Pair{{0, 0}, {1, 1}}
	for _, c := range []struct {
		lower, upper float64
		shared       bool
	}{{7.9, 7.9, true}, {7.9, 8.1, true}, {8.1, 7.9, true}, {8.1, 8.1, false}} {
		v := Why(part(c.lower), part(c.upper), Joint{Shank: 8, MaxTurn: 1}, pairs)
		if (v.Reason == Shared) != c.shared {
			t.Errorf("%g mm apart below, %g above: %v", c.lower, c.upper, v.Reason)
		}
	}
}

// The ends are named by where they lie: lower and upper, or front and rear when it is
// flatter than 45°.
func TestWhereInASlot(t *testing.T) {
	slot := func(x, z float64) Slot {
		to := plane.Point{X: 100 + x, Z: 200 + z}
		return Slot{Hole: Hole{ID: "S", X: 100, Z: 200, D: 8.4}, To: to}
	}
	for _, c := range []struct {
		x, z float64
		want string
	}{
		{6, 8, "3.0 mm from the lower end, 7.0 mm from the upper end"},
		{6, -8, "3.0 mm from the upper end, 7.0 mm from the lower end"},
		{8, 6, "3.0 mm from the front end, 7.0 mm from the rear end"},
		{-8, 6, "3.0 mm from the rear end, 7.0 mm from the front end"},
	} {
		if got := slot(c.x, c.z).Where(3); !strings.Contains(got, c.want) {
			t.Errorf("to %g, %g: %s, want %s", c.x, c.z, got, c.want)
		}
	}
}

package plane

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// rect is a rectangle, counter-clockwise.
func rect(x0, z0, x1, z1 float64) []Point { return []Point{{x0, z0}, {x1, z0}, {x1, z1}, {x0, z1}} }

// clockwise is a polygon the other way round.
func clockwise(p []Point) []Point {
	var q []Point
	for i := range p {
		q = append(q, p[len(p)-1-i])
	}
	return q
}

// By hand: a plate 100 by 200 with a window 20 to 60 by 50 to 150. Of its 20,000 mm² 4,000
// about 40, 100 are gone: the middle is at (20000·50 − 4000·40)/16000 = 52.5.
func TestOpeningsByHand(t *testing.T) {
	plate, window := rect(0, 0, 100, 200), rect(20, 50, 60, 150)
	for _, w := range [][]Point{window, clockwise(window)} {
		for _, o := range [][]Point{plate, clockwise(plate)} {
			mm2, middle := AreaOf(o, [][]Point{w})
			if math.Abs(mm2-16000) > 1e-9 || middle.Distance(Point{52.5, 100}) > 1e-9 {
				t.Errorf("%g mm² about %v, by hand 16000 about 52.5, 100", mm2, middle)
			}
			for _, c := range []struct {
				p      Point
				mm     float64
				inside bool
			}{
				{Point{70, 100}, 10, true},  // from the window, 30 from the plate's edge
				{Point{5, 100}, 5, true},    // from the plate's edge, 15 from the window
				{Point{63, 154}, 5, true},   // from the window's corner, 3 and 4 off
				{Point{40, 60}, 10, false},  // in the window
				{Point{-7, 100}, 7, false},  // outside
				{Point{40, 170}, 20, true},  // above the window
				{Point{40, 210}, 10, false}, // above the plate
			} {
				mm, inside := EdgeDistanceOf([][]Point{o, w}, c.p)
				if math.Abs(mm-c.mm) > 1e-9 || inside != c.inside {
					t.Errorf("%v: %g mm, in metal %v; want %g, %v", c.p, mm, inside, c.mm, c.inside)
				}
			}
		}
	}
	if mm, inside := EdgeDistanceOf(nil, Point{}); !math.IsInf(mm, 1) || inside {
		t.Errorf("nothing: %g, %v", mm, inside)
	}
	if mm2, middle := AreaOf(plate, nil); mm2 != 20000 || middle != (Point{50, 100}) {
		t.Errorf("a whole plate: %g about %v", mm2, middle)
	}
}

func TestKnots(t *testing.T) {
	for _, c := range []struct {
		what    string
		polygon []Point
		at      Point
		ok      bool
	}{
		{"a square", rect(0, 0, 10, 10), Point{}, false},
		{"a triangle", []Point{{0, 0}, {10, 0}, {0, 10}}, Point{}, false},
		{"an L", ell, Point{}, false},
		{"a bow", []Point{{0, 0}, {10, 10}, {10, 0}, {0, 10}}, Point{5, 5}, true},
		{"a spike", []Point{{0, 0}, {10, 0}, {10, 10}, {10, 5}, {0, 5}}, Point{10, 5}, true},
		{"a corner on an edge", []Point{{0, 0}, {10, 0}, {10, 10}, {5, 0}, {0, 10}}, Point{5, 0}, true},
		{"no width", []Point{{0, 0}, {10, 0}, {5, 0}}, Point{5, 0}, true},
	} {
		for _, p := range [][]Point{c.polygon, clockwise(c.polygon)} {
			if at, ok := Knot(p); ok != c.ok || ok && c.what == "a bow" && at.Distance(c.at) > 1e-9 {
				t.Errorf("%s: %v %v, want %v %v", c.what, at, ok, c.at, c.ok)
			}
		}
	}
	if got := Corners([]Point{{0, 0}, {0, 0}, {10, 0}, {0, 10}, {0, 0}}); len(got) != 3 {
		t.Errorf("corners that repeat: %v", got)
	}
}

// By hand, a plate of 100 by 100 and what may lie in it.
func TestInOneAnother(t *testing.T) {
	plate := rect(0, 0, 100, 100)
	for _, c := range []struct {
		what            string
		polygon         []Point
		encloses, meets bool
		overlaps        bool
	}{
		{"inside", rect(20, 20, 40, 40), true, false, true},
		{"at the edge", rect(0, 20, 40, 40), false, true, true},
		{"across the edge", rect(-5, 20, 40, 40), false, true, true},
		{"with a corner on it", []Point{{100, 50}, {80, 60}, {80, 40}}, false, true, true},
		{"outside", rect(120, 20, 140, 40), false, false, false},
		{"around it", rect(-20, -20, 140, 140), false, false, true},
		{"beside, with an edge on it", rect(100, 20, 140, 40), false, true, true},
	} {
		_, meets := Meet(plate, c.polygon)
		if e, o := Encloses(plate, c.polygon), Overlap(plate, c.polygon); e != c.encloses || meets != c.meets || o != c.overlaps {
			t.Errorf("%s: encloses %v, meets %v, overlaps %v", c.what, e, meets, o)
		}
	}
	if !Encloses(ell, rect(12, 40, 15, 45)) || Encloses(ell, rect(30, 40, 35, 45)) {
		t.Error("in the post of an L is inside of it, in its crook is not")
	}
}

// Overlap has no order, and what is enclosed overlaps and does not meet.
func TestOpeningLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(label string) []Point {
			v := rapid.IntRange(-9, 9)
			var p []Point
			for range rapid.IntRange(3, 6).Draw(t, label) {
				p = append(p, Point{float64(v.Draw(t, "x")), float64(v.Draw(t, "z"))})
			}
			return p
		}
		a, b := draw("a"), draw("b")
		_, ab := Meet(a, b)
		_, ba := Meet(b, a)
		if ab != ba || Overlap(a, b) != Overlap(b, a) {
			t.Fatalf("%v and %v meet %v, %v; overlap %v, %v", a, b, ab, ba, Overlap(a, b), Overlap(b, a))
		}
		if Encloses(a, b) && (ab || !Overlap(a, b) || Encloses(b, a)) {
			t.Fatalf("%v encloses %v", a, b)
		}
		if d := Distance(a, b).Distance; (d == 0) != Overlap(a, b) && d > touching {
			t.Fatalf("%v and %v are %g mm apart, overlap %v", a, b, d, Overlap(a, b))
		}
	})
}

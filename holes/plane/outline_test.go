package plane

import (
	"math"
	"reflect"
	"testing"
)

// ell is an L: 30 wide and 20 high at the foot, 10 wide up to 50.
var ell = []Point{{10, 5}, {40, 5}, {40, 25}, {20, 25}, {20, 55}, {10, 55}}

// By hand: the foot of 600 mm² about 25, 15 and the post of 300 mm² about 15, 40 make
// 900 mm² about (25·600 + 15·300)/900 = 21.667, (15·600 + 40·300)/900 = 23.333.
func TestAreaByHand(t *testing.T) {
	area, middle := Area(ell)
	if math.Abs(area-900) > 1e-9 || middle.Distance(Point{65.0 / 3, 70.0 / 3}) > 1e-9 {
		t.Errorf("%g mm² about %v", area, middle)
	}
	var back []Point
	for i := range ell {
		back = append(back, ell[len(ell)-1-i])
	}
	if area, middle := Area(back); math.Abs(area+900) > 1e-9 || middle.Distance(Point{65.0 / 3, 70.0 / 3}) > 1e-9 {
		t.Errorf("clockwise %g mm² about %v", area, middle)
	}
	if area, middle := Area([]Point{{1, 2}, {3, 4}}); area != 0 || middle != (Point{1, 2}) {
		t.Errorf("a line has %g mm² about %v", area, middle)
	}
	if area, middle := Area(nil); area != 0 || middle != (Point{}) {
		t.Errorf("nothing has %g mm² about %v", area, middle)
	}
}

// By hand, in the L and around it; the slanted edge is of the triangle 0,0 40,0 0,30,
// whose long side is 50 and runs 0.6·x + 0.8·z = 24 from the origin.
func TestEdgeDistanceByHand(t *testing.T) {
	for _, c := range []struct {
		outline []Point
		p       Point
		mm      float64
		inside  bool
	}{
		{ell, Point{15, 40}, 5, true},
		{ell, Point{18, 40}, 2, true},
		{ell, Point{25, 15}, 10, true},
		{ell, Point{38, 12}, 2, true},
		{ell, Point{30, 40}, 10, false}, // in the crook: 10 to the post, 15 to the foot
		{ell, Point{23, 29}, 3, false},  // nearer to the post than to the corner
		{ell, Point{43, 29}, 5, false},  // from the foot's corner, 3 and 4 off
		{ell, Point{5, 40}, 5, false},
		{ell, Point{15, 60}, 5, false},
		{[]Point{{0, 0}, {40, 0}, {0, 30}}, Point{12, 12}, 7.2, true}, // 24 − 0.6·12 − 0.8·12 = 7.2
		{[]Point{{0, 0}, {40, 0}, {0, 30}}, Point{30, 20}, 10, false}, // 0.6·30 + 0.8·20 − 24 = 10
		{[]Point{{0, 0}, {40, 0}, {0, 30}}, Point{44, -3}, 5, false},
	} {
		mm, inside := EdgeDistance(c.outline, c.p)
		if math.Abs(mm-c.mm) > 1e-9 || inside != c.inside {
			t.Errorf("%v is %g mm from the edge, inside %v; want %g, %v", c.p, mm, inside, c.mm, c.inside)
		}
	}
}

// DXF's bulge is the tangent of a quarter of the turn: 1 is half a circle, tan 22.5° a
// quarter; positive turns left. By hand from 10, 0.
func TestArcByHand(t *testing.T) {
	quarter := math.Tan(math.Pi / 8)
	for _, c := range []struct {
		a, b, centre  Point
		bulge, radius float64
	}{
		{Point{10, 0}, Point{0, 10}, Point{0, 0}, quarter, 10},
		{Point{0, 10}, Point{10, 0}, Point{0, 0}, -quarter, 10},
		{Point{10, 0}, Point{0, 10}, Point{10, 10}, -quarter, 10},
		{Point{10, 0}, Point{-10, 0}, Point{0, 0}, 1, 10},
		{Point{15, 7}, Point{5, 17}, Point{5, 7}, quarter, 10},
	} {
		centre, radius := Arc(c.a, c.b, c.bulge)
		if centre.Distance(c.centre) > 1e-9 || math.Abs(radius-c.radius) > 1e-9 {
			t.Errorf("from %v to %v by %.3f: %v, radius %g, want %v", c.a, c.b, c.bulge, centre, radius, c.centre)
		}
	}
}

// Corners only, counter-clockwise from the leftmost, whatever the order of points; what
// lies in a side or inside is none.
func TestHullByHand(t *testing.T) {
	want := []Point{{-2, 1}, {0, 0}, {6, 0}, {7, 3}, {4, 5}, {0, 5}}
	points := []Point{{3, 0}, {7, 3}, {4, 5}, {2, 5}, {0, 0}, {1, 1}, {6, 0}, {0, 5}, {-2, 1}, {3, 3}, {5, 4}, {0, 5}}
	if got := Hull(points); !reflect.DeepEqual(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	for i := range points { // turned round in the list
		if got := Hull(append(append([]Point(nil), points[i:]...), points[:i]...)); !reflect.DeepEqual(got, want) {
			t.Errorf("from point %d: %v", i, got)
		}
	}
	if got := Hull([]Point{{1, 2}, {0, 0}}); !reflect.DeepEqual(got, []Point{{1, 2}, {0, 0}}) {
		t.Errorf("two points: %v", got)
	}
}

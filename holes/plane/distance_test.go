package plane

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

func ExampleDistanceTurning() {
	// By hand: a lid 400 mm long opens about its front edge at the origin, past a
	// post at 300 mm that ends 300 mm up: hypot(300, 300) = 424.26 mm from the hinge
	// is 24.26 mm beyond the lid's reach, at 45°.
	post := []Point{{X: 300, Z: 300}, {X: 300, Z: 900}}
	lid := []Point{{}, {X: 400}}
	c := DistanceTurning(post, lid, Point{}, 80*Deg)
	fmt.Printf("%.2f mm at %.1f°\n", c.Distance, c.Turn/Deg)
	// Output: 24.26 mm at 45.0°
}

func polygon(t *rapid.T, name string, x, z float64) []Point {
	n := rapid.IntRange(2, 6).Draw(t, name)
	var ps []Point
	for i := range n {
		a := 2 * math.Pi * float64(i) / float64(n)
		r := rapid.Float64Range(10, 120).Draw(t, name+" radius")
		ps = append(ps, Point{X: x + r*math.Cos(a), Z: z + r*math.Sin(a)})
	}
	return ps
}

// brute is the least distance of points taken finely along both polygons.
func brute(a, b []Point) float64 {
	least := math.Inf(1)
	for p, q := range Edges(a) {
		for i := range 41 {
			f := float64(i) / 40
			u := Point{X: p.X + f*(q.X-p.X), Z: p.Z + f*(q.Z-p.Z)}
			for r, s := range Edges(b) {
				d, _ := ToSegment(u, r, s)
				least = min(least, d)
			}
		}
	}
	if Inside(a, b[0]) || Inside(b, a[0]) {
		return 0
	}
	return least
}

func turned(ps []Point, hinge Point, by float64) []Point {
	var out []Point
	for _, p := range ps {
		out = append(out, About(hinge, by).Apply(p))
	}
	return out
}

// The exact least distance over all turns is never above what trying many turns
// finds, and hardly below it; and it is the distance at the turn that it names.
func TestTurningAgainstBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		fixed := polygon(t, "fixed", rapid.Float64Range(-300, 300).Draw(t, "x"), rapid.Float64Range(-300, 300).Draw(t, "z"))
		lid := polygon(t, "lid", 150, 0)
		hinge := Point{X: rapid.Float64Range(-50, 50).Draw(t, "hx"), Z: rapid.Float64Range(-50, 50).Draw(t, "hz")}
		open := rapid.Float64Range(-3, 3).Draw(t, "open")
		c := DistanceTurning(fixed, lid, hinge, open)
		least := math.Inf(1)
		const steps = 300
		for i := range steps + 1 {
			least = min(least, brute(fixed, turned(lid, hinge, open*float64(i)/steps)))
		}
		reach := 0.0
		for _, p := range lid {
			reach = max(reach, hinge.Distance(p))
		}
		coarse := math.Abs(open)/steps*reach + 8 // between two turns, and two points of an edge
		if c.Distance > least+1e-9 || c.Distance < least-coarse {
			t.Fatalf("%g mm, trying finds %g", c.Distance, least)
		}
		if math.Abs(c.Turn) > math.Abs(open)+1e-9 {
			t.Fatalf("turned by %g of %g", c.Turn, open)
		}
		// Up to the turn at which they are nearest they stay so far apart, and hardly further where more is wanted.
		if to := TurnsApart(fixed, lid, hinge, open, c.Distance); math.Abs(to-math.Abs(open)) > 1e-6 {
			t.Fatalf("%g mm apart up to %g of %g rad", c.Distance, to, open)
		}
		mm := c.Distance + rapid.Float64Range(0.01, 20).Draw(t, "more")
		to := TurnsApart(fixed, lid, hinge, open, mm)
		before, beyond := DistanceTurning(fixed, lid, hinge, math.Copysign(to, open)), DistanceTurning(fixed, lid, hinge, math.Copysign(to+1e-6, open))
		if to > math.Abs(c.Turn) || to > 0 && before.Distance < mm-1e-6 || beyond.Distance > mm {
			t.Fatalf("%g mm apart up to %g rad: %g mm before, %g mm beyond", mm, to, before.Distance, beyond.Distance)
		}
		at := Distance(fixed, turned(lid, hinge, c.Turn))
		if c.Distance > 0 && math.Abs(at.Distance-c.Distance) > 1e-6 {
			t.Fatalf("%g mm said, %g mm at %g rad", c.Distance, at.Distance, c.Turn)
		}
		if math.Abs(c.A.Distance(c.B)-c.Distance) > 1e-6 {
			t.Fatalf("the points are %g mm apart, %g said", c.A.Distance(c.B), c.Distance)
		}
	})
}

// Distances do not hang on which shape comes first, nor on where both are.
func TestBetweenIsSymmetric(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(-300, 300)
		a, b := polygon(t, "a", v.Draw(t, "x"), v.Draw(t, "z")), polygon(t, "b", 0, 0)
		c, d := Distance(a, b).Distance, Distance(b, a).Distance
		hinge := Point{X: v.Draw(t, "hx"), Z: v.Draw(t, "hz")}
		e := Distance(turned(a, hinge, 1), turned(b, hinge, 1)).Distance
		if math.Abs(c-d) > 1e-9 || math.Abs(c-e) > 1e-6 {
			t.Fatalf("%g, %g the other way, %g turned", c, d, e)
		}
		if got := brute(a, b); c > got+1e-9 || c < got-8 {
			t.Fatalf("%g, trying finds %g", c, got)
		}
	})
}

// Two straight lines one behind the other on one level, 52 mm apart, stay 52 mm apart when
// both are turned, though rounding takes them off the line.
func TestOneBehindTheOtherTurned(t *testing.T) {
	a := []Point{{X: 248, Z: 1.4e-14}, {X: 117, Z: 1.4e-14}}
	b := []Point{{X: 65, Z: 0}, {X: -10, Z: 0}}
	for n := range 360 {
		by := float64(n) * Deg
		hinge := Point{X: 1, Z: -300}
		if d := Distance(turned(a, hinge, by), turned(b, hinge, by)).Distance; math.Abs(d-52) > 1e-9 {
			t.Fatalf("turned by %d°: %g mm, want 52", n, d)
		}
	}
}

func TestOverlaps(t *testing.T) {
	square := []Point{{X: -10, Z: -10}, {X: 10, Z: -10}, {X: 10, Z: 10}, {X: -10, Z: 10}}
	small := []Point{{X: -1, Z: -1}, {X: 1, Z: -1}, {X: 0, Z: 1}}
	if d := Distance(square, small).Distance; d != 0 {
		t.Errorf("one inside of the other: %g mm", d)
	}
	if d := Distance(square, nil).Distance; !math.IsInf(d, 1) {
		t.Errorf("without the other: %g mm", d)
	}
	// A lid that passes through an obstacle touches first where it reaches it.
	c := DistanceTurning(square, []Point{{X: -100}, {X: -100 + 95}}, Point{X: -100}, 1)
	if c.Distance != 0 || c.Turn != 0 {
		t.Errorf("an overlap from the start: %+v", c)
	}
	post := []Point{{X: 100, Z: 50}, {X: 100, Z: 60}, {X: 120, Z: 60}, {X: 120, Z: 50}}
	c = DistanceTurning(post, []Point{{}, {X: 200}}, Point{}, 1)
	if want := math.Atan2(50, 120); c.Distance != 0 || math.Abs(c.Turn-want) > 1e-9 {
		t.Errorf("touches after %g rad, want %g", c.Turn, want)
	}
}

// By hand: from 1, 1 to 5, 3 crosses from 2, 5 to 4, 0 where 1 + 4t = 2 + 2u and
// 1 + 2t = 5 − 5u: t = 13/24, u = 7/12, at 3.1667, 2.0833.
func TestCrossingByHand(t *testing.T) {
	at, ok := crossing(Point{X: 1, Z: 1}, Point{X: 5, Z: 3}, Point{X: 2, Z: 5}, Point{X: 4, Z: 0})
	if !ok || math.Abs(at.X-19.0/6) > 1e-9 || math.Abs(at.Z-25.0/12) > 1e-9 {
		t.Errorf("%v %v, want 3.1667, 2.0833", at, ok)
	}
	for _, c := range [][4]Point{
		{{X: 1, Z: 1}, {X: 3, Z: 2}, {X: 2, Z: 5}, {X: 4, Z: 0}}, // ends before
		{{X: 1, Z: 1}, {X: 5, Z: 3}, {X: 2, Z: 5}, {X: 3, Z: 2.5}},
		{{X: 4, Z: 2.5}, {X: 5, Z: 3}, {X: 2, Z: 5}, {X: 4, Z: 0}}, // begins behind
		{{X: 1, Z: 1}, {X: 5, Z: 3}, {X: 3.5, Z: 1.25}, {X: 4, Z: 0}},
		{{X: 0, Z: 0}, {X: 4, Z: 2}, {X: 0, Z: 1}, {X: 4, Z: 3}}, // along one another
	} {
		if at, ok := crossing(c[0], c[1], c[2], c[3]); ok {
			t.Errorf("%v cross at %v", c, at)
		}
	}
}

// By hand, the least distance of a point that turns about the origin from 100, 0, and
// the turn at which it is least: past an edge ahead, the other way round, one that it
// crosses, one that it never reaches, one whose line goes through the centre.
func TestTurningPointByHand(t *testing.T) {
	p := func(x, z float64) Point { return Point{X: x, Z: z} }
	for _, c := range []struct {
		a, b     Point
		turn     float64
		mm, when float64 // °
	}{
		{p(-50, 120), p(50, 120), 120, 20, 90},     // along the way at its top
		{p(-50, -120), p(50, -120), -120, 20, -90}, // the other way
		{p(-50, -120), p(50, -120), 120, 130, 0},   // away from it: to 50, −120 from the start
		{p(0, 50), p(0, 150), 120, 0, 90},          // crosses
		{p(0, 50), p(0, 150), 60, 50, 60},          // stops 50 before: 100·cos 60° = 50
		{p(60, 80), p(120, 160), 120, 0, 53.1301},  // on a ray from the centre
		{p(0, 20), p(0, 60), 120, 40, 90},          // inside of the way
	} {
		got := arc(Point{}, p(100, 0), c.turn*Deg, c.a, c.b)
		if math.Abs(got.distance-c.mm) > 1e-6 || math.Abs(got.turn/Deg-c.when) > 1e-3 {
			t.Errorf("%v–%v by %g°: %.4f mm at %.4f°, want %g at %g°", c.a, c.b, c.turn, got.distance, got.turn/Deg, c.mm, c.when)
		}
	}
}

func TestWithinAConvexPolygon(t *testing.T) {
	square := []Point{{X: 0, Z: 0}, {X: 10, Z: 0}, {X: 10, Z: 10}, {X: 0, Z: 10}}
	for _, c := range []struct {
		points []Point
		want   bool
	}{
		{[]Point{{X: 5, Z: 5}, {X: 0, Z: 3}}, true},
		{[]Point{{X: 5, Z: 5}, {X: 10.5, Z: 3}}, false},
		{[]Point{{X: 5, Z: -0.5}}, false},
	} {
		if got := Within(square, c.points); got != c.want {
			t.Errorf("%v within: %v", c.points, got)
		}
	}
	if Within(square[:2], square[:2]) {
		t.Error("a line holds points")
	}
}

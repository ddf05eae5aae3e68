package holes

import (
	"math"
	"math/rand/v2"
	"testing"

	"stanchion/holes/plane"
)

// What is filed is found as by looking at all of them: within 0.2 mm and 0.05°, the
// better one of several.
func TestSamePlaceAgainstLookingAtAll(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	pose := func() plane.Pose {
		return plane.Pose{X: 3 * (r.Float64() - 0.5), Z: 3 * (r.Float64() - 0.5), Turn: 0.6 * (r.Float64() - 0.5) * plane.Deg}
	}
	var all []Setting
	filed := newPlaces(0)
	for i := range 400 {
		at := pose()
		all = append(all, Setting{ID: string(rune('a' + i%26)), Bolts: 2 + i%3, Play: float64(i%5) / 100, Pose: at})
		filed.add(at, i)
	}
	hits := 0
	for range 3000 {
		at := pose()
		want := -1
		for i := range all {
			q := all[i].Pose
			near := math.Hypot(q.X-at.X, q.Z-at.Z) <= 0.2 && math.Abs(q.Turn-at.Turn) <= 0.05*plane.Deg
			if near && (want < 0 || better(&all[i], &all[want])) {
				want = i
			}
		}
		got, ok := filed.find(all, at)
		if ok != (want >= 0) || ok && (better(&all[got], &all[want]) || better(&all[want], &all[got])) {
			t.Fatalf("at %+v found %d %v, want %d", at, got, ok, want)
		}
		if ok {
			hits++
		}
	}
	if hits < 100 || hits > 2900 {
		t.Errorf("%d of 3000 found: nothing is tried", hits)
	}
}

// More bolts first, then less play, then the name; plays that differ by rounding do not
// count.
func TestBetter(t *testing.T) {
	more, tight, loose := Setting{ID: "z", Bolts: 4, Play: 0.03}, Setting{ID: "y", Bolts: 2, Play: 0.01}, Setting{ID: "a", Bolts: 2, Play: 0.02}
	same := Setting{ID: "x", Bolts: 2, Play: 0.01 + 1e-9}
	for _, c := range []struct{ a, b Setting }{{more, tight}, {tight, loose}, {more, loose}, {same, tight}} {
		if !better(&c.a, &c.b) || better(&c.b, &c.a) {
			t.Errorf("%s is not better than %s", c.a.ID, c.b.ID)
		}
	}
}

// At 0.2 mm and 0.05° two are one, beyond they are two.
func TestSamePlaceAtItsEdge(t *testing.T) {
	all := []Setting{{ID: "a"}}
	filed := newPlaces(1)
	filed.add(plane.Pose{}, 0)
	const deg = plane.Deg
	for _, c := range []struct {
		at   plane.Pose
		same bool
	}{
		{plane.Pose{X: 0.199}, true}, {plane.Pose{X: 0.201}, false}, {plane.Pose{Z: -0.199}, true}, {plane.Pose{Z: -0.201}, false},
		{plane.Pose{X: 0.15, Z: 0.15}, false}, {plane.Pose{Turn: 0.049 * deg}, true}, {plane.Pose{Turn: -0.051 * deg}, false},
		{plane.Pose{X: 0.12, Z: -0.15, Turn: -0.049 * deg}, true},
	} {
		if _, ok := filed.find(all, c.at); ok != c.same {
			t.Errorf("%+v is the same: %v", c.at, ok)
		}
	}
}

// Points within a distance, found as by looking at all of them, whether the circle has
// fewer cells than the grid or more.
func TestGridAgainstLookingAtAll(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	var points []plane.Point
	for range 300 {
		points = append(points, plane.Point{X: 200 * (r.Float64() - 0.5), Z: 200 * (r.Float64() - 0.5)})
	}
	g := newGrid(points, 7)
	for range 300 {
		at, radius := plane.Point{X: 220 * (r.Float64() - 0.5), Z: 220 * (r.Float64() - 0.5)}, 60*r.Float64()*r.Float64()
		found := map[int]int{}
		g.near(at, radius, func(i int) { found[i]++ })
		for i, p := range points {
			want := 0
			if p.Distance(at) <= radius {
				want = 1
			}
			if found[i] != want {
				t.Fatalf("point %v, %g mm from %v with radius %g: visited %d times", p, p.Distance(at), at, radius, found[i])
			}
		}
	}
}

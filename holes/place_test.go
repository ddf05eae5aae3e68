package holes

import (
	"math"
	"math/rand/v2"
	"testing"
)

// What is filed is found as by looking at all of them: within 0.2 mm and 0.05°, the
// better one of several.
func TestSamePlaceAgainstLookingAtAll(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	pose := func() Pose {
		return Pose{X: 3 * (r.Float64() - 0.5), Z: 3 * (r.Float64() - 0.5), Turn: 0.6 * (r.Float64() - 0.5) * math.Pi / 180}
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
			near := math.Hypot(q.X-at.X, q.Z-at.Z) <= 0.2 && math.Abs(q.Turn-at.Turn) <= 0.05*math.Pi/180
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
	filed.add(Pose{}, 0)
	const deg = math.Pi / 180
	for _, c := range []struct {
		at   Pose
		same bool
	}{
		{Pose{X: 0.199}, true}, {Pose{X: 0.201}, false}, {Pose{Z: -0.199}, true}, {Pose{Z: -0.201}, false},
		{Pose{X: 0.15, Z: 0.15}, false}, {Pose{Turn: 0.049 * deg}, true}, {Pose{Turn: -0.051 * deg}, false},
		{Pose{X: 0.12, Z: -0.15, Turn: -0.049 * deg}, true},
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
	var points []Point
	for range 300 {
		points = append(points, Point{200 * (r.Float64() - 0.5), 200 * (r.Float64() - 0.5)})
	}
	g := newGrid(points, 7)
	for range 300 {
		at, radius := Point{220 * (r.Float64() - 0.5), 220 * (r.Float64() - 0.5)}, 60*r.Float64()*r.Float64()
		found := map[int]int{}
		g.near(at, radius, func(i int) { found[i]++ })
		for i, p := range points {
			want := 0
			if p.distance(at) <= radius {
				want = 1
			}
			if found[i] != want {
				t.Fatalf("point %v, %g mm from %v with radius %g: visited %d times", p, p.distance(at), at, radius, found[i])
			}
		}
	}
}

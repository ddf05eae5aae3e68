package design

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"stanchion/holes/plane"
)

// TestNoSmallerHead tries every set of front holes of a coarse grid with every choice of rear holes along their arcs, by itself, and holds the
// search to it: it must not need more holes, on a finer grid.
func TestNoSmallerHead(t *testing.T) {
	for _, c := range []struct{ high, step float64 }{{8, 8}, {9, 4.5}, {6, 3}} {
		f := simple(Wish{Heights: []float64{500}, HeightWithin: 6, High: c.high * plane.Deg, Step: c.step * plane.Deg, EndWithin: 0.5 * plane.Deg, FootBolts: 4})
		cover := f.newCover(standsUpright(t, f)[0], f.wish.Step, -85, -5)
		got, found, err := cover.search(context.Background(), 1, usual, 12)
		if err != nil || !found {
			t.Fatal(err, found)
		}
		var grid []plane.Point
		for x := -85.0; x <= -5; x += 20 {
			for z := 494.0; z <= 506; z += 6 {
				grid = append(grid, plane.Point{X: x, Z: z})
			}
		}
		fewest := math.MaxInt
		for i, a := range grid {
			fewest = min(fewest, 1+bruteRears(f, []plane.Point{a}, fewest))
			for k, b := range grid[:i] {
				if a.Distance(b) < 20 {
					continue
				}
				fewest = min(fewest, 2+bruteRears(f, []plane.Point{a, b}, fewest))
				for _, c := range grid[:k] {
					if c.Distance(a) >= 20 && c.Distance(b) >= 20 && f.wish.Step < 4*plane.Deg {
						fewest = min(fewest, 3+bruteRears(f, []plane.Point{a, b, c}, fewest))
					}
				}
			}
		}
		t.Logf("0 to %v° by %v°: %d holes, by trying all %d, bound %d", c.high, c.step, got.holes(), fewest, f.bound([]float64{0}))
		if got.holes() > fewest {
			t.Errorf("0 to %v° by %v°: %d holes where %d do", c.high, c.step, got.holes(), fewest)
		}
		if got.holes() < f.bound([]float64{0}) || fewest < f.bound([]float64{0}) {
			t.Errorf("0 to %v° by %v°: the bound of %d is wrong", c.high, c.step, f.bound([]float64{0}))
		}
	}
}

// bruteRears is the fewest rear holes, on a coarse grid of angles, with which no step is too wide: all sets of up to as many as are worth it.
func bruteRears(f *frame, fronts []plane.Point, limit int) int {
	type rear struct {
		at     plane.Point
		angles []float64
	}
	var all []rear
	for _, p := range fronts {
		for a := 0.0; a <= f.wish.High+1e-9; a += 0.5 * plane.Deg {
			r := rear{at: f.rearOf(p, a)}
			for _, o := range fronts {
				angle := f.angleOf(o, r.at)
				if math.Abs(o.Distance(r.at)-f.pitch) <= f.slack && math.Abs(f.heightOf(o, angle)-f.wish.Heights[0]) <= f.wish.HeightWithin {
					r.angles = append(r.angles, angle)
				}
			}
			if len(r.angles) > 0 && apart(r.at, fronts, f.headRoom) {
				all = append(all, r)
			}
		}
	}
	enough := func(angles []float64) bool {
		angles = slices.Sorted(slices.Values(angles))
		if angles[0] > f.wish.Low+f.wish.EndWithin || angles[len(angles)-1] < f.wish.High-f.wish.EndWithin {
			return false
		}
		for i := 1; i < len(angles); i++ {
			if angles[i]-angles[i-1] > f.wish.Step {
				return false
			}
		}
		return true
	}
	var grow func(from int, places []plane.Point, angles []float64, left int) bool
	grow = func(from int, places []plane.Point, angles []float64, left int) bool {
		if left == 0 {
			return enough(angles)
		}
		for i := from; i < len(all); i++ {
			if apart(all[i].at, places, f.headRoom) &&
				grow(i+1, append(slices.Clip(places), all[i].at), append(slices.Clip(angles), all[i].angles...), left-1) {
				return true
			}
		}
		return false
	}
	for n := 1; n <= 3 && n+len(fronts) < limit; n++ {
		if grow(0, nil, nil, n) {
			return n
		}
	}
	return 1000
}

// TestBoundHolds: no head that is drawn at random has more pairs than the bound allows for.
func TestBoundHolds(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	f := simple(Wish{Heights: []float64{500}, HeightWithin: 30, High: 10 * plane.Deg, Step: 2 * plane.Deg, FootBolts: 4})
	m, single := f.perArc([]float64{0}), f.oneInCommon([]float64{0})
	for range 3000 {
		var fronts, rears []plane.Point
		for range 40 {
			p := plane.Point{X: -60 + rng.Float64()*60, Z: 480 + rng.Float64()*60}
			if apart(p, fronts, f.headRoom) {
				fronts = append(fronts, p)
			}
		}
		for range 400 {
			q := f.rearOf(fronts[rng.IntN(len(fronts))], rng.Float64()*f.wish.High)
			if apart(q, rears, f.headRoom) && apart(q, fronts, f.headRoom) {
				rears = append(rears, q)
			}
		}
		pairs := 0
		for _, p := range fronts {
			each := 0
			for _, q := range rears {
				if a := f.angleOf(p, q); math.Abs(p.Distance(q)-f.pitch) <= 2*f.slack && a >= 0 && a <= f.wish.High {
					each++
				}
			}
			if each > m {
				t.Fatalf("%d rear holes on one arc, the bound says %d", each, m)
			}
			pairs += each
		}
		if most := mostPairs(len(fronts), len(rears), m, single); pairs > most {
			t.Fatalf("%d front and %d rear holes have %d pairs, the bound says %d", len(fronts), len(rears), pairs, most)
		}
	}
}

package holes

import (
	"math"
	"sort"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stanchion/holes/plane"
)

// drawPlate draws a part with holes on a coarse lattice, so that spacings
// often match, pushed about by less than clearances allow.
func drawPlate(t *rapid.T, name string, most int) Part {
	n := rapid.IntRange(2, most).Draw(t, name)
	p := Part{Name: name}
	taken := map[[2]int]bool{}
	for range n {
		x, z := rapid.IntRange(0, 5).Draw(t, "x"), rapid.IntRange(0, 8).Draw(t, "z")
		if taken[[2]int{x, z}] {
			continue
		}
		taken[[2]int{x, z}] = true
		off := func() float64 { return rapid.Float64Range(-0.6, 0.6).Draw(t, "off") }
		p.Holes = append(p.Holes, Hole{
			ID: name + string(rune('a'+len(p.Holes))), X: 20*float64(x) + off(), Z: 20*float64(z) + off(),
			D: rapid.SampledFrom([]float64{8.4, 9, 7}).Draw(t, "d"),
		})
	}
	return p
}

func moved(p Part, by plane.Pose) Part {
	q := Part{Name: p.Name, Holes: append([]Hole(nil), p.Holes...)}
	for i, h := range q.Holes {
		at := by.Apply(h.At())
		q.Holes[i].X, q.Holes[i].Z = at.X, at.Z
	}
	return q
}

func ids(lower, upper Part, fits []Fit) []string {
	var s []string
	for _, f := range fits {
		s = append(s, FitID(lower, upper, f))
	}
	sort.Strings(s)
	return s
}

func anyTurn(name string) Joint { return Joint{Name: name, Shank: 8, MinBolts: 2, MaxTurn: math.Pi} }

// Moving and turning either part leaves the fits alone and moves their poses
// along.
func TestMovingLeavesFitsAlone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lower, upper := drawPlate(t, "l", 9), drawPlate(t, "u", 5)
		by := plane.Pose{X: rapid.Float64Range(-500, 500).Draw(t, "dx"), Z: rapid.Float64Range(-500, 500).Draw(t, "dz"), Turn: rapid.Float64Range(-3, 3).Draw(t, "turn")}
		a, err := Fits(lower, upper, anyTurn("j"))
		if err != nil {
			t.Skip("too many")
		}
		b, err := Fits(moved(lower, by), upper, anyTurn("j"))
		if err != nil {
			t.Fatal(err)
		}
		if x, y := strings.Join(ids(lower, upper, a), " "), strings.Join(ids(lower, upper, b), " "); x != y {
			t.Fatalf("fits %s, after moving %s", x, y)
		}
		for i := range a {
			want, got := by.Then(a[i].Pose), b[i].Pose
			if math.Hypot(want.X-got.X, want.Z-got.Z) > 1e-6 || math.Abs(plane.Wrap(want.Turn-got.Turn)) > 1e-9 || math.Abs(a[i].Play-b[i].Play) > 1e-6 {
				t.Fatalf("fit %v: pose %+v play %g, want %+v play %g", a[i].Pairs, got, b[i].Play, want, a[i].Play)
			}
		}
	})
}

// The fits are those of the definition: every set of pairs that one pose takes
// is tried by brute force, and the maximal ones are the answer.
func TestFitsAgainstBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lower, upper := drawPlate(t, "l", 5), drawPlate(t, "u", 4)
		j := anyTurn("j")
		fits, err := Fits(lower, upper, j)
		if err != nil {
			t.Skip("too many")
		}
		var pairs []Pair
		for l := range lower.Holes {
			for u := range upper.Holes {
				pairs = append(pairs, Pair{l, u})
			}
		}
		goes := func(set []Pair) bool {
			v := Why(lower, upper, j, set)
			if in := v.Reason != Spacing && v.Reason != Crowded && v.Reason != Small; v.Reason != Shared && v.Reason != Reserved && GoIn(lower, upper, j, set) != in {
				t.Fatalf("%v: they go in %t, and why not is %v", set, !in, v.Reason)
			}
			return v.Reason == Fine
		}
		var sets [][]Pair // every set that goes together
		var grow func(set []Pair, from int)
		grow = func(set []Pair, from int) {
			if len(set) >= 2 {
				if !goes(set) {
					return
				}
				sets = append(sets, append([]Pair(nil), set...))
			}
			for k := from; k < len(pairs); k++ {
				grow(append(set, pairs[k]), k+1)
			}
		}
		grow(nil, 0)
		var want []string
		for _, set := range sets {
			maximal := true
			for _, p := range pairs {
				has := false
				for _, q := range set {
					has = has || p == q
				}
				if !has && goes(append(append([]Pair(nil), set...), p)) {
					maximal = false
				}
			}
			if maximal {
				want = append(want, FitID(lower, upper, Fit{Pairs: set}))
			}
		}
		sort.Strings(want)
		if got := ids(lower, upper, fits); strings.Join(got, " ") != strings.Join(want, " ") {
			t.Fatalf("fits %v, want %v", got, want)
		}
	})
}

// Adding a hole never takes a way of bolting away: each old fit is still
// listed under its name, or its bolts are part of one with more.
func TestAddingAHoleTakesNothingAway(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lower, upper := drawPlate(t, "l", 8), drawPlate(t, "u", 4)
		j := anyTurn("j")
		old, err := Fits(lower, upper, j)
		if err != nil {
			t.Skip("too many")
		}
		more := Part{Name: "l", Holes: append([]Hole(nil), lower.Holes...)}
		more.Holes = append(more.Holes, Hole{
			ID: "new", X: 20 * rapid.Float64Range(0, 5).Draw(t, "x"), Z: 20 * float64(rapid.IntRange(0, 8).Draw(t, "z")), D: 8.4,
		})
		fresh, err := Fits(more, upper, j)
		if err != nil {
			t.Skip("too many")
		}
		for _, o := range old {
			found := false
			for _, f := range fresh {
				has := 0
				for _, p := range o.Pairs {
					for _, q := range f.Pairs {
						if p == q {
							has++
						}
					}
				}
				found = found || has == len(o.Pairs)
			}
			if !found {
				t.Fatalf("%v is gone", FitID(lower, upper, o))
			}
		}
	})
}

// The play is real: at its end the bolts still go in, beyond it they don't.
func TestPlayIsTheEdge(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lower, upper := drawPlate(t, "l", 6), drawPlate(t, "u", 4)
		fits, err := Fits(lower, upper, anyTurn("j"))
		if err != nil {
			t.Skip("too many")
		}
		for _, f := range fits {
			var bs []bolt
			for _, p := range f.Pairs {
				l, u := lower.Holes[p.Lower], upper.Holes[p.Upper]
				bs = append(bs, bolt{l.At(), u.At(), Clearance(l.D, u.D, 8)})
			}
			if f.Play > 2 {
				continue
			}
			in := min(excess(bs, f.Pose.Turn+f.Play*0.999), excess(bs, f.Pose.Turn-f.Play*0.999))
			out := min(excess(bs, f.Pose.Turn+f.Play*1.01+1e-4), excess(bs, f.Pose.Turn-f.Play*1.01-1e-4))
			if in > 1e-4 || out < 0 {
				t.Fatalf("%v play %.4f°: %.6f mm over just inside, %.6f mm just outside", f.Pairs, f.Play/deg, in, out)
			}
		}
	})
}

// Upside down, half a turn round, three bolts that go in are found whichever way the
// turn is counted.
func TestHalfATurnRound(t *testing.T) {
	lower := plate("l", 8.4, plane.Point{X: 0.6, Z: 0.6}, plane.Point{X: 20.6, Z: 20.6}, plane.Point{X: 60.6, Z: 20.6})
	upper := plate("u", 9, plane.Point{X: 60.6, Z: 40.6}, plane.Point{X: 40.6, Z: 19.4}, plane.Point{X: 0.6, Z: 20.6})
	upper.Holes[2].D = 8.4
	for _, turn := range []float64{0, 1, -1, 3} {
		fits, err := Fits(moved(lower, plane.Pose{X: 1, Z: 1, Turn: turn}), upper, anyTurn("j"))
		if err != nil {
			t.Fatal(err)
		}
		three := 0
		for _, f := range fits {
			if len(f.Pairs) == 3 {
				three++
			}
		}
		if three != 1 {
			t.Errorf("turned by %g: %d fits of three bolts, want 1", turn, three)
		}
	}
}

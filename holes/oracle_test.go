package holes

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"stanchion/holes/plane"
)

// scanned reports whether bolts go in at once by trying turns in small steps and
// shifting towards the worst bolt: a second route that shares nothing with
// inAtOnce. It is sure only when it says yes, or when the margin is large.
func scanned(bolts []bolt, about float64) (least float64) {
	least = math.Inf(1)
	for turn := about - 0.15; turn <= about+0.15; turn += 0.0005 {
		at := make([]plane.Point, len(bolts))
		for i, b := range bolts {
			u := plane.Pose{Turn: turn}.Apply(b.upper)
			at[i] = plane.Point{X: b.lower.X - u.X, Z: b.lower.Z - u.Z}
		}
		shift, step := at[0], 0.5
		for range 200 {
			worst, over := 0, math.Inf(-1)
			for i, b := range bolts {
				if o := shift.Distance(at[i]) - b.clearance; o > over {
					worst, over = i, o
				}
			}
			least = min(least, over)
			way := at[worst].Sub(shift)
			if d := way.Length(); d > 0 {
				shift = shift.Add(way.Times(min(1, step/d)))
			}
			step *= 0.96
		}
	}
	return least
}

// Three and four bolts at random near a common fit: what the scan finds to go
// in goes in, and what it finds far from going in does not.
func TestGoingInAtOnceAgainstAScan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 4).Draw(t, "bolts")
		turn := rapid.Float64Range(-0.05, 0.05).Draw(t, "turn")
		var bolts []bolt
		for i := range n {
			u := plane.Point{X: rapid.Float64Range(0, 120).Draw(t, "x"), Z: rapid.Float64Range(0, 120).Draw(t, "z")}
			for _, b := range bolts {
				if u.Distance(b.upper) < 12 {
					t.Skip("too close")
				}
			}
			l := plane.Pose{Turn: turn}.Apply(u)
			off := func() float64 { return rapid.Float64Range(-0.8, 0.8).Draw(t, fmt.Sprint("off", i)) }
			bolts = append(bolts, bolt{plane.Point{X: l.X + off(), Z: l.Z + off()}, u, rapid.SampledFrom([]float64{0.4, 0.7, 1}).Draw(t, "c")})
		}
		_, _, ok := inAtOnce(bolts, turn)
		switch least := scanned(bolts, turn); {
		case least < -0.02 && !ok:
			t.Fatalf("a scan finds %.3f mm to spare, inAtOnce refuses: %+v", -least, bolts)
		case least > 0.15 && ok:
			t.Fatalf("a scan lacks %.3f mm, inAtOnce accepts: %+v", least, bolts)
		}
	})
}

// A row of bolts on a row of holes: as many fits as places to put it, each
// found at once however many bolts there are.
func TestManyBolts(t *testing.T) {
	rows := func(n int) Part {
		var at []plane.Point
		for i := range n {
			at = append(at, plane.Point{X: 0, Z: 25 * float64(i)}, plane.Point{X: 40, Z: 25 * float64(i)})
		}
		return plate("r", 8.4, at...)
	}
	for _, n := range []int{4, 8, 12} {
		fits, err := Fits(rows(n), rows(n), m8("j"))
		if err != nil {
			t.Fatalf("%d rows: %v", n, err)
		}
		whole := 0
		for _, f := range fits {
			if len(f.Pairs) == 2*n {
				whole++
			}
		}
		if whole != 1 {
			t.Errorf("%d rows: %d fits with all %d bolts, want 1", n, whole, 2*n)
		}
	}
}

// A third bolt that pulls the turn a little past the limit takes no way of
// bolting away.
func TestALimitAndAFurtherBolt(t *testing.T) {
	j := m8("j")
	lower := func(third bool) Part {
		at := []plane.Point{plane.Pose{Turn: 29.95 * deg}.Apply(plane.Point{}), plane.Pose{Turn: 29.95 * deg}.Apply(plane.Point{X: 100, Z: 0})}
		if third {
			at = append(at, plane.Pose{Turn: 30.2 * deg}.Apply(plane.Point{X: 100, Z: 50}))
		}
		return plate("l", 8.4, at...)
	}
	upper := plate("u", 8.4, plane.Point{}, plane.Point{X: 100, Z: 0}, plane.Point{X: 100, Z: 50})
	for _, third := range []bool{false, true} {
		fits, err := Fits(lower(third), upper, j)
		if err != nil || len(fits) == 0 {
			t.Errorf("third hole %v: %d fits, %v", third, len(fits), err)
		}
	}
}

func TestBoltsDoNotRunIntoEachOther(t *testing.T) {
	p := plate("p", 8.4, plane.Point{X: 0, Z: 0}, plane.Point{X: 3, Z: 0})
	if fits, _ := Fits(p, p, m8("j")); len(fits) != 0 {
		t.Errorf("two M8 bolts 3 mm apart go in: %v", fits)
	}
}

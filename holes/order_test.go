package holes

import (
	"math"
	"testing"

	"stanchion/holes/plane"
)

// Fits are listed in the order of their pairs: by the lower hole, then the upper, then the
// shorter first; none comes before itself.
func TestBefore(t *testing.T) {
	for _, c := range []struct{ first, second []Pair }{
		{[]Pair{{0, 3}}, []Pair{{1, 0}}},
		{[]Pair{{1, 0}}, []Pair{{1, 1}}},
		{[]Pair{{0, 0}, {1, 1}}, []Pair{{0, 0}, {1, 2}}},
		{[]Pair{{0, 0}, {1, 1}}, []Pair{{0, 0}, {2, 0}}},
		{[]Pair{{0, 0}}, []Pair{{0, 0}, {1, 1}}},
	} {
		if !before(c.first, c.second) || before(c.second, c.first) || before(c.first, c.first) {
			t.Errorf("%v and %v are not in order", c.first, c.second)
		}
	}
}

// Two pairs have one key whichever comes first, and other pairs another.
func TestCoverKey(t *testing.T) {
	all := []Pair{{0, 0}, {0, 1}, {1, 0}, {1, 1}, {2, 0}}
	seen := map[[2]Pair]bool{}
	for i, p := range all {
		for _, q := range all[:i] {
			if coverKey(p, q) != coverKey(q, p) {
				t.Errorf("%v and %v have two keys", p, q)
			}
			if seen[coverKey(p, q)] {
				t.Errorf("%v and %v have the key of others", p, q)
			}
			seen[coverKey(p, q)] = true
		}
	}
}

// The least slack is named, with its spacings: of three bolts in a row at 0, 60 and 100 mm, above
// at 0, 60.2 and 100.5, with 1 mm for each two, the outer ones have 0.5 mm, the others 0.8 and 0.7.
func TestTightestByHand(t *testing.T) {
	bolts := []bolt{
		{plane.Point{}, plane.Point{}, 0.5},
		{plane.Point{X: 100}, plane.Point{X: 100.5}, 0.5},
		{plane.Point{X: 60}, plane.Point{X: 60.2}, 0.5},
	}
	v := tightest(bolts)
	if v.Pair != 0 || v.Other != 1 || math.Abs(v.Slack-0.5) > 1e-9 || v.Lower != 100 || v.Upper != 100.5 {
		t.Errorf("%+v", v)
	}
	bolts[0], bolts[2] = bolts[2], bolts[0]
	if v := tightest(bolts); v.Pair != 1 || v.Other != 2 || math.Abs(v.Slack-0.5) > 1e-9 {
		t.Errorf("%+v", v)
	}
}

// Bolts as close as they are thick go in, closer not: 8 mm of shank, holes 8 mm and 7.99 mm apart.
func TestBoltsSideBySide(t *testing.T) {
	for apart, want := range map[float64]Reason{8: Fine, 8.01: Fine, 7.99: Shared} {
		p := plate("p", 8.4, plane.Point{}, plane.Point{X: apart}, plane.Point{X: 100})
		if v := Why(p, p, m8("j"), []Pair{{0, 0}, {1, 1}}); v.Reason != want {
			t.Errorf("%g mm apart: %v, want %v", apart, v.Reason, want)
		}
		fits, err := Fits(p, p, m8("j"))
		if err != nil {
			t.Fatal(err)
		}
		three := len(fits) == 1 && len(fits[0].Pairs) == 3
		if three != (want == Fine) {
			t.Errorf("%g mm apart: %d ways, all three bolts in one %v", apart, len(fits), three)
		}
	}
}

// A slot of 30 mm in steps of 10 has positions at 0, 10, 20 and 30 mm; a longer one has one more, so
// that none is further from the next than the step.
func TestPositionsByHand(t *testing.T) {
	for length, want := range map[float64]int{30: 4, 30.001: 5, 29.9: 4, 9: 2} {
		s := Slot{Hole: Hole{ID: "S", D: 8.4}, To: plane.Point{X: length}, Step: 10}
		ps := s.Positions()
		if len(ps) != want || ps[0].X != 0 || math.Abs(ps[len(ps)-1].X-length) > 1e-9 {
			t.Errorf("%g mm: %d positions, want %d: %+v", length, len(ps), want, ps)
		}
		for i := 1; i < len(ps); i++ {
			if ps[i].X-ps[i-1].X > 10+1e-9 {
				t.Errorf("%g mm: %g mm between positions", length, ps[i].X-ps[i-1].X)
			}
		}
	}
}

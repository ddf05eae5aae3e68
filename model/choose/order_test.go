package choose

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"stanchion/model"
)

// Groups by hand, where more than 1 is clearly further: 0, 0.9 and 1.0 are as close as the closest, though 1.0 is
// not clearly further than 0.9; 1.1 begins the next, to which 2.1 belongs, and 2.2 the third.
func TestGroupsByHand(t *testing.T) {
	off := []float64{2.2, 1.0, 0, 2.1, 0.9, 1.1}
	got := grouped(off, func(i, than int) bool { return off[i]-off[than] > 1+1e-9 })
	if want := []int{2, 0, 0, 1, 0, 1}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	if got := grouped(nil, nil); len(got) != 0 {
		t.Errorf("of nothing: %v", got)
	}
}

// Whatever is clearly further than what, also where that is not transitive: all are in a group, groups count
// from 0 without a gap, nothing in a group is clearly further off than its closest, what begins a group is
// clearly further than the closest of every group before, and no group begins closer than the one before.
func TestGroupsAlways(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(t, "n")
		off := rapid.SliceOfN(rapid.Float64Range(0, 3), n, n).Draw(t, "off")
		sure := rapid.SliceOfN(rapid.Float64Range(0.1, 2), n*n, n*n).Draw(t, "sure")
		further := func(i, than int) bool { return off[i]-off[than] > sure[min(i, than)*n+max(i, than)] }
		group := grouped(off, further)
		if !slices.Equal(group, grouped(off, further)) {
			t.Fatal("not the same twice")
		}
		closest := map[int]int{}
		for i, g := range group {
			if k, ok := closest[g]; !ok || off[i] < off[k] {
				closest[g] = i
			}
		}
		for g := range len(closest) {
			k, ok := closest[g]
			if !ok {
				t.Fatalf("%v has no group %d", group, g)
			}
			if g > 0 && off[k] < off[closest[g-1]] {
				t.Fatalf("group %d begins closer than the one before", g)
			}
			for before := range g {
				if !further(k, closest[before]) {
					t.Fatalf("what begins group %d is as close as group %d", g, before)
				}
			}
		}
		for i, g := range group {
			if i != closest[g] && further(i, closest[g]) {
				t.Fatalf("%d is clearly further than %d, in its group", i, closest[g])
			}
		}
	})
}

// drawHits are hits on rows by hand.
func drawHits(t *rapid.T) ([]Hit, []model.Row) {
	n := rapid.IntRange(2, 10).Draw(t, "n")
	rows := make([]model.Row, n)
	hits := make([]Hit, n)
	small := func(what string, most int) int { return rapid.IntRange(0, most).Draw(t, what) }
	for i := range hits {
		rows[i].Downforce, rows[i].Drag = 100+0.4*float64(small("down", 4)), float64(small("drag", 2))
		hits[i] = Hit{Row: i, Group: small("group", 1), Clear: NoClearDifference + Clarity(small("clear", 2)),
			Work: Work{Moved: small("moved", 3), Below: small("below", 1), Fewer: small("fewer", 1)}}
	}
	return hits, rows
}

// The order is a total one, and one more bolt to move never ranks a setting earlier among those as close.
func TestOrderAlways(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		hits, rows := drawHits(t)
		for _, a := range hits {
			for _, b := range hits {
				ab := a.compare(b, rows)
				if ab != -b.compare(a, rows) || (ab == 0) != (a.Row == b.Row) {
					t.Fatalf("%+v and %+v: %d", a, b, ab)
				}
				for _, c := range hits {
					if ab <= 0 && b.compare(c, rows) <= 0 && a.compare(c, rows) > 0 {
						t.Fatal("not transitive")
					}
				}
			}
		}
		place := func(row int) int {
			sorted := slices.Clone(hits)
			slices.SortFunc(sorted, func(a, b Hit) int { return a.compare(b, rows) })
			return slices.IndexFunc(sorted, func(h Hit) bool { return h.Row == row })
		}
		i := rapid.IntRange(0, len(hits)-1).Draw(t, "which")
		before := place(i)
		hits[i].Work.Moved++
		hits[i].Work.Below += rapid.IntRange(0, 1).Draw(t, "below the wing's joint")
		if after := place(i); after < before {
			t.Fatalf("with a bolt more to move it ranks %d, before %d", after, before)
		}
	})
}

// Each key of the order by hand, from the first that tells two apart.
func TestOrderOfHitsByHand(t *testing.T) {
	rows := make([]model.Row, 2)
	base := Hit{Clear: NotSure}
	for i, c := range []struct {
		first, second Hit
		down, drag    [2]float64
	}{
		{Hit{Group: 0, Work: Work{Moved: 9}}, Hit{Group: 1, Clear: Clear}, [2]float64{1, 9}, [2]float64{}},
		{Hit{Work: Work{Moved: 2}}, Hit{Work: Work{Moved: 1, Fewer: 1}}, [2]float64{}, [2]float64{}},
		{Hit{Work: Work{Moved: 1}}, Hit{Work: Work{Moved: 2}, Clear: Clear}, [2]float64{1, 9}, [2]float64{}},
		{Hit{Clear: Clear}, base, [2]float64{1, 9}, [2]float64{}},
		{base, Hit{Clear: NoClearDifference}, [2]float64{1, 9}, [2]float64{}},
		{base, base, [2]float64{400, 399}, [2]float64{9, 1}},
		{base, base, [2]float64{399.6, 400.4}, [2]float64{1, 2}}, // the same newton
		{base, base, [2]float64{400, 400}, [2]float64{1, 2}},
		{base, base, [2]float64{400, 400}, [2]float64{1, 1}}, // the order of the table
	} {
		a, b := c.first, c.second
		a.Row, b.Row = 0, 1
		for k := range rows {
			rows[k].Downforce, rows[k].Drag = c.down[k], c.drag[k]
		}
		if a.compare(b, rows) >= 0 {
			t.Errorf("%d: %+v is not before %+v", i, a, b)
		}
	}
}

// By hand, with uncertainties of 0.3 and 0.4 and the difference's as the model has it: far off on one side that of
// the difference counts, on either side that of the sum, √(0.3² + 0.4² + 2 cov); one that is right at the target
// adds nothing of its own, which leaves the other's.
func TestDistanceStdUncByHand(t *testing.T) {
	common := func(own string, rest float64) *model.Budget {
		part := func(what string, x float64) model.Contribution {
			return model.Contribution{What: what, Moved: model.Moved{Share: x}}
		}
		b := &model.Budget{Contribution: part("", math.Sqrt(0.04+rest*rest))}
		b.Parts = []model.Contribution{part("speed", 0.2), part(own, rest)}
		return b
	}
	a, b := common("play of a", math.Sqrt(0.05)), common("play of b", math.Sqrt(0.12))
	d := model.DifferenceStdUnc(*a, *b)
	cov := (0.09 + 0.16 - d.Share*d.Share) / 2
	f := aim{figure: ofShare}
	for _, c := range []struct{ mine, others, want float64 }{
		{5, 4, d.Share}, {-5, -4, d.Share}, {5, -4, math.Sqrt(0.25 + 2*cov)}, {0, 4, 0.4}, {5, 0, 0.3}, {0, 0, 0},
	} {
		if got := distanceStdUnc(f, c.mine, c.others, a, b); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%g and %g off: %.4f, want %.4f", c.mine, c.others, got, c.want)
		}
	}
	if got := side(0.3, 0.3); math.Abs(got-0.682689) > 1e-6 {
		t.Errorf("a standard uncertainty off is on one side to %.4f, want 0.6827", got)
	}
	if side(-1, 0) != -1 || side(0, 0) != 1 {
		t.Error("what is known is on its side")
	}
}

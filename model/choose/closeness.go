package choose

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"stanchion/model"
)

// off is how far a row is from what is wanted of the balance, as a fraction: the largest of the distances; 0
// where none is wanted.
func (s *looked) off(balances []aim) float64 {
	off := 0.0
	for _, a := range balances {
		off = max(off, math.Abs(a.of(s.rows[a.table])-a.target.Value.Value()))
	}
	return off
}

// furtherOff reports whether a row is clearly further than another from any balance that is wanted.
func (s *looked) furtherOff(than *looked, balances []aim) bool {
	for _, a := range balances {
		want := a.target.Value.Value()
		mine, others := a.of(s.rows[a.table])-want, a.of(than.rows[a.table])-want
		if further := math.Abs(mine) - math.Abs(others); further > rounding &&
			ClarityOf(further, distanceStdUnc(a, mine, others, s.budget(a.table), than.budget(a.table))) == Clear {
			return true
		}
	}
	return false
}

// distanceStdUnc is the standard uncertainty of by how much one row is further from a target than another, from
// how far both are off, with their sign. On one side of the target it is that of their difference, on either side
// of it that of their sum, since what both are off by alike brings one nearer and takes the other away; at the
// target itself a row may be on either side. It is 0 where none is known.
// Source: statistical linearisation of |x|, whose mean slope is 2Φ(x/u)-1; J. L. Crassidis, J. L. Junkins,
// "Optimal Estimation of Dynamic Systems" (2004), from memory.
func distanceStdUnc(a aim, mine, others float64, b, o *model.Budget) float64 {
	u, v := a.std(b), a.std(o)
	d := model.DifferenceStdUnc(*b, *o)
	difference := a.part(&d)
	if math.IsNaN(u) || math.IsNaN(v) || math.IsNaN(difference) {
		return 0
	}
	covariance := (u*u + v*v - difference*difference) / 2
	p, q := side(mine, u), side(others, v)
	return math.Sqrt(max(0, p*p*u*u+q*q*v*v-2*p*q*covariance))
}

// side is how surely a figure is on one side of a target that it is off by x, -1 to 1.
func side(x, stdUnc float64) float64 {
	if stdUnc == 0 {
		if x < 0 {
			return -1
		}
		return 1
	}
	return 2*distuv.UnitNormal.CDF(x/stdUnc) - 1
}

// grouped puts things in groups by how far off they are: the first are all that are not further off than the
// closest of all, the next all of the others that are not further off than the closest of those, and so on. It
// returns the group of each. The closest of equals is the first.
func grouped(off []float64, further func(i, than int) bool) []int {
	left := make([]int, len(off))
	for i := range left {
		left[i] = i
	}
	slices.SortStableFunc(left, func(a, b int) int { return cmp.Compare(off[a], off[b]) })
	group := make([]int, len(off))
	for n := 0; len(left) > 0; n++ {
		closest := left[0]
		var rest []int
		for _, i := range left {
			if i != closest && further(i, closest) {
				rest = append(rest, i)
				continue
			}
			group[i] = n
		}
		left = rest
	}
	return group
}

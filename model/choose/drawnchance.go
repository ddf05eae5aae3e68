package choose

import (
	"math"

	"stanchion/model"
)

// manyDraws is how many draws the chance near the stall is taken from; with it chances are right to 0.03
// (`CHANCE_DRAWS=200000 go test -run NearTheStall -v ./model/choose`).
const manyDraws = 1024

// Probability is a chance, as a fraction.
type Probability struct {
	Of     float64
	StdUnc float64 // by how much it may be off as it comes from draws, one standard uncertainty; 0 where it is worked out
}

// Told is the chance as it may be told, never more of it than there is: to a hundredth, and to a twentieth where
// it comes from draws.
func (p Probability) Told() float64 {
	steps := 100.0
	if p.StdUnc > 0 {
		steps = 20
	}
	return math.Floor(steps*p.Of+1e-6) / steps
}

// shareOf is the chance that so many hits among n draws tell. Its uncertainty is that of independent draws, which
// strata make smaller, and never 0.
func shareOf(hits, n int) Probability {
	p := float64(hits+1) / float64(n+2)
	return Probability{float64(hits) / float64(n), math.Sqrt(p * (1 - p) / float64(n))}
}

// bends reports whether the curve bends within the uncertainty of a figure that is aimed at, so that the figure
// is not normal: it falls on either side of the stall.
func (s *looked) bends(aims []aim) bool {
	for _, a := range aims {
		if !a.turns && s.budget(a.table).Drawn {
			return true
		}
	}
	return false
}

// drawnChance is the part of the draws of all inputs that meet all aims at once: of the draws that the budget has,
// and of more where any of those does. It is not known where too many draws are beyond the data.
func (s *looked) drawnChance(aims []aim) (p Probability, ok bool) {
	p, ok = s.part(aims, func(table int) []model.Draw { return s.budget(table).Draws() })
	if ok && p.Of > 0 {
		p, ok = s.part(aims, func(table int) []model.Draw { return s.p.table(table).Draws(s.rows[table], manyDraws) })
	}
	return p, ok
}

// part is the part of draws that meet all aims at once.
func (s *looked) part(aims []aim, draws func(table int) []model.Draw) (p Probability, ok bool) {
	of := make([][]model.Draw, len(s.rows))
	n := 0
	for _, a := range aims {
		if of[a.table] == nil {
			of[a.table] = draws(a.table)
		}
		n = len(of[a.table])
	}
	known, hits := 0, 0
	for i := range n {
		met, can := true, true
		for _, a := range aims {
			d := &of[a.table][i]
			x := a.of(s.rows[a.table]) + a.drawn(d)
			can = can && !d.Beyond() && !math.IsNaN(x)
			met = met && x >= a.lo-rounding && x <= a.hi+rounding
		}
		switch {
		case can && met:
			known, hits = known+1, hits+1
		case can:
			known++
		}
	}
	if known < n*9/10 || known == 0 {
		return Probability{}, false
	}
	return shareOf(hits, known), true
}

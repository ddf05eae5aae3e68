package choose

import (
	"context"
	"math"

	"stanchion/model"
)

// Chance returns the probability that the figures of a row of a table meet all targets at once: normal about
// the figures shown, with the standard uncertainties of the budget; how far figures move together is taken from
// what each source adds to them. It is 0 where something else rules the row out, and 1 or 0 where no
// uncertainty is known. Near the stall, where a figure can fall by more than it can rise, it is the part of the
// draws of all inputs that meet the targets.
// Source: JCGM 100:2008, 5.2.2 and F.1.2.3 (correlated figures), JCGM 106:2012, 7 (the probability to conform),
// JCGM 101:2008, 7 (from draws).
func (c Criteria) Chance(t *model.Table, r *model.Row) float64 {
	p := newPicker(t, c)
	return p.chanceWithin(p.look(r)).Of
}

// Chances is Chance of all rows of a table.
func (c Criteria) Chances(t *model.Table) []float64 {
	p := newPicker(t, c)
	chances := make([]float64, len(t.Rows))
	each(context.Background(), len(t.Rows), func(i int) {
		chances[i] = p.chanceWithin(p.look(&t.Rows[i])).Of
	})
	return chances
}

// chanceWithin is the chance of a row that nothing else rules out, and 0 for any other.
func (p *picker) chanceWithin(s *looked) Probability {
	if !s.row.Within() || len(p.hard(s)) > 0 {
		return Probability{}
	}
	return p.chance(s)
}

// chance is the probability that the figures of a row meet the targets.
func (p *picker) chance(s *looked) Probability {
	aims := p.aims()
	if len(aims) == 0 {
		return Probability{Of: 1}
	}
	if s.bends(aims) {
		if drawn, ok := s.drawnChance(aims); ok {
			return drawn
		}
	}
	return Probability{Of: s.normalChance(aims)}
}

// normalChance is the probability that jointly normal figures meet all aims.
func (s *looked) normalChance(aims []aim) float64 {
	spread := s.spreadOf(aims)
	lo, hi := make([]float64, len(aims)), make([]float64, len(aims))
	for i, a := range aims {
		have := a.of(s.rows[a.table])
		lo[i], hi[i] = a.lo-have, a.hi-have
		if below, above := between0(lo[i], hi[i], math.Sqrt(spread[i][i])); above-below < leastChance {
			return 0
		}
	}
	return boxChance(spread, lo, hi)
}

// leastChance is what a single target's chance must be for the others to be looked at.
const leastChance = 1e-4

// spreadOf returns the covariances of figures of a row. A figure whose uncertainty comes from drawing has
// the correlations of its sources and the uncertainty of the draws; what none of the sources tells is its own.
func (s *looked) spreadOf(aims []aim) [][]float64 {
	var sources []string
	at := map[string]int{}
	parts := make([][]float64, len(aims))
	own := make([]float64, len(aims)) // variance
	for i, a := range aims {
		b := s.budget(a.table)
		std := a.std(b)
		if math.IsNaN(std) {
			std = 0
		}
		parts[i] = make([]float64, len(sources))
		sum := 0.0
		for k := range b.Parts {
			c := &b.Parts[k]
			j, met := at[c.What]
			if !met {
				j = len(sources)
				at[c.What], sources = j, append(sources, c.What)
			}
			for len(parts[i]) < len(sources) {
				parts[i] = append(parts[i], 0)
			}
			if x := a.part(c); !math.IsNaN(x) {
				parts[i][j] += x
				sum += x * x
			}
		}
		switch variance := std * std; {
		case b.Drawn && sum > 0 && !a.turns:
			scale := std / math.Sqrt(sum)
			for j := range parts[i] {
				parts[i][j] *= scale
			}
		case variance > sum:
			own[i] = variance - sum
		}
	}
	cov := make([][]float64, len(aims))
	for i := range cov {
		cov[i] = make([]float64, len(aims))
		for j := range i + 1 {
			for k := range min(len(parts[i]), len(parts[j])) {
				cov[i][j] += parts[i][k] * parts[j][k]
			}
			cov[j][i] = cov[i][j]
		}
		cov[i][i] += own[i]
	}
	return cov
}

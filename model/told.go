package model

import "math"

// Told returns what is left of the uncertainty of figures, made of parts, if another figure of a row had
// been measured to one standard uncertainty: of is that figure, b the row's budget. What is off in both
// alike is told by it; the speed and the air of the day are not, as it has them in its own.
// Source: A. Tarantola, "Inverse Problem Theory" (2005), eq. 3.38, for one datum; where the parts do not add
// up to the figures, which were drawn, the drawn ones shrink by as much.
func (b Budget) Told(parts []Contribution, now Contribution, of func(Contribution) float64, std float64) Contribution {
	measured := map[string]float64{}
	alone := std * std
	for _, p := range b.Parts {
		if p.What == FromSpeed || p.What == FromAir {
			continue
		}
		measured[p.same] = of(p)
		alone += of(p) * of(p)
	}
	var both, all Moved
	for _, p := range parts {
		both = both.with(p.Moved, func(sum, x float64) float64 { return sum + x*measured[p.same] })
		all.addSquares(&p.Moved)
	}
	left := both.with(all, func(both, all float64) float64 {
		if !(all > 0 && alone > 0) {
			return 1
		}
		return math.Sqrt(max(0, 1-both*both/(alone*all)))
	})
	now.Moved = now.Moved.with(left, func(now, left float64) float64 { return now * left })
	return now
}

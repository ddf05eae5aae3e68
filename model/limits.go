package model

import "math"

// place notes which limits the place of a row breaks.
func (l Limits) place(r *Row) {
	if r.Top > l.Top {
		r.outside("top %s: the limit is %s", lengthMM(r.Top), lengthMM(l.Top))
	}
	if r.Rear > l.Rear {
		r.outside("rear %s behind the axle: the limit is %s", lengthMM(r.Rear), lengthMM(l.Rear))
	}
}

// stall notes whether a row is closer to the stall than is wanted.
func (l Limits) stall(r *Row) {
	switch {
	case math.IsNaN(l.StallMargin) && math.IsNaN(r.StallMargin):
		r.unknown("stall margin not known: the data on the wing end before it stalls")
	case math.IsNaN(l.StallMargin):
	case math.IsNaN(r.StallMargin):
		r.outside("stall margin not known, at least %.1f° wanted", l.StallMargin/Deg)
	case r.Stalled:
		r.outside("stalled by %.1f°: a margin of %.1f° is wanted", -r.StallMargin/Deg, l.StallMargin/Deg)
	case r.StallMargin < l.StallMargin:
		r.outside("stall margin %.1f°: at least %.1f° wanted", r.StallMargin/Deg, l.StallMargin/Deg)
	}
}

package model

import (
	"fmt"
	"math"
)

// place notes which limits the place of a row breaks.
func (l Limits) place(r *Row) {
	if r.Top > l.Top {
		r.Outside = append(r.Outside, fmt.Sprintf("top %.0f mm: the limit is %.0f mm", r.Top, l.Top))
	}
	if r.Rear > l.Rear {
		r.Outside = append(r.Outside, fmt.Sprintf("rear %.0f mm behind the axle: the limit is %.0f mm", r.Rear, l.Rear))
	}
}

// stall notes whether a row is closer to the stall than is wanted.
func (l Limits) stall(r *Row) {
	switch {
	case math.IsNaN(l.StallMargin):
	case math.IsNaN(r.StallMargin):
		r.Outside = append(r.Outside, fmt.Sprintf("stall margin not known, at least %.1f° wanted", l.StallMargin/Deg))
	case r.Stalled:
		r.Outside = append(r.Outside, fmt.Sprintf("stalled by %.1f°: a margin of %.1f° is wanted", -r.StallMargin/Deg, l.StallMargin/Deg))
	case r.StallMargin < l.StallMargin:
		r.Outside = append(r.Outside, fmt.Sprintf("stall margin %.1f°: at least %.1f° wanted", r.StallMargin/Deg, l.StallMargin/Deg))
	}
}

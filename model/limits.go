package model

import (
	"math"

	"stanchion/model/units"
)

// NoLimits limits nothing.
func NoLimits() Limits {
	nan := math.NaN()
	return Limits{Top: nan, Rear: nan, StallMargin: nan, Gap: nan, Overhang: nan, Width: nan, LidOpening: nan}
}

// body notes which limits that do not depend on the setting's force break: those
// on the wing's width and its overhang behind the body.
func (l Limits) body(r *Row, c *Car) {
	if w := c.Wing.Span; w > l.Width {
		r.outside(LimitWidth, "the wing is %s wide: the limit is %s", units.MM(w), units.MM(l.Width))
	}
	if math.IsNaN(l.Overhang) {
		return
	}
	if o := r.Overhang(c); o > l.Overhang {
		r.outside(LimitOverhang, "%s behind the body: the limit is %s", units.MM(o), units.MM(l.Overhang))
	}
}

// Overhang is how far the rearmost point is behind the body's, mm; NaN without a
// body.
func (p *Place) Overhang(c *Car) float64 {
	last := math.Inf(-1)
	for _, u := range c.surroundings().body {
		last = max(last, u.X)
	}
	if math.IsInf(last, -1) {
		return math.NaN()
	}
	return p.Rear - last
}

// place notes which limits the place of a row breaks.
func (l Limits) place(r *Row) {
	if r.Top > l.Top {
		r.outside(LimitTop, "top %s: the limit is %s", units.MM(r.Top), units.MM(l.Top))
	}
	if r.Rear > l.Rear {
		r.outside(LimitRear, "rear %s behind the axle: the limit is %s", units.MM(r.Rear), units.MM(l.Rear))
	}
	if !r.Gap.Known() {
		return
	}
	switch g := r.Gap.Still; {
	case g.Distance == 0 && g.To == "lid":
		r.outside(LimitGap, "the %s touches the shut lid", g.From)
	case g.Distance == 0:
		r.outside(LimitGap, "the %s touches the %s", g.From, g.To)
	case g.Distance < l.Gap:
		r.outside(LimitGap, "%s to the %s, minimum %s", units.MM(g.Distance), g.To, units.MM(l.Gap))
	}
	if o := r.Gap.Lid; o.Of > 0 && o.To < l.LidOpening-1e-6 {
		r.outside(LimitLid, "the lid opens to %s°, stopped by the %s; minimum %s°", units.Fixed(math.Floor(o.To/Deg), 0), o.Stop, units.Fixed(l.LidOpening/Deg, 0))
	}
}

// stall notes whether a row is closer to the stall than is wanted.
func (l Limits) stall(r *Row) {
	switch {
	case math.IsNaN(l.StallMargin) && math.IsNaN(r.StallMargin):
		r.noFigure("stall margin not known: the data on the wing end before it stalls")
	case math.IsNaN(l.StallMargin):
	case math.IsNaN(r.StallMargin):
		r.outside(LimitStall, "stall margin not known, minimum %.1f°", l.StallMargin/Deg)
	case r.Stalled:
		r.outside(LimitStall, "stalled by %.1f°; minimum margin %.1f°", -r.StallMargin/Deg, l.StallMargin/Deg)
	case r.StallMargin < l.StallMargin:
		r.outside(LimitStall, "stall margin %.1f°, minimum %.1f°", r.StallMargin/Deg, l.StallMargin/Deg)
	}
}

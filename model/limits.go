package model

import (
	"cmp"
	"math"
	"slices"

	"stanchion/holes/plane"
	"stanchion/model/given"
)

// Limit is one of the limits that a setting can break.
type Limit string

// The limits, by their names.
const (
	LimitTop      Limit = "top"
	LimitRear     Limit = "rear"
	LimitOverhang Limit = "overhang"
	LimitWidth    Limit = "width"
	LimitGap      Limit = "gap to body and lid"
	LimitLid      Limit = "opening of the lid"
	LimitStall    Limit = "stall margin"
	LimitAxle     Limit = "load on both axles"
	LimitBuilt    Limit = "bolts as built"
)

// Breach is a limit that a setting breaks, and by what: mm for lengths, rad for angles.
type Breach struct {
	Limit   Limit
	Have    float64 // NaN where it is not known, which breaks the limit too
	Allowed float64 // the maximum or minimum; NaN for what must never be
	From    string  // what of the setting is nearest, or stops the lid
	To      string  // what it is nearest to: "body" or "lid"
}

// Cause is why figures of a setting cannot be given.
type Cause int

// The causes.
const (
	BeyondFlow   Cause = iota // the flow is not given at the wing's height
	BeyondCurve               // the wing's curve does not reach its angle of attack
	StallUnknown              // the data on the wing end before it stalls
)

// Missing is a figure that cannot be given: the range that data cover and where the
// setting lies, in mm above the roof or rad of angle of attack.
type Missing struct {
	Cause        Cause
	Low, High    float64
	Have         float64
	WithoutForce bool // no force is known, not just a figure
}

// breach adds a limit that is broken.
func (r *Row) breach(b Breach) { r.Breaches = append(r.Breaches, b) }

// above notes that a figure is above its maximum, where one is given.
func (r *Row) above(l Limit, have float64, allowed given.Number) {
	if most, ok := allowed.Get(); ok && have > most {
		r.breach(Breach{Limit: l, Have: have, Allowed: most})
	}
}

// ofSize notes which limits on the wing's size break: on its width and its overhang behind
// the body.
func (l Limits) ofSize(r *Row, c *Car) {
	r.above(LimitWidth, c.Wing.Span, l.Width)
	if l.Overhang.Known() {
		r.above(LimitOverhang, r.Overhang(c), l.Overhang)
	}
}

// Overhang is how far the rearmost point is behind the body's, mm; NaN without a
// body.
func (p *Position) Overhang(c *Car) float64 {
	body := c.Surroundings().Body
	if body == nil {
		return math.NaN()
	}
	_, hi := plane.Box(body)
	return p.Rear - hi.X
}

// ofPlace notes which limits the place of a row breaks. To touch is a breach also where no
// gap is asked for.
func (l Limits) ofPlace(r *Row) {
	r.above(LimitTop, r.Top, l.Top)
	r.above(LimitRear, r.Rear, l.Rear)
	if !r.Gap.Known() {
		return
	}
	if g := r.Gap.Shut; g.Distance == 0 || g.Distance < l.Gap.Or(0) {
		r.breach(Breach{Limit: LimitGap, Have: g.Distance, Allowed: l.Gap.Value(), From: g.From, To: g.To})
	}
	if o, least := r.Gap.Lid, l.LidOpening.Or(0); o.Of > 0 && o.To < least-1e-6 {
		r.breach(Breach{Limit: LimitLid, Have: o.To, Allowed: least, From: o.Stop, To: "lid"})
	}
}

// ofStall notes whether a row is closer to the stall than is wanted. Without a limit it
// notes only that the margin is not known.
func (l Limits) ofStall(r *Row) {
	least, limited := l.StallMargin.Get()
	switch unknown := math.IsNaN(r.StallMargin); {
	case !limited && unknown:
		r.Missing = append(r.Missing, Missing{Cause: StallUnknown})
	case limited && (unknown || r.Stalled || r.StallMargin < least):
		r.breach(Breach{Limit: LimitStall, Have: r.StallMargin, Allowed: least})
	}
}

// LimitCount is how many settings break a limit.
type LimitCount struct {
	Limit Limit
	Count int
}

// LimitCounts lists the limits that any setting breaks, with how many settings break
// each, the most first. A setting counts for every limit that it breaks.
func (t *Table) LimitCounts() []LimitCount {
	rows := make([]int, len(t.Rows))
	for i := range rows {
		rows[i] = i
	}
	return t.LimitCountsOf(rows)
}

// LimitCountsOf is LimitCounts for some of the table's rows.
func (t *Table) LimitCountsOf(rows []int) []LimitCount {
	count := map[Limit]int{}
	for _, i := range rows {
		for _, b := range t.Rows[i].Breaches {
			count[b.Limit]++
		}
	}
	var all []LimitCount
	for l, n := range count {
		all = append(all, LimitCount{l, n})
	}
	slices.SortFunc(all, func(a, b LimitCount) int {
		return cmp.Or(cmp.Compare(b.Count, a.Count), cmp.Compare(a.Limit, b.Limit))
	})
	return all
}

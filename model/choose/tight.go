package choose

import (
	"math"

	"stanchion/holes/plane"
	"stanchion/model"
)

// Tight is a limit that a setting keeps, but not clearly: by less than twice its uncertainty.
type Tight struct {
	Limit         model.Limit
	Have, Allowed float64 // mm or rad
	StdUnc        float64 // of what it has
}

// Inside is by how many standard uncertainties the limit is kept.
func (l Tight) Inside() float64 { return times(l.Have-l.Allowed, l.StdUnc) }

// TightLimits lists the limits of the car file that a setting keeps, but not clearly. Lengths are as
// uncertain as the angle makes them, turned about the wing's bolts, and as a tape reads them; the stall margin
// counts against the stall itself where no limit is given.
func TightLimits(t *model.Table, r *model.Row, b *model.Budget) []Tight {
	var all []Tight
	for _, l := range limitsOf(t, r, b) {
		if ClarityOf(l.Have-l.Allowed, l.StdUnc) != Clear {
			all = append(all, l)
		}
	}
	return all
}

// clearOf is how clearly a setting keeps all limits, as clear as the one that it keeps least.
func clearOf(limits []Tight) Clarity {
	least := Clear
	for _, l := range limits {
		least = min(least, max(NoClearDifference, ClarityOf(l.Have-l.Allowed, l.StdUnc)))
	}
	return least
}

// limitsOf lists how a row stands to all limits that can be kept by more or less.
func limitsOf(t *model.Table, r *model.Row, b *model.Budget) (all []Tight) {
	c, l := t.Car, t.Car.Limits
	if margin := r.StallMargin; !math.IsNaN(margin) && !r.Stalled {
		all = append(all, Tight{model.LimitStall, margin, l.StallMargin.Or(0), b.Margin})
	}
	around := c.Surroundings().Known()
	if !l.Top.Known() && !l.Rear.Known() && !l.Overhang.Known() && !around || len(r.Fits) == 0 {
		return all
	}
	up, down := turned(t, r, b.Contribution.Angle), turned(t, r, -b.Contribution.Angle)
	add := func(limit model.Limit, allowed, tape float64, of func(*model.Position) float64) {
		have, by := of(r.Position), 0.0
		for _, p := range [2]*model.Position{up, down} {
			moved := of(p)
			if math.IsInf(have, 0) && !math.IsInf(moved, 0) { // far off as it is, and near when it is turned
				have = allowed
			}
			if d := math.Abs(moved - have); !math.IsInf(moved, 0) && !math.IsNaN(d) {
				by = max(by, d)
			}
		}
		if known := !math.IsNaN(have) && !math.IsInf(have, 0); known && math.Hypot(by, tape) > 0 {
			all = append(all, Tight{limit, have, allowed, math.Hypot(by, tape)})
		}
	}
	if most, ok := l.Top.Get(); ok {
		add(model.LimitTop, most, heightReading, func(p *model.Position) float64 { return p.Top })
	}
	if most, ok := l.Rear.Get(); ok {
		add(model.LimitRear, most, heightReading, func(p *model.Position) float64 { return p.Rear })
	}
	if most, ok := l.Overhang.Get(); ok {
		add(model.LimitOverhang, most, heightReading, func(p *model.Position) float64 { return p.Overhang(c) })
	}
	if around && r.Gap.Known() {
		add(model.LimitGap, l.Gap.Or(0), heightReading, func(p *model.Position) float64 { return p.Gap.Shut.Distance })
		if least, ok := l.LidOpening.Get(); ok && r.Gap.Lid.Of > 0 {
			add(model.LimitLid, least, 0, func(p *model.Position) float64 { return p.Gap.Lid.To })
		}
	}
	return all
}

// turned is where a row's wing is when it is turned about the middle of its bolts.
func turned(t *model.Table, r *model.Row, by float64) *model.Position {
	s := *r.Setting
	pairs := s.Fits[len(s.Fits)-1].Pairs
	var middle plane.Point
	for _, p := range pairs {
		h := t.Car.Parts[len(t.Car.Parts)-1].Holes[p.Upper]
		middle = middle.Add(plane.Point{X: h.X, Z: h.Z}.Times(1 / float64(len(pairs))))
	}
	s.Pose = plane.About(s.Pose.Apply(middle), by).Then(s.Pose)
	p := t.Car.PositionOf(&s)
	return &p
}

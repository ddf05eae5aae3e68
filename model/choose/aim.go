package choose

import (
	"math"

	"stanchion/model"
	"stanchion/model/given"
)

// aim is a figure of a row that is asked for between two values.
type aim struct {
	figure
	lo, hi       float64
	below, above Obstacle // what it is where it is too little or too much
	target       Target   // of a figure that is asked for with a tolerance
	small        float64
}

// figure is one that is known with an uncertainty, of a table: 0 for that of the settings, from 1 on those at
// speeds of their own.
type figure struct {
	table int
	of    func(*model.Row) float64
	std   func(*model.Budget) float64
	part  func(*model.Contribution) float64 // what a source adds to it, with its sign
	drawn func(*model.Draw) float64         // by how much a draw moves it
	turns bool                              // an angle, which moves in a straight line
}

// The figures that are asked for.
var (
	ofShare = figure{of: func(r *model.Row) float64 { return r.Share }, std: func(b *model.Budget) float64 { return b.Share },
		part: func(c *model.Contribution) float64 { return c.Share }, drawn: func(d *model.Draw) float64 { return d.Share }}
	ofShift = figure{of: func(r *model.Row) float64 { return r.Shift }, std: func(b *model.Budget) float64 { return b.Shift },
		part: func(c *model.Contribution) float64 { return c.Shift }, drawn: func(d *model.Draw) float64 { return d.Shift }}
	ofDownforce = figure{of: func(r *model.Row) float64 { return r.Downforce }, std: func(b *model.Budget) float64 { return b.Downforce },
		part: func(c *model.Contribution) float64 { return c.Downforce }, drawn: func(d *model.Draw) float64 { return d.Downforce }}
	ofOnCar = figure{of: func(r *model.Row) float64 { return r.OnCar }, std: func(b *model.Budget) float64 { return b.OnCar },
		part: func(c *model.Contribution) float64 { return c.OnCar }, drawn: func(d *model.Draw) float64 { return d.OnCar }}
	ofDrag = figure{of: func(r *model.Row) float64 { return r.Drag }, std: func(b *model.Budget) float64 { return b.Drag },
		part: func(c *model.Contribution) float64 { return c.Drag }, drawn: func(d *model.Draw) float64 { return d.Drag }}
	ofMargin = figure{of: func(r *model.Row) float64 { return r.StallMargin }, std: func(b *model.Budget) float64 { return b.Margin },
		part: marginPart, drawn: func(d *model.Draw) float64 { return d.Margin }, turns: true}
	ofAngle = figure{of: func(r *model.Row) float64 { return r.Angle }, std: func(b *model.Budget) float64 { return b.Contribution.Angle },
		part: func(c *model.Contribution) float64 { return c.Angle }, drawn: func(d *model.Draw) float64 { return d.Angle }, turns: true}
)

// marginPart is what a source adds to the stall margin: more angle to the air, and a lift that begins sooner,
// take from it; a later stall adds. What dirt and a Gurney flap do to it is left to itself.
func marginPart(c *model.Contribution) float64 {
	by := -c.Angle
	switch c.What {
	case model.FromFlowAngle, model.FromZeroLift:
		by -= c.Input.StdUnc
	case model.FromStallAngle:
		by += c.Input.StdUnc
	}
	return by
}

// balances lists the figures of balance that are wanted, each with its target.
func (p *picker) balances() (all []aim) {
	add := func(f figure, table int, t Target, o Obstacle) {
		if want, ok := t.Value.Get(); ok {
			f.table = table
			all = append(all, aim{figure: f, lo: want - t.Tolerance, hi: want + t.Tolerance, below: o, above: o, target: t, small: smallShare})
		}
	}
	add(ofShare, 0, p.c.FrontShare, OffFrontShare)
	add(ofShift, 0, p.c.BalanceShift, OffBalanceShift)
	for k, at := range p.c.ShareAt {
		add(ofShare, k+1, at.Share, OffFrontShare)
	}
	return all
}

// aims lists all figures that are wanted and known with an uncertainty.
func (p *picker) aims() []aim {
	all := p.balances()
	add := func(f figure, least, most given.Number, below, above Obstacle, small float64) {
		if least.Known() || most.Known() {
			all = append(all, aim{figure: f, lo: least.Or(math.Inf(-1)), hi: most.Or(math.Inf(1)), below: below, above: above, small: small})
		}
	}
	c, none := &p.c, given.Number{}
	add(ofDownforce, c.MinDownforce, c.MaxDownforce, BelowMinDownforce, AboveMaxDownforce, smallForce)
	add(ofOnCar, c.MinOnCar, c.MaxOnCar, BelowMinOnCar, AboveMaxOnCar, smallForce)
	add(ofDrag, none, c.MaxDrag, AboveMaxDrag, AboveMaxDrag, smallDrag)
	add(ofMargin, c.MinStallMargin, none, BelowMinStallMargin, BelowMinStallMargin, smallMargin)
	add(ofAngle, c.MinAngle, c.MaxAngle, BelowMinAngle, AboveMaxAngle, smallMargin)
	return all
}

// shortfall says whether a figure misses what is wanted, at its best estimate.
func (p *picker) shortfall(a aim, have float64) (Shortfall, bool) {
	s := Shortfall{Have: have, Tolerance: a.target.Tolerance}
	if a.table > 0 {
		s.Speed = p.c.ShareAt[a.table-1].Speed
	}
	short := 0.0
	switch {
	case have < a.lo:
		s.Obstacle, s.Wanted, short = a.below, a.lo, a.lo-have
	case have > a.hi:
		s.Obstacle, s.Wanted, short = a.above, a.hi, have-a.hi
	}
	if want, ok := a.target.Value.Get(); ok {
		s.Wanted = want
	}
	s.timesAcceptable = short / a.small
	return s, short > rounding
}

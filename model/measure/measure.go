// Package measure answers: which one measurement would narrow a setting's figures, or the
// difference of two settings, the most, and to what?
//
// Each measurement stands for a standard uncertainty that it reaches with care. The car is
// taken as if it had been made, and its uncertainties worked out anew.
package measure

import (
	"math"
	"slices"

	"stanchion/aero"
	"stanchion/holes/plane"
	"stanchion/model"
)

// Kind is a measurement that a person can make.
type Kind int

// The kinds.
const (
	FlowAngle Kind = iota
	SpeedRatio
	Level
	FittedBolts
	HolePositions
	AngleReading
	SatelliteSpeed
	Weather
	RideHeights
	CoastDown
	CleanSurface
)

// What each reaches, one standard uncertainty: rad, fractions, mm.
// Common practice, no source.
const (
	flowAngleReached = 0.3 * plane.Deg // tufts or a vane, filmed against a level
	ratioReached     = 0.01            // a pitot tube against satellite speed
	holesReached     = 0.05            // mm, a caliper on drilled holes
	angleReached     = 0.1 * plane.Deg // a digital level read both ways round
	speedReached     = 0.003           // satellite, the mean of both ways
	airReached       = 0.002           // thermometer and barometer in the paddock
	heightsReached   = 0.08            // of the downforce, ride heights over some runs
	coastReached     = 0.10            // of the drag, coasting down both ways
	fittedPart       = 0.1             // of the play that fitted bolts leave
)

// measurement is how a car is known after it.
type measurement struct {
	kind    Kind
	reached float64
	made    func(c *model.Car, flow *aero.FlowPoint)
}

var measurements = []measurement{
	{FlowAngle, flowAngleReached, func(c *model.Car, flow *aero.FlowPoint) {
		c.Uncertainty.FlowAngle = min(c.Uncertainty.FlowAngle, flowAngleReached)
		flow.AngleStdUnc = min(flow.AngleStdUnc, flowAngleReached)
	}},
	{SpeedRatio, ratioReached, func(c *model.Car, flow *aero.FlowPoint) {
		c.Uncertainty.SpeedRatio = min(c.Uncertainty.SpeedRatio, ratioReached)
		flow.RatioStdUnc = min(flow.RatioStdUnc, ratioReached)
	}},
	{Level, 0, func(c *model.Car, _ *aero.FlowPoint) { c.Uncertainty.SetWithLevel = true }},
	{FittedBolts, fittedPart, func(c *model.Car, _ *aero.FlowPoint) { c.Uncertainty.PlayTaken = 1 - fittedPart }},
	{HolePositions, holesReached, func(c *model.Car, _ *aero.FlowPoint) {
		c.Uncertainty.HolePosition = min(c.Uncertainty.HolePosition, holesReached)
	}},
	{AngleReading, angleReached, func(c *model.Car, _ *aero.FlowPoint) {
		c.Uncertainty.AngleReading = min(c.Uncertainty.AngleReading, angleReached)
	}},
	{SatelliteSpeed, speedReached, func(c *model.Car, _ *aero.FlowPoint) {
		c.Uncertainty.Speed = min(c.Uncertainty.Speed, speedReached)
	}},
	{Weather, airReached, func(c *model.Car, _ *aero.FlowPoint) { c.Uncertainty.Air = min(c.Uncertainty.Air, airReached) }},
	{RideHeights, heightsReached, func(c *model.Car, _ *aero.FlowPoint) {
		if s := &c.TrackFit.Downforce; !s.Known() || s.StdUnc > heightsReached*s.Factor {
			*s = model.Scale{Factor: orOne(*s), StdUnc: heightsReached * orOne(*s)}
		}
	}},
	{CoastDown, coastReached, func(c *model.Car, _ *aero.FlowPoint) {
		if s := &c.TrackFit.Drag; !s.Known() || s.StdUnc > coastReached*s.Factor {
			*s = model.Scale{Factor: orOne(*s), StdUnc: coastReached * orOne(*s)}
		}
	}},
	{CleanSurface, 0, func(c *model.Car, _ *aero.FlowPoint) { c.Wing.Surface, c.Wing.SurfaceGiven = aero.Clean, true }},
}

func orOne(s model.Scale) float64 {
	if s.Known() {
		return s.Factor
	}
	return 1
}

// Gain is what one measurement would make of a figure's uncertainty.
type Gain struct {
	Kind    Kind
	Reached float64 // one standard uncertainty that it reaches; 0 where it is no number
	After   model.Contribution
}

// worthTelling is the part of an uncertainty that a measurement must take away.
const worthTelling = 0.02

// One returns what each measurement would make of a row's uncertainties, those that narrow the
// figure that of takes, the most first.
func One(t *model.Table, r *model.Row, of func(model.Contribution) float64) []Gain {
	return gains(t, of, func(t *model.Table, know func(*model.Row) *model.Row) model.Contribution {
		return t.Budget(know(r)).Contribution
	})
}

// Between is One for the difference of two rows.
func Between(t *model.Table, a, b *model.Row, of func(model.Contribution) float64) []Gain {
	return gains(t, of, func(t *model.Table, know func(*model.Row) *model.Row) model.Contribution {
		return model.DifferenceStdUnc(t.Budget(know(a)), t.Budget(know(b)))
	})
}

func gains(t *model.Table, of func(model.Contribution) float64,
	after func(t *model.Table, know func(*model.Row) *model.Row) model.Contribution) []Gain {
	before := math.Abs(of(after(t, func(r *model.Row) *model.Row { return r })))
	var all []Gain
	for _, m := range measurements {
		car, table := *t.Car, *t
		table.Car = &car
		known := func(r *model.Row) *model.Row {
			row := *r
			m.made(&car, &row.Flow)
			return &row
		}
		m.made(&car, &aero.FlowPoint{})
		if m.kind == CleanSurface {
			if t.Wing.Worn.MaxLiftStdUnc == 0 {
				continue
			}
			table.Wing.Worn = aero.Worn{}
		}
		g := Gain{Kind: m.kind, Reached: m.reached, After: after(&table, known)}
		if now := math.Abs(of(g.After)); before-now > worthTelling*before {
			all = append(all, g)
		}
	}
	slices.SortStableFunc(all, func(a, b Gain) int {
		x, y := math.Abs(of(a.After)), math.Abs(of(b.After))
		switch {
		case x < y:
			return -1
		case x > y:
			return 1
		}
		return 0
	})
	return all
}

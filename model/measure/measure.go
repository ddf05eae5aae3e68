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
		known(c, model.FlowAngleOff, flowAngleReached)
	}},
	{SpeedRatio, ratioReached, func(c *model.Car, flow *aero.FlowPoint) {
		c.Uncertainty.SpeedRatio = min(c.Uncertainty.SpeedRatio, ratioReached)
		flow.RatioStdUnc = min(flow.RatioStdUnc, ratioReached)
		known(c, model.SpeedRatioOff, ratioReached)
	}},
	{Level, 0, func(c *model.Car, _ *aero.FlowPoint) { c.Uncertainty.SetWithLevel = true }},
	{FittedBolts, fittedPart, func(c *model.Car, _ *aero.FlowPoint) { c.Uncertainty.PlayTaken = 1 - fittedPart }},
	{HolePositions, holesReached, func(c *model.Car, _ *aero.FlowPoint) {
		c.Uncertainty.HolePosition = min(c.Uncertainty.HolePosition, holesReached)
	}},
	{AngleReading, angleReached, func(c *model.Car, _ *aero.FlowPoint) {
		c.Uncertainty.AngleReading = min(c.Uncertainty.AngleReading, angleReached)
		known(c, model.AngleReadingOff, angleReached)
	}},
	{SatelliteSpeed, speedReached, func(c *model.Car, _ *aero.FlowPoint) {
		c.Uncertainty.Speed = min(c.Uncertainty.Speed, speedReached)
	}},
	{Weather, airReached, func(c *model.Car, _ *aero.FlowPoint) { c.Uncertainty.Air = min(c.Uncertainty.Air, airReached) }},
	{RideHeights, heightsReached, nil},
	{CoastDown, coastReached, nil},
	{CleanSurface, 0, func(c *model.Car, _ *aero.FlowPoint) { c.Wing.Surface, c.Wing.SurfaceGiven = aero.Clean, true }},
}

// known is a car's fit with one of its unknowns measured by itself as well.
func known(c *model.Car, u model.Unknown, reached float64) {
	if e := c.TrackFit.Estimate; e != nil {
		c.TrackFit.Estimate = e.Measured(u, reached)
	}
}

// onTrack are the figures that a measurement on track is of, of a row.
var onTrack = map[Kind]struct {
	of  func(model.Contribution) float64
	now func(*model.Row) float64
}{
	RideHeights: {func(c model.Contribution) float64 {
		if math.IsNaN(c.OnCar) {
			return c.Downforce
		}
		return c.OnCar
	}, func(r *model.Row) float64 { return r.Downforce }},
	CoastDown: {func(c model.Contribution) float64 { return c.Drag }, func(r *model.Row) float64 { return r.Drag }},
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
	}, func(k Kind, reached float64) model.Contribution {
		b := t.Budget(r)
		return b.Told(b.Parts, b.Contribution, onTrack[k].of, reached*math.Abs(onTrack[k].now(r)))
	})
}

// Between is One for the difference of two rows; what is measured on track is of the first.
func Between(t *model.Table, a, b *model.Row, of func(model.Contribution) float64) []Gain {
	return gains(t, of, func(t *model.Table, know func(*model.Row) *model.Row) model.Contribution {
		return model.DifferenceStdUnc(t.Budget(know(a)), t.Budget(know(b)))
	}, func(k Kind, reached float64) model.Contribution {
		x, y := t.Budget(a), t.Budget(b)
		return x.Told(model.DifferenceParts(x, y), model.DifferenceStdUnc(x, y), onTrack[k].of, reached*math.Abs(onTrack[k].now(a)))
	})
}

// gains works out after of the car as known after each measurement, and track of those on track.
func gains(t *model.Table, of func(model.Contribution) float64,
	after func(t *model.Table, know func(*model.Row) *model.Row) model.Contribution, track func(Kind, float64) model.Contribution) []Gain {
	before := math.Abs(of(after(t, func(r *model.Row) *model.Row { return r })))
	var all []Gain
	add := func(g Gain) {
		if now := math.Abs(of(g.After)); before-now > worthTelling*before {
			all = append(all, g)
		}
	}
	for _, m := range measurements {
		if m.made == nil {
			add(Gain{Kind: m.kind, Reached: m.reached, After: track(m.kind, m.reached)})
			continue
		}
		car, table := *t.Car, *t
		table.Car = &car
		known := func(r *model.Row) *model.Row {
			row, own := *r, car
			table.Car = &own
			m.made(&own, &row.Flow)
			return &row
		}
		if m.kind == CleanSurface {
			if t.Wing.Worn.MaxLiftStdUnc == 0 {
				continue
			}
			table.Wing.Worn = aero.Worn{}
		}
		add(Gain{Kind: m.kind, Reached: m.reached, After: after(&table, known)})
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

package model

import (
	"math"

	"stanchion/aero"
	"stanchion/holes/plane"
)

// Unknown is a quantity of the car that measurements on track tell something of. By how much it is off
// the car file is in its own unit: factors as fractions, angles in rad, areas in m², rates in N/mm,
// power in W, surface and Gurney flap in standard uncertainties of the budget without a fit.
type Unknown int

// The unknowns, in the order in which they are listed. NoUnknown is what the track does not tell.
const (
	NoUnknown       Unknown = iota
	LiftFactor              // × the wing's lift where its curve is straight
	FlowAngleOff            // added to the flow angle at the wing
	SpeedRatioOff           // added to the speed ratio at the wing
	FrontOwnArea            // the car's own downforce area at the front axle
	RearOwnArea             // and at the rear
	DragFactor              // × the wing's own drag
	MaxLiftFactor           // × the wing's maximum CL
	ZeroLiftOff             // by which the zero-lift angle is lower
	StallAngleOff           // added to the angle of maximum CL
	SurfaceOff              // how much cleaner the wing is than half-way between clean and dirty
	GurneyOff               // what the Gurney flap adds beyond the expected
	AngleReadingOff         // added to the angle to the ground
	BodyPartOff             // added to the part of the lift on the body between its two ends
	WakeFactor              // × the lift that is lost in the uprights' wake
	FrontAxleRate           // of the springs at the wheels; from here on what moves no figure of a row
	RearAxleRate            // likewise
	OwnDragArea             // of the car without the wing
	WheelPower              // at the wheels
	UnknownsEnd             // one more than the last of them
)

// unknownNames are the key of each in [fit] and its name in the budget.
var unknownNames = [UnknownsEnd]struct{ key, what string }{
	LiftFactor:      {"lift_factor", FromSlope},
	FlowAngleOff:    {"flow_angle", FromFlowAngle},
	SpeedRatioOff:   {"speed_ratio", FromSpeedRatio},
	FrontOwnArea:    {"front_downforce_area", FromFrontOwn},
	RearOwnArea:     {"rear_downforce_area", FromRearOwn},
	FrontAxleRate:   {"front_rate", "spring rate in front"},
	RearAxleRate:    {"rear_rate", "spring rate at the rear"},
	DragFactor:      {"drag_factor", FromSectionDrag},
	OwnDragArea:     {"drag_area", "the car's own drag area"},
	MaxLiftFactor:   {"max_lift_factor", FromMaxLift},
	ZeroLiftOff:     {"zero_lift_angle", FromZeroLift},
	StallAngleOff:   {"stall_angle", FromStallAngle},
	SurfaceOff:      {"surface", FromSurface},
	GurneyOff:       {"gurney", FromGurney},
	AngleReadingOff: {"angle_reading", FromAngleReading},
	BodyPartOff:     {"body", FromDeck},
	WakeFactor:      {"wake_factor", FromWake},
	WheelPower:      {"power", "power at the wheels"},
}

// Key returns the unknown's key in [fit].
func (u Unknown) Key() string { return unknownNames[u].key }

// UnknownOf returns the unknown with a key; NoUnknown where there is none.
func UnknownOf(key string) Unknown {
	for u := LiftFactor; u < UnknownsEnd; u++ {
		if u.Key() == key {
			return u
		}
	}
	return NoUnknown
}

// Nominal returns what an unknown is in the car as it stands, in its own unit: 1 for factors, 0 for what
// is added, the car's own value for areas, rates and power.
func (c *Car) Nominal(u Unknown) float64 {
	switch u {
	case LiftFactor, MaxLiftFactor, DragFactor, WakeFactor:
		return 1
	case FrontOwnArea:
		return c.FrontDownforceArea
	case RearOwnArea:
		return c.RearDownforceArea
	case FrontAxleRate:
		return c.FrontRate.Or(math.NaN())
	case RearAxleRate:
		return c.RearRate.Or(math.NaN())
	case OwnDragArea:
		return c.DragArea.Or(math.NaN())
	case WheelPower:
		return c.Power.Or(math.NaN())
	}
	return 0
}

// Prior returns one standard uncertainty of an unknown before anything is measured on track, in its own
// unit, at the table's speed; 0 for one that the car does not have. Bands of the flow that change with
// height are those of its middle height.
func (t *Table) Prior(u Unknown) float64 {
	c, known := t.Car, t.Car.Uncertainty
	s := t.sectionBands()
	part := func(whole, part float64) float64 {
		if math.IsNaN(whole) {
			return 0
		}
		return math.Abs(whole * part)
	}
	switch u {
	case LiftFactor:
		return s.slope * t.slopePart()
	case FlowAngleOff:
		if p := c.flowMiddle(); p.AngleStdUnc > 0 {
			return p.AngleStdUnc
		}
		return known.FlowAngle
	case SpeedRatioOff:
		if p := c.flowMiddle(); p.RatioStdUnc > 0 {
			return p.RatioStdUnc
		}
		return known.SpeedRatio
	case FrontOwnArea:
		return known.FrontOwn
	case RearOwnArea:
		return known.RearOwn
	case FrontAxleRate, RearAxleRate:
		return part(c.Nominal(u), known.AxleRate)
	case DragFactor:
		return t.dragStdUnc()
	case OwnDragArea:
		return part(c.Nominal(u), known.DragArea)
	case WheelPower:
		return part(c.Nominal(u), known.Power)
	case MaxLiftFactor:
		return s.top
	case ZeroLiftOff:
		return s.zero
	case StallAngleOff:
		return s.stall
	case SurfaceOff:
		if s.worn() {
			return 1
		}
	case GurneyOff:
		if s.gurneyTop > 0 {
			return 1
		}
	case AngleReadingOff:
		return known.AngleReading
	case BodyPartOff:
		if c.HasDeck() && t.deckTold() {
			return deckPartStdUnc
		}
	case WakeFactor:
		if t.deckTold() {
			return wakeStdUnc
		}
	}
	return 0
}

// unit is what one of an unknown's own unit does to the figures in a flow. On a car with a fit it is of
// what the fit has made: a factor's hundredth is less of a lift that was cut.
func (t *Table) unit(u Unknown, flow aero.FlowPoint) (d deviation) {
	fitted := 1 + t.Car.TrackFit.Off(u)
	s := t.sectionBands()
	switch u {
	case LiftFactor:
		d.slope = 1 / (t.slopePart() * fitted)
	case FlowAngleOff:
		d.flowAngle = ofMiddle(flow.AngleStdUnc, t.Car.flowMiddle().AngleStdUnc)
	case SpeedRatioOff:
		d.ratio = ofMiddle(flow.RatioStdUnc, t.Car.flowMiddle().RatioStdUnc)
	case FrontOwnArea:
		d.frontOwn = 1
	case RearOwnArea:
		d.rearOwn = 1
	case DragFactor:
		d.drag = 1 / fitted
	case MaxLiftFactor:
		d.top = 1 / fitted
	case ZeroLiftOff:
		d.zero = 1
	case StallAngleOff:
		d.stall = 1
	case SurfaceOff:
		d.top, d.drag, d.stall = s.surface.MaxLiftStdUnc, -s.surface.DragStdUnc, s.dirtStall
	case GurneyOff:
		d.zero, d.top = s.gurneyZero, s.gurneyTop
	case AngleReadingOff:
		d.turn = 1
	case BodyPartOff:
		d.deck = 1
	case WakeFactor:
		d.wake = 1 / fitted
	}
	return d
}

// ofMiddle is how many times the band of the flow's middle height that of another one is; 1 where the
// points have no bands of their own.
func ofMiddle(here, middle float64) float64 {
	if here > 0 && middle > 0 {
		return here / middle
	}
	return 1
}

// flowMiddle is the flow at the middle of the heights that its points reach.
func (c *Car) flowMiddle() aero.FlowPoint {
	lo, hi := c.Flow.Range()
	if math.IsInf(lo, 0) {
		lo, hi = 0, 0
	}
	p, _ := c.Flow.At((lo + hi) / 2)
	return p
}

// slopePart is how much of the section's lift slope the wing has.
func (t *Table) slopePart() float64 {
	if s := t.Wing.Section; s != nil && s.Slope > 0 {
		return t.Wing.Slope / s.Slope
	}
	return 1
}

// IsAngle reports whether an unknown is an angle.
func (u Unknown) IsAngle() bool {
	switch u {
	case FlowAngleOff, ZeroLiftOff, StallAngleOff, AngleReadingOff:
		return true
	}
	return false
}

// FileUnit returns the name of an unknown's unit in the car file and how much one of it is in its own.
func (u Unknown) FileUnit() (name string, size float64) {
	switch {
	case u.IsAngle():
		return "°", plane.Deg
	case u == FrontOwnArea, u == RearOwnArea, u == OwnDragArea:
		return "m²", 1
	case u == FrontAxleRate, u == RearAxleRate:
		return "N/mm", 1
	case u == WheelPower:
		return "kW", 1000
	}
	return "", 1
}

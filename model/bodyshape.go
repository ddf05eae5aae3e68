package model

import (
	"fmt"

	"stanchion/aero"
	"stanchion/holes/plane"
)

// BodyShape is what a car looks like behind its cabin.
type BodyShape int

// The shapes.
const (
	ShapeNotSaid BodyShape = iota
	Notchback              // a boot behind the rear window
	Fastback               // one slope from the roof to the tail
	Squareback             // the roof ends at the tail
)

func (s BodyShape) String() string {
	return [...]string{"", "notchback", "fastback", "squareback"}[s]
}

// ParseBodyShape reads "notchback", "fastback" or "squareback".
func ParseBodyShape(text string) (BodyShape, error) {
	for _, s := range []BodyShape{Notchback, Fastback, Squareback} {
		if s.String() == text {
			return s, nil
		}
	}
	return ShapeNotSaid, fmt.Errorf("%q", text)
}

// Flow is what the flow at the wing is taken to be behind a body of the shape until it is
// measured, the same at all heights.
// Common practice, no source: the flow follows the slope behind the cabin for a part, comes
// down least behind a squareback, and is slowed most in the wake of a notchback's rear window.
func (s BodyShape) Flow() aero.FlowPoint {
	switch s {
	case Notchback:
		return aero.FlowPoint{Angle: 4 * plane.Deg, Ratio: 0.93, AngleStdUnc: 2.5 * plane.Deg, RatioStdUnc: 0.06}
	case Fastback:
		return aero.FlowPoint{Angle: 5 * plane.Deg, Ratio: 0.96, AngleStdUnc: 2.5 * plane.Deg, RatioStdUnc: 0.05}
	case Squareback:
		return aero.FlowPoint{Angle: 1 * plane.Deg, Ratio: 1.00, AngleStdUnc: 2 * plane.Deg, RatioStdUnc: 0.05}
	}
	return aero.FlowPoint{Ratio: 1}
}

// FlowMeasured reports whether the flow at the wing was given, not assumed.
func (c *Car) FlowMeasured() bool { return c.Flow.Known() && !c.FlowGuessed }

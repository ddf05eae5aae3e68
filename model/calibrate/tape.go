package calibrate

import (
	"math"

	"stanchion/holes/plane"
	"stanchion/model"
)

// LeadingEdge returns where the front end of the chord line is, mm on the ground.
func LeadingEdge(p *model.Position) plane.Point { return p.Pose.Apply(plane.Point{}) }

// TrailingEdge returns where the rear end of the chord line is, mm on the ground.
func TrailingEdge(c *model.Car, p *model.Position) plane.Point {
	return p.Pose.Apply(plane.Point{X: c.Wing.Chord})
}

// TapeAngle returns the angle to the ground, rad, of a chord in mm whose ends are so high above the
// floor, and its standard uncertainty where each height has one of u: with sin a = (zₜ − zₗ)/c,
// u(a) = √2 u/(c cos a). NaN when the heights differ by the chord or more.
func TapeAngle(leading, trailing, chord, u float64) (angle, stdUnc float64) {
	sin := (trailing - leading) / chord
	if math.Abs(sin) >= 1 {
		return math.NaN(), math.NaN()
	}
	angle = math.Asin(sin)
	return angle, math.Sqrt2 * u / (chord * math.Cos(angle))
}

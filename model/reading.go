package model

import (
	"stanchion/holes/plane"
	"stanchion/model/given"
)

// Reading is what was measured with the wing bolted in one setting.
type Reading struct {
	Setting       string       // id
	Angle         given.Number // rad, of the chord to level ground
	Height        given.Number // mm, of the quarter-chord point above ground
	ReadingStdUnc given.Number // rad, standard uncertainty of the angle
	Side          string       // "left", "right" or ""
}

// defaultReading is the standard uncertainty of an angle where the file gives none, rad: a
// digital level repeats to 0.2°. Common practice, no source.
const defaultReading = 0.2 * plane.Deg

// AngleStdUnc returns the standard uncertainty of the angle, rad.
func (r Reading) AngleStdUnc() float64 {
	if u := r.ReadingStdUnc.Or(defaultReading); u > 0 {
		return u
	}
	return defaultReading
}

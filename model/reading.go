package model

import (
	"math"

	"stanchion/holes/plane"
)

// Reading is what was measured with the wing bolted in one setting.
type Reading struct {
	Setting       string  // id
	Angle         float64 // rad, of the chord to level ground; NaN when not read
	Height        float64 // mm, of the quarter-chord point above ground; NaN when not read
	ReadingStdUnc float64 // rad, standard uncertainty of the angle; NaN for the default
	Side          string  // "left", "right" or ""
}

// defaultReading is the standard uncertainty of an angle where the file gives none, rad: a
// digital level repeats to 0.2°. Common practice, no source.
const defaultReading = 0.2 * plane.Deg

// AngleStdUnc returns the standard uncertainty of the angle, rad.
func (r Reading) AngleStdUnc() float64 {
	if math.IsNaN(r.ReadingStdUnc) || r.ReadingStdUnc <= 0 {
		return defaultReading
	}
	return r.ReadingStdUnc
}

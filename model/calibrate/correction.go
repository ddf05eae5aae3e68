package calibrate

import (
	"math"

	"stanchion/model"
)

// Plus returns the corrections of d with further ones on top, which are known as
// well as those.
func (d Datum) Plus(further Datum) Datum {
	sum := further
	if math.IsNaN(sum.Angle) {
		sum.Angle, sum.AngleStdUnc = d.Angle, d.AngleStdUnc
	} else if !math.IsNaN(d.Angle) {
		sum.Angle += d.Angle
	}
	if math.IsNaN(sum.Z) {
		sum.Z, sum.ZStdUnc = d.Z, d.ZStdUnc
	} else if !math.IsNaN(d.Z) {
		sum.Z += d.Z
	}
	return sum
}

// Corrected returns the car with the fixed part where the readings say that it
// is, and the angle reading as sure as they make it.
func Corrected(c *model.Car, d Datum) *model.Car {
	next := *c
	if !math.IsNaN(d.Angle) {
		next.Fixed.Turn += d.Angle
		next.Uncertainty.AngleReading = min(c.Uncertainty.AngleReading, d.AngleStdUnc)
	}
	if !math.IsNaN(d.Z) {
		next.Fixed.Z += d.Z
	}
	return &next
}

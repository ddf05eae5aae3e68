package calibrate

import (
	"maps"
	"math"
	"slices"

	"stanchion/model"
	"stanchion/model/given"
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

// Corrected returns the car with the fixed part where readings and file say that it is, its angle as sure as they
// make it, and what the angle was before. An angle that was assumed is so no longer.
func Corrected(c *model.Car, d Datum) *model.Car {
	next := *c
	if !math.IsNaN(d.Angle) {
		before, stdUnc := c.AngleBefore()
		assumed := c.AngleBeforeAssumed()
		next.Assumed = slices.DeleteFunc(slices.Clone(c.Assumed), model.Assumption.OfFixedAngle)
		next.Fixed.Turn += d.Angle
		next.Uncertainty.AngleReading = d.AngleStdUnc
		next.Uncertainty.Default = maps.Clone(c.Uncertainty.Default)
		delete(next.Uncertainty.Default, "angle_reading")
		next.Before = model.AngleBefore{Turn: given.Is(before), StdUnc: stdUnc, Written: next.Fixed.Turn, Assumed: assumed}
	}
	if !math.IsNaN(d.Z) {
		next.Fixed.Z += d.Z
	}
	return &next
}

package model

import (
	"math"

	"stanchion/model/given"
)

// AngleBefore is the fixed part's angle as it was known before readings with the wing on were put into it.
// They are worked out from there each time, so that none counts twice.
type AngleBefore struct {
	Turn    given.Number // rad; not given where no reading was put in
	StdUnc  float64      // rad
	Written float64      // rad, what the readings made of it
}

// sameTurn is within which the angle in the file is the one that was written, rad.
const sameTurn = 1e-9

// AngleBefore returns the fixed part's angle without the readings of the file, and its standard uncertainty,
// rad. An angle that is no longer what readings made of it was measured anew.
func (c *Car) AngleBefore() (turn, stdUnc float64) {
	if before, ok := c.Before.Turn.Get(); ok && math.Abs(c.Fixed.Turn-c.Before.Written) <= sameTurn {
		return before, c.Before.StdUnc
	}
	return c.Fixed.Turn, c.Uncertainty.AngleReading
}

package model

import (
	"math"
	"slices"
	"strings"

	"stanchion/model/given"
)

// AngleBefore is the fixed part's angle as it was known before readings with the wing on were put into it.
// They are worked out from there each time, so that none counts twice.
type AngleBefore struct {
	Turn    given.Number // rad; not given where no reading was put in
	StdUnc  float64      // rad
	Written float64      // rad, what the readings made of it
	Assumed bool         // nobody had measured it
}

// sameTurn is within which the angle in the file is the one that was written, rad.
const sameTurn = 1e-9

// AngleBefore returns the fixed part's angle without the readings of the file, and its standard uncertainty,
// rad. An angle that is no longer what readings made of it was measured anew.
func (c *Car) AngleBefore() (turn, stdUnc float64) {
	if c.turnRead() {
		before, _ := c.Before.Turn.Get()
		return before, c.Before.StdUnc
	}
	return c.Fixed.Turn, c.Uncertainty.AngleReading
}

// turnRead reports whether the fixed part's angle is what readings made of it.
func (c *Car) turnRead() bool {
	return c.Before.Turn.Known() && math.Abs(c.Fixed.Turn-c.Before.Written) <= sameTurn
}

// AngleAssumed reports whether the file calls the fixed part's angle assumed.
func (c *Car) AngleAssumed() bool { return slices.ContainsFunc(c.Assumed, Assumption.OfFixedAngle) }

// AngleBeforeAssumed reports whether the angle that AngleBefore returns was never measured: it has no weight
// beside readings.
func (c *Car) AngleBeforeAssumed() bool { return c.AngleAssumed() || c.turnRead() && c.Before.Assumed }

// FixedAngle ends the name of the fixed part's angle among what is assumed: "bracket's angle".
const FixedAngle = "'s angle"

// OfFixedAngle reports whether the file calls the fixed part's angle assumed.
func (a Assumption) OfFixedAngle() bool {
	return a.Said && strings.HasSuffix(strings.ToLower(strings.ReplaceAll(a.What, "’", "'")), FixedAngle)
}

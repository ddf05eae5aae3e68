package model

import "math"

// leanCredit returns how much of the forward lean of the wing's lift may be a gain at
// most, N, for a lift in N that leans by eps rad, downwash positive. The flow that
// comes down behind the cabin is that of the car's own lift, and what the wing gains in
// it the body may pay for by more drag of its own: the mutual drag of two lifts L and
// q·A on a span b, wherever they stand one behind the other, is 2·L·A/(π·b²) in the far
// wake. Without a lift area of the car there is nothing to gain from. own is by how much more
// downforce area than the car's the car itself has, m².
// Source: M. M. Munk, NACA Report 121 (1921), "The Minimum Induced Drag of Aerofoils".
func (c *Car) leanCredit(lift, eps, own float64) float64 {
	forward, area, span := lift*math.Sin(eps), -(c.FrontDownforceArea + c.RearDownforceArea + own), c.Wing.Span*mm
	if !(lift > 0 && forward > 0 && area > 0) {
		return 0
	}
	return min(forward, 2*lift*area/(math.Pi*span*span))
}

// payStdUnc is the standard uncertainty of the part of the credit that the body pays for,
// of which nothing is known but that it is between none and all: 1/√12.
// Source: JCGM 100:2008, 4.3.7, a rectangular distribution.
var payStdUnc = 1 / math.Sqrt(12)

// carDrag returns the drag that the wing costs the car, N, from its own drag and the lean
// of its lift: a lean rearwards counts whole, of one forwards half of what may be a gain.
// paid is by how much more or less than half the body pays for. A wing never drives the
// car, so that the drag is 0 at least.
func carDrag(own, lean, credit, paid float64) float64 {
	if lean > 0 {
		return own + lean
	}
	return max(0, own-(0.5-paid)*credit)
}

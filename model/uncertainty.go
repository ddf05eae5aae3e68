package model

import (
	"math"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model/given"
)

// Uncertainty is how well the inputs are known, one standard uncertainty each.
type Uncertainty struct {
	AngleReading float64         // rad, of the fixed part's angle as measured
	FlowAngle    float64         // rad, of the flow at the wing, where its points have none of their own
	SpeedRatio   float64         // of the speed ratio at the wing, in its own unit, likewise
	SectionLift  given.Number    // of the section's lift, as a fraction; not given for the section's or wing's own
	SectionDrag  float64         // of the drag, as a fraction
	Speed        float64         // of the speed, as a fraction
	Air          float64         // of the air's density, as a fraction
	HolePosition float64         // mm, of hole centres along each axis; 0 when not given
	FrontOwn     float64         // m², of the car's own downforce area at the front axle
	RearOwn      float64         // m², and at the rear
	AxleRate     float64         // of front_rate and rear_rate, as a fraction
	DragArea     float64         // of drag_area, as a fraction
	Power        float64         // of the power at the wheels, as a fraction
	RideHeight   float64         // mm, of a change of ride height as noted
	TopSpeed     float64         // of a top speed as noted, as a fraction
	SetWithLevel bool            // each setting is set to its angle with a level, within the play of its bolts
	PlayTaken    float64         // part of the play that fitted bolts take away
	Default      map[string]bool // which of them the file does not give
}

// DefaultUncertainty returns what is taken where a car file says nothing.
// Common practice, no source: a good digital level repeats to 0.2° and the
// bracket it stands on is not flat; tufts are read to a degree; an unmeasured
// flow behind a cabin is anywhere within some degrees; a car's speedometer
// corrected by satellite is good to 1 %; a lift area is a magazine's or a tunnel's, of
// another trim and ride height; springs are within 5 % of what is stamped on them, and so
// is a published drag area; a chassis dynamometer's power is known to 5 %, and rolling
// resistance, which is left out, takes as much again; a ride height from a sensor or a
// rubber band is read to 1.5 mm, a top speed by satellite to 1 %, of which wind is the most.
func DefaultUncertainty(flowGiven bool) Uncertainty {
	u := Uncertainty{
		AngleReading: 0.3 * plane.Deg, FlowAngle: 3 * plane.Deg, SpeedRatio: 0.07,
		SectionDrag: 0.10, Speed: 0.01, Air: 0.005,
		FrontOwn: 0.03, RearOwn: 0.03, AxleRate: 0.05, DragArea: 0.05, Power: 0.10, RideHeight: 1.5, TopSpeed: 0.01,
		Default: map[string]bool{},
	}
	if flowGiven {
		u.FlowAngle, u.SpeedRatio = 1*plane.Deg, 0.03
	}
	return u
}

// MissingOwnStdUnc is one standard uncertainty, m², of the car's own downforce area at an axle of which the
// file says nothing, so that it is taken as 0. Common practice, no source: cars without wings have CL·A of
// −0.3 m² to 0.1 m² at an axle.
const MissingOwnStdUnc = 0.15

// HolesTurn is by how much errors of hole centres turn the upper part of joint j, rad, one
// standard uncertainty: each bolt has two holes that are off along each axis by position mm, and
// the least-squares turn of n bolts at distances ri from their middle is off by position
// √(2/Σri²). It is that of one side; the wing has the mean of all uprights'.
// Source: least squares, with the turn as Σ ri ei / Σ ri².
func HolesTurn(c *Car, j int, pairs []holes.Pair, position float64) float64 {
	if position <= 0 || j >= len(c.Parts)-1 {
		return 0
	}
	var sum, sumX, sumZ float64
	for _, p := range pairs {
		h := c.Parts[j].Holes[p.Lower]
		sumX, sumZ, sum = sumX+h.X, sumZ+h.Z, sum+h.X*h.X+h.Z*h.Z
	}
	n := float64(len(pairs))
	if about := sum - (sumX*sumX+sumZ*sumZ)/n; about > 0 {
		return position * math.Sqrt(2/about)
	}
	return 0
}

// flowKey is the key of [uncertainty] that tells how well the flow is known; "" where its points do.
func (t *Table) flowKey(key string, own float64) string {
	if own > 0 && t.Car.FlowMeasured() {
		return ""
	}
	return key
}

// flowAngleStdUnc is how well the flow angle at a row is known, rad.
func (t *Table) flowAngleStdUnc(r *Row) float64 {
	if u := r.Flow.AngleStdUnc; u > 0 {
		return u
	}
	return t.Car.Uncertainty.FlowAngle
}

// speedRatioStdUnc is how well the speed ratio at a row is known.
func (t *Table) speedRatioStdUnc(r *Row) float64 {
	if u := r.Flow.RatioStdUnc; u > 0 {
		return u
	}
	return t.Car.Uncertainty.SpeedRatio
}

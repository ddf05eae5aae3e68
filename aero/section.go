package aero

import (
	"fmt"
	"math"
	"slices"
)

// Origin says where a section's values come from.
type Origin int

// The origins.
const (
	Given     Origin = iota // by the person
	FromTable               // published
	Computed                // from the shape
)

func (o Origin) String() string {
	return [...]string{"given", "published", "computed from the shape"}[o]
}

// Section is a section's two-dimensional behaviour at one Reynolds number, with
// the few values that it comes down to and how sure they are (one standard
// uncertainty each).
type Section struct {
	Name     string
	Curve    Curve
	Reynolds float64
	Origin   Origin
	Source   string // in words
	Summary
	ZeroLiftStdUnc float64  // rad
	SlopeStdUnc    float64  // of the slope, as a fraction
	MaxLiftStdUnc  float64  // of the largest lift, as a fraction
	MaxAngleStdUnc float64  // rad
	Beside         *Summary // computed from the shape, where published values lead
	Notes          []string // what was corrected or assumed
}

// Summary is the few values that a section's behaviour comes down to. A value
// that is not known is NaN.
type Summary struct {
	ZeroLift float64 // angle of attack of zero lift, rad
	Slope    float64 // of the lift about zero lift, per rad
	MaxLift  float64
	MaxAngle float64 // angle of attack of the largest lift, rad
	MinDrag  float64
	Moment   float64 // about the quarter chord, with the flow attached
}

// The curve of a section is worked out from this far below its zero-lift angle
// to this angle of attack, rad.
const (
	belowZeroLift = 8 * deg
	lastAngle     = 45 * deg
	sectionStep   = 0.5 * deg
)

// curveFrom builds a whole curve from a summary: straight up to a part of the
// largest lift, a smooth top that keeps the angle of the largest lift, and
// Viterna's curve beyond it. drag gives the profile
// drag at a lift up to the largest.
func curveFrom(s Summary, drag func(cl float64) float64) (Curve, error) {
	if !(s.MaxAngle > s.ZeroLift) || !(s.MaxLift > 0) || !(s.Slope > 0) {
		return Curve{}, fmt.Errorf("maximum cl %.2f at %.1f° with a slope of %.2f per rad from %.1f°", s.MaxLift, s.MaxAngle/deg, s.Slope,
			s.ZeroLift/deg)
	}
	bend := s.bend()
	at := func(a float64) float64 {
		if a <= bend {
			return s.Slope * (a - s.ZeroLift)
		}
		// A cubic from the straight part to a level top.
		l := s.MaxAngle - bend
		t := (a - bend) / l
		y0, y1 := s.Slope*(bend-s.ZeroLift), s.MaxLift
		return y0*(1+t*t*(2*t-3)) + y1*t*t*(3-2*t) + l*s.Slope*t*(1-t)*(1-t)
	}
	post := Viterna(s.MaxAngle, s.MaxLift, drag(s.MaxLift), stalledAspect)
	var alpha, cl, cd, cm []float64
	take := func(a, l, d float64) {
		alpha, cl, cd, cm = append(alpha, a), append(cl, l), append(cd, d), append(cm, s.Moment)
	}
	for a := s.ZeroLift - belowZeroLift; a < s.MaxAngle-sectionStep/4; a += sectionStep {
		take(a, at(a), drag(at(a)))
	}
	for a := s.MaxAngle; a <= lastAngle; a += sectionStep {
		l, d := post(a)
		take(a, l, d)
	}
	return NewCurve(alpha, cl, cd, cm)
}

// bend returns the angle up to which lift is straight. The cubic from there to
// the top rises all the way as long as the straight line, carried on to the
// angle of the largest lift, does not exceed it more than threefold.
func (s Summary) bend() float64 {
	straight := s.ZeroLift + s.MaxLift/s.Slope // where the line would reach it
	beyond := s.MaxAngle - straight
	if beyond < 0.3*deg { // a sharp top
		beyond = 0.3 * deg
	}
	return max(s.ZeroLift, s.MaxAngle-3*beyond)
}

// dragAlong returns drag over lift from points, by straight lines; beyond the
// last lift it grows as it did at the end.
func dragAlong(cl, cd []float64) func(float64) float64 {
	n := len(cl) - 1
	const far = 10 // of lift coefficient
	end := cd[n] + far*(cd[n]-cd[n-1])/(cl[n]-cl[n-1])
	return piecewise(append(slices.Clone(cl), cl[n]+far), append(slices.Clone(cd), end)).Predict
}

// parabola returns drag over lift as cd0 + k (cl - at)², the shape of measured
// polars away from the stall.
func parabola(cd0, at, k float64) func(float64) float64 {
	return func(cl float64) float64 { return cd0 + k*(cl-at)*(cl-at) }
}

// efficiency is the part of the inviscid lift slope that real sections of a
// thickness in chords reach.
// Source: fitted by us to the slopes of eleven sections 9 to 21 % thick at 9e6
// (USAF DATCOM sec. 4.1.1, from NACA Report 824) over those of the panel method;
// the trend with the Reynolds number is that of W. J. McCroskey, NASA TM 100019
// (1987), for the NACA 0012. The sections lie within 2 % of it.
func efficiency(thickness, reynolds float64) float64 {
	return 1 - (0.93-0.30*math.Log10(reynolds/9e6))*thickness
}

package aero

import (
	"fmt"
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
	Transition     string   // in words: what the curve takes for granted of the layers' transition
	Tripped        bool     // transition was fixed near the nose
	ZeroLiftStdUnc float64  // rad
	SlopeStdUnc    float64  // of the slope, as a fraction
	MaxLiftStdUnc  float64  // of the maximum lift, as a fraction
	MaxAngleStdUnc float64  // of its angle, rad
	DragStdUnc     float64  // of the profile drag up to 80 % of the maximum lift, as a fraction
	Beside         *Summary // computed from the shape, where published values lead
	Notes          []string // what was corrected or assumed
	thickness      float64  // in chords
	trend          trend    // of the stall with the Reynolds number
}

// Summary is the few values that a section's behaviour comes down to. A value
// that is not known is NaN.
type Summary struct {
	ZeroLift float64 // angle of attack of zero lift, rad
	Slope    float64 // of the lift about zero lift, per rad
	MaxLift  float64
	MaxAngle float64 // angle of attack of the largest lift, rad
	// The negative stall: the least lift, below zero, and its angle of attack, rad.
	LeastLift, LeastAngle float64
	MinDrag               float64
	Moment                float64 // about the quarter chord, with the flow attached
}

// The curve of a section is worked out from this far below its zero-lift angle
// to this angle of attack, rad.
const (
	belowZeroLift = 25 * deg
	lastAngle     = 45 * deg
	sectionStep   = 0.5 * deg
)

// curveFrom builds a whole curve from a summary: to both sides of zero lift straight up
// to a part of the maximum, a smooth top that keeps the angle of the maximum, and beyond it
// the stalled section. thickness is in chords; drag gives the profile drag at a lift between
// the least and the maximum.
func curveFrom(s Summary, thickness float64, drag func(cl float64) float64) (Curve, error) {
	if !(s.MaxAngle > s.ZeroLift) || !(s.MaxLift > 0) || !(s.Slope > 0) {
		return Curve{}, fmt.Errorf("maximum cl %.2f at %.1f° with a slope of %.2f per rad from %.1f°", s.MaxLift, s.MaxAngle/deg, s.Slope,
			s.ZeroLift/deg)
	}
	if !(s.LeastAngle < s.ZeroLift) || !(s.LeastLift < 0) {
		return Curve{}, fmt.Errorf("least cl %.2f at %.1f° with zero lift at %.1f°", s.LeastLift, s.LeastAngle/deg, s.ZeroLift/deg)
	}
	up := top{s.ZeroLift, s.Slope, s.MaxLift, s.MaxAngle, drag(s.MaxLift), thickness}
	down := top{-s.ZeroLift, s.Slope, -s.LeastLift, -s.LeastAngle, drag(s.LeastLift), thickness}
	var alpha, cl, cd, cm []float64
	take := func(a, l, d float64) {
		alpha, cl, cd, cm = append(alpha, a), append(cl, l), append(cd, d), append(cm, s.Moment)
	}
	side := func(t top, sign, last float64) {
		for a := t.zero; a < t.angle-sectionStep/4; a += sectionStep {
			l := sign * t.attached(a)
			take(sign*a, l, drag(l))
		}
		for a := t.angle; a < last+sectionStep; a += sectionStep {
			l, d := t.past(a)
			take(sign*a, sign*l, d)
		}
	}
	side(down, -1, max(belowZeroLift-s.ZeroLift, -s.LeastAngle))
	for _, v := range [][]float64{alpha, cl, cd} {
		slices.Reverse(v)
	}
	n := len(alpha) - 1 // both sides begin at zero lift
	alpha, cl, cd, cm = alpha[:n], cl[:n], cd[:n], cm[:n]
	side(up, 1, lastAngle)
	return NewCurve(alpha, cl, cd, cm)
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

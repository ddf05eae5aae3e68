package model

import (
	"fmt"
	"math"
	"slices"

	"stanchion/aero"
	"stanchion/model/given"
)

// unfitted is what a joint fit changes in a car.
type unfitted struct{ car Car }

// Unfitted returns the car as its file has it without anything fitted on track.
func (c *Car) Unfitted() *Car {
	next := *c
	if b := c.TrackFit.before; b != nil {
		o := &b.car
		next.Flow, next.FrontDownforceArea, next.RearDownforceArea = o.Flow, o.FrontDownforceArea, o.RearDownforceArea
		next.FrontRate, next.RearRate, next.DragArea, next.Power, next.Assumed = o.FrontRate, o.RearRate, o.DragArea, o.Power, o.Assumed
	}
	inputs := c.TrackFit.Inputs
	next.TrackFit = NoFit()
	next.TrackFit.Inputs = inputs
	return &next
}

// Fitted returns the car with what a fit on track found: flow, the car's own areas, rates and power are what it
// says, the wing's curve, the body's part and the uprights' wake follow where they are worked out. What
// the angle reading is off counts as flow angle, so that the angle to the ground stays as measured. What
// was fitted before is left out.
func (c *Car) Fitted(j *Estimate) *Car {
	next := c.Unfitted()
	if j == nil {
		return next
	}
	next.TrackFit.before = &unfitted{*next}
	next.TrackFit.Estimate = j
	off := next.TrackFit.Off
	if angle, ratio := off(FlowAngleOff)+off(AngleReadingOff), off(SpeedRatioOff); angle != 0 || ratio != 0 {
		middle := next.flowMiddle()
		next.Flow = next.Flow.Moved(func(p aero.FlowPoint) (float64, float64) {
			return off(AngleReadingOff) + off(FlowAngleOff)*ofMiddle(p.AngleStdUnc, middle.AngleStdUnc), ratio * ofMiddle(p.RatioStdUnc, middle.RatioStdUnc)
		})
	}
	next.FrontDownforceArea += off(FrontOwnArea)
	next.RearDownforceArea += off(RearOwnArea)
	for u, x := range map[Unknown]*given.Number{FrontAxleRate: &next.FrontRate, RearAxleRate: &next.RearRate, OwnDragArea: &next.DragArea, WheelPower: &next.Power} {
		*x = moreBy(*x, off(u))
	}
	next.Assumed = slices.DeleteFunc(slices.Clone(next.Assumed), func(a Assumption) bool {
		u := UnknownOf(a.What)
		return (u == FrontOwnArea || u == RearOwnArea) && j.index(u) >= 0
	})
	return next
}

// curveToFit makes a wing's curve what a fit on track found of it, and says so. Its zero lift and slope are
// what the fit says of those of the curve, not looked for in the moved points.
func (c *Car) curveToFit(w *WingCurve) error {
	plain := *c.Unfitted()
	w.Stall, w.MaxLift, _ = w.Curve.Stall()
	if c.Wing.Table == nil {
		w.Stall = w.Curve.PeakAngle()
	}
	w.ZeroLift, w.Slope = w.Curve.Straight()
	t := &Table{Car: &plain, Wing: *w}
	var d deviation
	for _, u := range []Unknown{LiftFactor, MaxLiftFactor, DragFactor, ZeroLiftOff, StallAngleOff, SurfaceOff, GurneyOff} {
		unit := t.unit(u, aero.FlowPoint{})
		d.add(&unit, c.TrackFit.Off(u))
	}
	if d != (deviation{}) {
		curve, err := t.deviated(d)
		if err != nil {
			return fmt.Errorf("[fit] leaves no usable wing curve: %w; remove [fit], or fit anew", err)
		}
		w.Curve, w.ZeroLift, w.Slope = curve, w.ZeroLift-d.zero, w.Slope*(1+d.slope*t.slopePart())
	}
	w.From += "; FITTED to the track"
	if std, ok := c.TrackFit.Estimate.StdUnc(LiftFactor); ok {
		w.From += fmt.Sprintf(": lift × %.2f ± %.2f", 1+c.TrackFit.Off(LiftFactor), std)
	}
	return nil
}

// deviated is the wing's curve with a deviation written into its points, one of them where its top has come.
func (t *Table) deviated(d deviation) (aero.Curve, error) {
	angles := []float64{}
	for a := range t.Wing.Curve.Points() {
		angles = append(angles, a)
	}
	if top := t.movedStall(d.stall); !math.IsNaN(top) && top > angles[0] && top < angles[len(angles)-1] {
		const apart = 0.05 * math.Pi / 180 // a point that is nearer gives way
		angles = slices.DeleteFunc(angles, func(a float64) bool { return math.Abs(a-top) < apart && a != angles[0] && a != angles[len(angles)-1] })
		at, _ := slices.BinarySearch(angles, top)
		angles = slices.Insert(angles, at, top)
	}
	var alpha, cl, cd, cm []float64
	for _, a := range angles {
		k, ok := t.Wing.Curve.At(a)
		if !ok {
			continue
		}
		k = t.deviate(k, a, d)
		alpha, cl, cd, cm = append(alpha, a-d.zero), append(cl, k.CL), append(cd, k.CD), append(cm, k.CM)
	}
	if !t.Wing.Curve.HasMoment() {
		cm = nil
	}
	return aero.NewCurve(alpha, cl, cd, cm)
}

// movedStall is the angle of attack at which a wing whose stall is off has the lift of its stall, rad: the
// least a with a − off·level(a) = stall; NaN for a wing whose stall is not known.
func (t *Table) movedStall(off float64) float64 {
	stall := t.Wing.Stall
	if !(off < 0) {
		return stall + off
	}
	lo, hi := stall+off, stall // at lo it has not been reached, at hi it has
	for range 50 {
		if middle := (lo + hi) / 2; middle-off*t.level(middle) < stall {
			lo = middle
		} else {
			hi = middle
		}
	}
	return hi
}

// atLeast is the estimate with what makes less of the wing's forces left out.
func (j *Estimate) atLeast() *Estimate {
	more := *j
	more.Value = slices.Clone(j.Value)
	for i, u := range j.Of {
		switch u {
		case LiftFactor, MaxLiftFactor, DragFactor, FlowAngleOff, SpeedRatioOff, ZeroLiftOff, GurneyOff, AngleReadingOff:
			more.Value[i] = max(0, j.Value[i])
		case SurfaceOff, StallAngleOff:
			more.Value[i] = 0
		}
	}
	return &more
}

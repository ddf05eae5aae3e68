package model

import (
	"fmt"
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
	next.TrackFit = NoFit()
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

// curveToFit makes a wing's curve what a fit on track found of it, and says so.
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
		var alpha, cl, cd, cm []float64
		for a, k := range w.Curve.Points() {
			k = t.deviate(k, a, d)
			alpha, cl, cd, cm = append(alpha, a-d.zero), append(cl, k.CL), append(cd, k.CD), append(cm, k.CM)
		}
		if !w.Curve.HasMoment() {
			cm = nil
		}
		curve, err := aero.NewCurve(alpha, cl, cd, cm)
		if err != nil {
			return fmt.Errorf("with [fit] the wing's curve is none: %w; remove [fit], or fit anew", err)
		}
		w.Curve = curve
	}
	w.From += "; FITTED to the track"
	if std, ok := c.TrackFit.Estimate.StdUnc(LiftFactor); ok {
		w.From += fmt.Sprintf(": lift × %.2f ± %.2f", 1+c.TrackFit.Off(LiftFactor), std)
	}
	return nil
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

package model

import (
	"math"

	"stanchion/aero"
)

// Outcome is what the air does at one place and speed. What cannot be given is NaN.
type Outcome struct {
	Flow   aero.FlowPoint // at the wing: its angle, downwash positive, and its speed over the car's
	Attack float64        // rad, chord against the air that meets it
	aero.Coefficients
	Downforce  float64 // N
	Drag       float64 // N that the wing costs the car
	OwnDrag    float64 // N, the wing's own
	Lean       float64 // N, by which its lift leans rearwards; below 0 forwards
	LeanCredit float64 // N that a forward lean may gain at most
	Change     Axles   // N, by the wing's forces
	Load       Axles   // N, at that speed, with the wing
	Share      float64 // front axle's part of the load, 0 to 1
	Shift      float64 // of the share by the wing's forces, 0.01 is one percentage point
}

// outcome works out what the air does at a place. Figures that cannot be given
// are NaN.
func (t *Table) outcome(p *Position, d deviation) Outcome {
	return t.outcomeAt(p, p.Height-t.Car.RoofHeight, d)
}

// OutcomeAt works out what the air does at a place in the flow of a height above the roof,
// mm, that is not the place's own: on its springs the roof sinks with the wing.
func (t *Table) OutcomeAt(p *Position, aboveRoof float64) Outcome {
	return t.outcomeAt(p, aboveRoof, deviation{})
}

// outcomeAt is outcome with the flow of a height above the roof, mm, that is not
// the place's own: on its springs the roof sinks with the wing.
func (t *Table) outcomeAt(p *Position, above float64, d deviation) Outcome {
	c, nan := t.Car, math.NaN()
	o := Outcome{Flow: aero.FlowPoint{Angle: nan, Ratio: nan}, Attack: nan, Coefficients: aero.Coefficients{CL: nan, CD: nan, CM: nan},
		Downforce: nan, OwnDrag: nan, Lean: nan, LeanCredit: nan, Drag: nan,
		Change: Axles{nan, nan}, Load: Axles{nan, nan}, Share: nan, Shift: nan}
	flow, ok := c.Flow.At(above * mm)
	o.Flow = flow
	if !ok {
		return o
	}
	eps := flow.Angle + d.flowAngle
	o.Attack = p.Angle + d.turn + eps
	k, ok := t.Wing.Curve.At(o.Attack + d.zero)
	if !ok {
		return o
	}
	if d.slope != 0 || d.top != 0 || d.drag != 0 {
		k = t.deviate(k, o.Attack+d.zero, d)
	}
	o.Coefficients = k
	rho, speed := t.Density*(1+d.air), t.Speed*(1+d.speed)
	f := k.Times(aero.DynamicPressure(rho, (flow.Ratio+d.ratio)*speed), c.Wing.Area(), c.Wing.MeanChord())
	o.Downforce, o.OwnDrag, o.Lean = f.Resolve(eps)
	o.LeanCredit = c.leanCredit(f.Lift, eps)
	o.Drag = carDrag(o.OwnDrag, o.Lean, o.LeanCredit, d.paid)
	moment := f.Moment
	if math.IsNaN(moment) {
		moment = 0 // listed as assumed when the file is read
	}
	// The wing hangs upside down: what lowers its own nose lifts the car's.
	o.Change = WingOnAxles(o.Downforce, o.Drag, -moment, p.X*mm, p.Height*mm, c.Wheelbase*mm)
	without := t.Without
	if d.air != 0 || d.speed != 0 {
		without = c.without(aero.DynamicPressure(rho, speed))
	}
	o.Load = without.plus(o.Change)
	o.Share = o.Load.FrontShare()
	o.Shift = o.Share - without.FrontShare()
	return o
}

// deviate changes coefficients for a section whose lift slope, largest lift and
// drag are off. The slope counts where the curve is straight, the largest lift
// where it is level, both in between.
func (t *Table) deviate(k aero.Coefficients, attack float64, d deviation) aero.Coefficients {
	level := 1.0
	if attack < t.Wing.Stall || math.IsNaN(t.Wing.Stall) {
		level = min(max(1-t.Wing.Curve.Slope(attack)/t.Wing.Slope, 0), 1)
	}
	part := 1.0 // how much of the section's slope the wing's has
	if s := t.Wing.Section; s != nil && s.Slope > 0 {
		part = t.Wing.Slope / s.Slope
	}
	lift := k.CL * (1 + d.slope*part*(1-level) + d.top*level)
	k.CD = k.CD*(1+d.drag) + (lift*lift-k.CL*k.CL)/(math.Pi*t.Car.Wing.effectiveAspect())
	k.CL = lift
	return k
}

// Pitching returns the wing's moment about its quarter-chord point in N·m, as it
// hangs on the car: positive turns it to more angle. A moment that is not known
// counts as none.
func (t *Table) Pitching(r *Row) float64 {
	w := t.Car.Wing
	m := r.CM * aero.DynamicPressure(t.Density, r.Flow.Ratio*t.Speed) * w.Area() * w.MeanChord()
	if math.IsNaN(m) {
		return 0
	}
	return m
}

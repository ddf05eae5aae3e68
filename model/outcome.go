package model

import (
	"math"

	"stanchion/aero"
)

// outcome is what the air does at one place, with inputs off by a deviation.
type outcome struct {
	flow   aero.FlowPoint // NaN beyond the flow's points
	attack float64        // rad
	aero.Coefficients
	down      float64 // N
	own, lean float64 // N, of the wing's own drag, and by which its lift leans rearwards
	credit    float64 // N that a forward lean may gain at most
	back      float64 // N, the drag that the wing costs the car
	change    Axles
	load      Axles
	share     float64
	shift     float64
}

// outcome works out what the air does at a place. Figures that cannot be given
// are NaN.
func (t *Table) outcome(p *Place, d deviation) outcome {
	return t.outcomeAt(p, p.Height-t.Car.RoofHeight, d)
}

// outcomeAt is outcome with the flow of a height above the roof, mm, that is not
// the place's own: on its springs the roof sinks with the wing.
func (t *Table) outcomeAt(p *Place, above float64, d deviation) outcome {
	c, nan := t.Car, math.NaN()
	o := outcome{attack: nan, Coefficients: aero.Coefficients{CL: nan, CD: nan, CM: nan}, down: nan, own: nan, lean: nan, credit: nan, back: nan,
		change: Axles{nan, nan}, load: Axles{nan, nan}, share: nan, shift: nan}
	flow, ok := c.Flow.At(above * mm)
	o.flow = flow
	if !ok {
		return o
	}
	eps := flow.Angle + d.flowAngle
	o.attack = p.Angle + d.turn + eps
	k, ok := t.Wing.Curve.At(o.attack + d.zero)
	if !ok {
		return o
	}
	if d.slope != 0 || d.top != 0 || d.drag != 0 {
		k = t.deviate(k, o.attack+d.zero, d)
	}
	o.Coefficients = k
	rho, speed := t.Density*(1+d.air), t.Speed*(1+d.speed)
	f := k.Times(aero.DynamicPressure(rho, (flow.Ratio+d.ratio)*speed), c.Wing.Area(), c.Wing.planform().MeanChord())
	o.down, o.own, o.lean = f.Resolve(eps)
	o.credit = c.leanCredit(f.Lift, eps)
	o.back = carDrag(o.own, o.lean, o.credit, d.paid)
	moment := f.Moment
	if math.IsNaN(moment) {
		moment = 0 // listed as assumed when the file is read
	}
	// The wing hangs upside down: what lowers its own nose lifts the car's.
	o.change = WingOnAxles(o.down, o.back, -moment, p.X*mm, p.Height*mm, c.Wheelbase*mm)
	without := t.Without
	if d.air != 0 || d.speed != 0 {
		without = c.without(aero.DynamicPressure(rho, speed))
	}
	o.load = without.plus(o.change)
	o.share = o.load.FrontShare()
	o.shift = o.share - without.FrontShare()
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
	m := r.CM * aero.DynamicPressure(t.Density, r.SpeedRatio*t.Speed) * w.Area() * w.planform().MeanChord()
	if math.IsNaN(m) {
		return 0
	}
	return m
}

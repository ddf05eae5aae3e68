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
	Downforce  float64 // N, of the wing itself
	DeckLift   float64 // N upwards that it draws out of the body; NaN where the body is not known
	OnCar      float64 // N, the wing's downforce less the lift on the body
	Drag       float64 // N that the wing costs the car, with its uprights
	StrutsDrag float64 // N of the uprights; NaN where their plates are not known
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
		Downforce: nan, DeckLift: nan, OnCar: nan, StrutsDrag: nan, OwnDrag: nan, Lean: nan, LeanCredit: nan, Drag: nan,
		Change: Axles{nan, nan}, Load: Axles{nan, nan}, Share: nan, Shift: nan}
	flow, ok := c.Flow.At(above * mm)
	o.Flow = flow
	if !ok {
		return o
	}
	if t.off != nil {
		d.add(t.off, 1)
	}
	eps := flow.Angle + d.flowAngle
	o.Attack = p.Angle + d.turn + eps
	felt := t.felt(o.Attack+d.zero, t.rise(p, d))
	k, ok := t.Wing.Curve.At(felt)
	if !ok {
		return o
	}
	k = t.deviate(k, felt, d)
	told := t.deckTold()
	switch {
	case c.Loads:
		k.CL = t.mostLift(p, k.CL, felt)
	case told:
		k.CL *= p.Struts.kept(d)
	}
	if past := min(max((felt-t.Wing.Stall)/stalledBy, 0), 1); past > 0 {
		k.CL, k.CD = k.CL*(1+d.stalledLift*past), k.CD*(1+d.stalledDrag*past)
	}
	body := p.Deck.At(deckPart + d.deck)
	o.Coefficients = k
	rho, speed := t.Density*(1+d.air), t.Speed*(1+d.speed)
	q := aero.DynamicPressure(rho, (flow.Ratio+d.ratio)*speed)
	f := k.Times(q, c.Wing.Area(), c.Wing.MeanChord())
	o.Downforce, o.OwnDrag, o.Lean = f.Resolve(eps)
	o.LeanCredit = c.leanCredit(f.Lift, eps, d.frontOwn+d.rearOwn)
	o.StrutsDrag = p.Struts.strutsDrag(q, d)
	own := carDrag(o.OwnDrag, o.Lean, o.LeanCredit, d.paid)
	o.Drag = own
	moment := f.Moment
	if math.IsNaN(moment) {
		moment = 0 // listed as assumed when the file is read
	}
	// The wing hangs upside down: what lowers its own nose lifts the car's.
	o.Change = WingOnAxles(o.Downforce, own, -moment, p.X*mm, p.Height*mm, c.Wheelbase*mm)
	if p.Struts.Known {
		o.Drag += o.StrutsDrag
		o.Change = o.Change.plus(WingOnAxles(0, o.StrutsDrag, 0, 0, p.Struts.Middle*mm, c.Wheelbase*mm))
	}
	switch {
	case !told:
		o.OnCar = o.Downforce
	case p.Deck.Known:
		o.DeckLift = body.Lift * o.Downforce
		o.OnCar = o.Downforce - o.DeckLift
		o.Change = o.Change.plus(WingOnAxles(-o.DeckLift, 0, body.NoseUp*o.Downforce, 0, 0, c.Wheelbase*mm))
	}
	without := t.Without
	if d.air != 0 || d.speed != 0 {
		without = c.without(aero.DynamicPressure(rho, speed))
	}
	if d.frontOwn != 0 || d.rearOwn != 0 {
		own := aero.DynamicPressure(rho, speed)
		without = without.plus(Axles{own * d.frontOwn, own * d.rearOwn})
	}
	o.Load = without.plus(o.Change)
	o.Share = o.Load.FrontShare()
	o.Shift = o.Share - without.FrontShare()
	return o
}

// rise is by how much a place's body steepens the wing's lift: nothing where a fit on track tells it,
// and the most that it may be for loads.
func (t *Table) rise(p *Position, d deviation) float64 {
	switch {
	case !p.Deck.Known:
		return 0
	case t.Car.Loads:
		return max(p.Deck.Low.Rise, p.Deck.High.Rise, 0)
	case !t.deckTold():
		return 0
	}
	return p.Deck.At(deckPart + d.deck).Rise
}

// felt is the angle of attack on the wing's own curve, rad, of a wing whose lift is steeper by a part:
// the body takes downwash away, so that the wing feels more of its angle and stalls that much sooner.
func (t *Table) felt(attack, rise float64) float64 {
	if rise == 0 || math.IsNaN(t.Wing.ZeroLift) {
		return attack
	}
	return attack + rise*(attack-t.Wing.ZeroLift)
}

// stalledBy is how far past its stall, rad, a wing is wholly known as a stalled one is.
const stalledBy = 3 * math.Pi / 180

// mostLift is the most lift coefficient that a place may have, for what must bear it: past the stall that
// of the stall, as flow and pitch bring it back; with a downforce that was fitted on track also what the
// body takes of it, which the fit has left out.
func (t *Table) mostLift(p *Position, cl, felt float64) float64 {
	if felt > t.Wing.Stall {
		cl = max(cl, t.Wing.MaxLift)
	}
	if fit := t.Car.TrackFit.Downforce; fit.Known() && p.Deck.Known {
		taken := min(max(p.Deck.At(deckPart).Lift, 0), 0.6)
		cl *= max(1, fit.Factor/(1-taken)) / max(1, fit.Factor)
	}
	return cl
}

// StallAt returns the angle of attack at which the wing stalls at a place, rad.
func (t *Table) StallAt(p *Position) float64 {
	rise := t.rise(p, deviation{})
	if rise == 0 || math.IsNaN(t.Wing.ZeroLift) {
		return t.Wing.Stall
	}
	return t.Wing.ZeroLift + (t.Wing.Stall-t.Wing.ZeroLift)/(1+rise)
}

// deviate changes coefficients for a section whose lift slope, largest lift, stall and
// drag are off. The slope counts where the curve is straight, the largest lift
// where it is level, both in between; a later stall moves the curve by as much as it is level.
func (t *Table) deviate(k aero.Coefficients, attack float64, d deviation) aero.Coefficients {
	if d.slope == 0 && d.top == 0 && d.stall == 0 && d.drag == 0 {
		return k
	}
	if d.stall != 0 {
		if moved, ok := t.Wing.Curve.At(attack - d.stall*t.level(attack)); ok {
			moved.CM = k.CM
			k = moved
		}
	}
	level := t.level(attack)
	part := 1.0 // how much of the section's slope the wing's has
	if s := t.Wing.Section; s != nil && s.Slope > 0 {
		part = t.Wing.Slope / s.Slope
	}
	lift := k.CL * (1 + d.slope*part*(1-level) + d.top*level)
	k.CD = k.CD*(1+d.drag) + (lift*lift-k.CL*k.CL)/(math.Pi*t.Car.Wing.effectiveAspect())
	k.CL = lift
	return k
}

// level is how far the wing's curve has come from straight to level at an angle of attack in
// rad, 0 to 1, without a jump; at the stall and past it it is 1.
func (t *Table) level(attack float64) float64 {
	if attack >= t.Wing.Stall {
		return 1
	}
	return min(max(1-t.Wing.Curve.SlopeTo(attack, t.Wing.Stall)/t.Wing.Slope, 0), 1)
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

package model

import (
	"fmt"
	"math"

	"stanchion/aero"
)

// deviation is by how much inputs are off what the car file says.
type deviation struct {
	turn      float64 // rad, of the chord against the ground
	flowAngle float64 // rad
	zero      float64 // rad, of the section's zero-lift angle, downwards positive
	ratio     float64 // of the speed ratio, in its own unit
	slope     float64 // of the lift slope, as a fraction
	top       float64 // of the maximum lift, as a fraction
	stall     float64 // rad, of the angle of maximum lift, upwards positive
	drag      float64 // as a fraction
	speed     float64 // as a fraction
	air       float64 // as a fraction
	paid      float64 // of what a forward lean may gain, the part more than half that the body pays for
	deck      float64 // of the deck's part in potential flow, the part more than half that comes back
	frontOwn  float64 // m², of the car's own downforce area at the front axle
	rearOwn   float64 // m², and at the rear
	struts    float64 // of the uprights' drag, as a fraction
	wake      float64 // of the lift lost in the uprights' wake, as a fraction

	stalledLift, stalledDrag float64 // of a stalled wing, as fractions
}

func (d deviation) times(f float64) (by deviation) {
	by.add(&d, f)
	return by
}

// add moves an input that is off by e, x times.
func (d *deviation) add(e *deviation, x float64) {
	d.turn += x * e.turn
	d.flowAngle += x * e.flowAngle
	d.zero += x * e.zero
	d.ratio += x * e.ratio
	d.slope += x * e.slope
	d.top += x * e.top
	d.stall += x * e.stall
	d.drag += x * e.drag
	d.speed += x * e.speed
	d.air += x * e.air
	d.paid += x * e.paid
	d.deck += x * e.deck
	d.frontOwn += x * e.frontOwn
	d.rearOwn += x * e.rearOwn
	d.struts += x * e.struts
	d.wake += x * e.wake
	d.stalledLift += x * e.stalledLift
	d.stalledDrag += x * e.stalledDrag
}

// input is one source of uncertainty: its standard deviation applied either way.
type input struct {
	what string
	// same names what is off: two settings whose names agree are off by the same. Play and
	// holes of a joint have that of the joint's bolts, so that a joint that is not undone
	// between two settings is off alike in both.
	same        string
	by          deviation
	rectangular bool // anywhere within √3 times either way alike; else normal
	of          InputUncertainty
	unknown     Unknown // that it is, of those that the track tells of
}

// InputUncertainty is how well an input of the figures is known.
type InputUncertainty struct {
	Symbol string  // of the input in equations, "ε"
	Key    string  // of [uncertainty] in the car file; "" for what is not given there
	StdUnc float64 // in rad, or as a fraction, or in the input's own unit
	Unit   InputUnit
}

// InputUnit is what the uncertainty of an input is in.
type InputUnit int

// The units.
const (
	InRadians InputUnit = iota
	AsFraction
	InItsOwn
	InSquareMetres
)

// The sources of uncertainty that a table may name.
const (
	FromPlay         = "play in the holes"
	FromHoles        = "hole positions"
	FromLevel        = "setting by the level"
	FromAngleReading = "angle reading"
	FromFlowAngle    = "flow angle"
	FromSpeedRatio   = "speed ratio"
	FromSectionDrag  = "section drag"
	FromSpeed        = "speed"
	FromAir          = "air density"
	FromLean         = "forward lean of the lift"
	FromZeroLift     = "section's zero-lift angle"
	FromSlope        = "section's lift slope"
	FromMaxLift      = "section's maximum CL"
	FromStallAngle   = "section's stall angle"
	FromStalledLift  = "lift past the stall"
	FromStalledDrag  = "drag past the stall"
	FromSurface      = "dirt on the wing"
	FromGurney       = "Gurney flap"
	FromDeck         = "lift of the body under the wing"
	FromUprights     = "drag of the uprights"
	FromWake         = "wake of the uprights"
	FromFrontOwn     = "the car's own lift in front"
	FromRearOwn      = "the car's own lift at the rear"
)

// levelStdUnc is how well a digital level repeats, rad. Common practice, no source.
const levelStdUnc = 0.1 * math.Pi / 180

// inputs lists the sources for a row. What was fitted on track stands in the place of what the file says.
func (t *Table) inputs(r *Row) []input {
	all := t.fileInputs(r)
	if j := t.Car.TrackFit.Estimate; j != nil {
		all = t.fittedInputs(r, all, j)
	}
	return all
}

// fileInputs lists the sources for a row as the car file alone has them.
func (t *Table) fileInputs(r *Row) []input {
	u := t.Car.Uncertainty
	all := t.mounting(r)
	all = append(all,
		input{what: FromAngleReading, by: deviation{turn: u.AngleReading}, of: InputUncertainty{"θ0", "angle_reading", u.AngleReading, InRadians}, unknown: AngleReadingOff},
		input{what: FromFlowAngle, by: deviation{flowAngle: t.flowAngleStdUnc(r)}, of: InputUncertainty{"ε", t.flowKey("flow_angle", r.Flow.AngleStdUnc), t.flowAngleStdUnc(r), InRadians}, unknown: FlowAngleOff},
		input{what: FromSpeedRatio, by: deviation{ratio: t.speedRatioStdUnc(r)}, of: InputUncertainty{"k", t.flowKey("speed_ratio", r.Flow.RatioStdUnc), t.speedRatioStdUnc(r), InItsOwn}, unknown: SpeedRatioOff},
		input{what: FromSectionDrag, by: deviation{drag: t.dragStdUnc()}, of: InputUncertainty{"CD", "section_drag", t.dragStdUnc(), AsFraction}, unknown: DragFactor},
		input{what: FromSpeed, by: deviation{speed: u.Speed}, of: InputUncertainty{"V", "speed", u.Speed, AsFraction}},
		input{what: FromAir, by: deviation{air: u.Air}, of: InputUncertainty{"ρ", "air", u.Air, AsFraction}})
	if u.FrontOwn > 0 {
		all = append(all, input{what: FromFrontOwn, by: deviation{frontOwn: u.FrontOwn}, of: InputUncertainty{"Af", "front_downforce_area", u.FrontOwn, InSquareMetres}, unknown: FrontOwnArea})
	}
	if u.RearOwn > 0 {
		all = append(all, input{what: FromRearOwn, by: deviation{rearOwn: u.RearOwn}, of: InputUncertainty{"Ar", "rear_downforce_area", u.RearOwn, InSquareMetres}, unknown: RearOwnArea})
	}
	if r.LeanCredit > 0 {
		all = append(all, input{what: FromLean, by: deviation{paid: payStdUnc}, rectangular: true, of: InputUncertainty{"G", "", payStdUnc, AsFraction}})
	}
	all = append(all, t.sectionInputs(r)...)
	for i := range all {
		if all[i].same == "" {
			all[i].same = all[i].what
		}
	}
	return all
}

// mounting lists what the angle is uncertain by from the bolts and holes of each joint. An
// angle that is set with a level has none of that.
func (t *Table) mounting(r *Row) (all []input) {
	u := t.Car.Uncertainty
	if u.SetWithLevel {
		return []input{{what: FromLevel, same: fmt.Sprint(FromLevel, r.ID, r.Height, r.Angle), by: deviation{turn: levelStdUnc},
			of: InputUncertainty{"τ", "", levelStdUnc, InRadians}}}
	}
	if n := len(r.Fits); n == 0 || n > len(t.Car.Joints) || n >= len(t.Car.Parts) { // a place without joints of its own
		return []input{t.play(r.Play, FromPlay, fmt.Sprint(FromPlay, r.Height, r.Angle))}
	}
	several := 0
	for _, f := range r.Fits {
		if f.Play > 0 {
			several++
		}
	}
	for j, f := range r.Fits {
		joint := t.Car.Joints[j].Name
		name := fmt.Sprintf(" %s: %s", joint, t.Car.boltsOf(j, f))
		if f.Play > 0 {
			what := FromPlay
			if several > 1 {
				what += " of the " + joint
			}
			all = append(all, t.play(f.Play, what, what+name))
		}
		if turn := HolesTurn(t.Car, j, f.Pairs, u.HolePosition) / math.Sqrt(t.Car.Mounting.Uprights.Or(2)); turn > 0 {
			what := FromHoles
			if len(r.Fits) > 1 {
				what += " of the " + joint
			}
			all = append(all, input{what: what, same: what + name, by: deviation{turn: turn}, of: InputUncertainty{"τ", "hole_position", turn, InRadians}})
		}
	}
	return all
}

// play is the source of one joint's play, anywhere within which is alike.
func (t *Table) play(play float64, what, same string) input {
	unc := play * (1 - t.Car.Uncertainty.PlayTaken) / math.Sqrt(3)
	return input{what: what, same: same, by: deviation{turn: unc}, rectangular: true, of: InputUncertainty{"τ", "", unc, InRadians}}
}

// sectionBands is how well what belongs to the section is known, one standard uncertainty each.
type sectionBands struct {
	zero, stall float64 // rad
	slope, top  float64 // as fractions
	liftKey     string  // of [uncertainty], where it is from there
	surface     aero.Worn
	dirtStall   float64 // rad, by which a cleaner wing stalls later
	gurneyZero  float64 // rad
	gurneyTop   float64 // as a fraction
}

func (s sectionBands) worn() bool { return s.surface.MaxLiftStdUnc > 0 || s.surface.DragStdUnc > 0 }

func (t *Table) sectionBands() sectionBands {
	u := t.Car.Uncertainty
	b := sectionBands{slope: GivenLiftStdUnc, top: GivenLiftStdUnc, surface: t.Wing.Worn, gurneyZero: t.Wing.GurneyZero, gurneyTop: t.Wing.GurneyTop}
	if s := t.Wing.Section; s != nil {
		b.zero, b.slope, b.top, b.stall = s.ZeroLiftStdUnc, s.SlopeStdUnc, s.MaxLiftStdUnc, s.MaxAngleStdUnc
	}
	if lift, ok := u.SectionLift.Get(); ok {
		b.slope, b.top, b.liftKey = lift, lift, "section_lift"
	}
	if t.ScaledToClaim() { // half of what claim and wing disagree by, as a fraction of the scaled lift
		half := math.Abs(1-t.Wing.ClaimScale) / 2 / t.Wing.ClaimScale
		b.slope, b.top, b.liftKey = math.Hypot(b.slope, half), math.Hypot(b.top, half), ""
	}
	if s := t.Car.TrackFit.Downforce; s.Known() { // measured: what the section alone left open is told
		b.slope, b.top = s.StdUnc/s.Factor, math.Hypot(s.StdUnc/s.Factor, b.top/2)
		b.surface.MaxLiftStdUnc, b.gurneyZero, b.gurneyTop = b.surface.MaxLiftStdUnc/2, 0, b.gurneyTop/2
	}
	if t.Car.TrackFit.Drag.Known() {
		b.surface.DragStdUnc = 0
	}
	if s := t.Wing.Section; s != nil {
		b.dirtStall = b.surface.StallStdUnc * (s.MaxAngle - s.ZeroLift)
	}
	return b
}

// sectionInputs lists what the section leaves open, with what is on its surface.
func (t *Table) sectionInputs(r *Row) (all []input) {
	b := t.sectionBands()
	if b.zero > 0 {
		all = append(all, input{what: FromZeroLift, by: deviation{zero: b.zero}, of: InputUncertainty{"CL", "", b.zero, InRadians}, unknown: ZeroLiftOff})
	}
	if t.mayStall(r) { // past the stall it follows a correlation
		all = append(all,
			input{what: FromStalledLift, by: deviation{stalledLift: stalledLiftStdUnc}, of: InputUncertainty{"CL", "", stalledLiftStdUnc, AsFraction}},
			input{what: FromStalledDrag, by: deviation{stalledDrag: stalledDragStdUnc}, of: InputUncertainty{"CD", "", stalledDragStdUnc, AsFraction}})
	}
	all = append(all,
		input{what: FromSlope, by: deviation{slope: b.slope}, of: InputUncertainty{"CL", b.liftKey, b.slope, AsFraction}, unknown: LiftFactor},
		input{what: FromMaxLift, by: deviation{top: b.top}, of: InputUncertainty{"CL", b.liftKey, b.top, AsFraction}, unknown: MaxLiftFactor})
	if b.stall > 0 {
		all = append(all, input{what: FromStallAngle, by: deviation{stall: b.stall}, of: InputUncertainty{"CL", "", b.stall, InRadians}, unknown: StallAngleOff})
	}
	if b.worn() { // a cleaner wing has more lift and less drag, and stalls later
		all = append(all, input{what: FromSurface, rectangular: true, by: deviation{top: b.surface.MaxLiftStdUnc, drag: -b.surface.DragStdUnc, stall: b.dirtStall},
			of: InputUncertainty{"CL", "", b.surface.MaxLiftStdUnc, AsFraction}, unknown: SurfaceOff})
	}
	if b.gurneyTop > 0 {
		all = append(all, input{what: FromGurney, by: deviation{zero: b.gurneyZero, top: b.gurneyTop}, of: InputUncertainty{"CL", "", b.gurneyTop, AsFraction}, unknown: GurneyOff})
	}
	return append(all, t.bodyInputs(r)...)
}

// mayStall reports whether a row is near enough to its stall to be past it when inputs are off.
func (t *Table) mayStall(r *Row) bool { return r.StallMargin < 6*math.Pi/180 }

// Past the stall lift and drag are known to this part of themselves at best.
// Source: the scatter of the report's own comparisons, NASA/CR-2008-215434 (2008).
const (
	stalledLiftStdUnc = 0.15
	stalledDragStdUnc = 0.15
)

// dragStdUnc is the standard uncertainty of the profile drag, as a fraction: what was fitted
// on track, where it was.
func (t *Table) dragStdUnc() float64 {
	drag := t.Car.Uncertainty.SectionDrag
	if s := t.Wing.Section; s != nil && s.DragStdUnc > 0 && t.Car.Uncertainty.Default["section_drag"] {
		drag = s.DragStdUnc
	}
	if s := t.Car.TrackFit.Drag; s.Known() {
		drag = s.StdUnc / s.Factor
	}
	return drag
}

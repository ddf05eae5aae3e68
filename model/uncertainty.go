package model

import (
	"cmp"
	"math"
	"slices"

	"stanchion/holes/plane"
	"stanchion/model/given"
)

// Uncertainty is how well the inputs are known, one standard uncertainty each.
type Uncertainty struct {
	AngleReading float64         // rad, of the fixed part's angle as measured
	FlowAngle    float64         // rad, of the flow at the wing
	SpeedRatio   float64         // of the speed ratio at the wing, in its own unit
	SectionLift  given.Number    // of the section's lift, as a fraction; not given for the section's or wing's own
	SectionDrag  float64         // of the drag, as a fraction
	Speed        float64         // of the speed, as a fraction
	Air          float64         // of the air's density, as a fraction
	HolePosition float64         // mm, of hole centres along each axis; 0 when not given
	Default      map[string]bool // which of them the file does not give
}

// DefaultUncertainty returns what is taken where a car file says nothing.
// Common practice, no source: a good digital level repeats to 0.2° and the
// bracket it stands on is not flat; tufts are read to a degree; an unmeasured
// flow behind a cabin is anywhere within some degrees; a car's speedometer
// corrected by satellite is good to 1 %.
func DefaultUncertainty(flowGiven bool) Uncertainty {
	u := Uncertainty{
		AngleReading: 0.3 * plane.Deg, FlowAngle: 3 * plane.Deg, SpeedRatio: 0.07,
		SectionDrag: 0.10, Speed: 0.01, Air: 0.005,
		Default: map[string]bool{},
	}
	if flowGiven {
		u.FlowAngle, u.SpeedRatio = 1*plane.Deg, 0.03
	}
	return u
}

// deviation is by how much inputs are off what the car file says.
type deviation struct {
	turn      float64 // rad, of the chord against the ground
	flowAngle float64 // rad
	zero      float64 // rad, of the section's zero-lift angle, downwards positive
	ratio     float64 // of the speed ratio, in its own unit
	slope     float64 // of the lift slope, as a fraction
	top       float64 // of the largest lift, as a fraction
	drag      float64 // as a fraction
	speed     float64 // as a fraction
	air       float64 // as a fraction
	paid      float64 // of what a forward lean may gain, the part more than half that the body pays for
}

// input is one source of uncertainty: its standard deviation applied either way.
type input struct {
	what   string
	shared bool // all settings of the car are off by the same
	by     deviation
	of     InputUncertainty
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
)

// inputs lists the sources for a row.
func (t *Table) inputs(r *Row) []input {
	u := t.Car.Uncertainty
	all := []input{
		// Anywhere within the play alike: standard deviation play/√3.
		{"play in the holes", false, deviation{turn: r.Play / math.Sqrt(3)}, InputUncertainty{"τ", "", r.Play / math.Sqrt(3), InRadians}},
		{"angle reading", true, deviation{turn: u.AngleReading}, InputUncertainty{"θ0", "angle_reading", u.AngleReading, InRadians}},
		{"flow angle", true, deviation{flowAngle: u.FlowAngle}, InputUncertainty{"ε", "flow_angle", u.FlowAngle, InRadians}},
		{"speed ratio", true, deviation{ratio: u.SpeedRatio}, InputUncertainty{"k", "speed_ratio", u.SpeedRatio, InItsOwn}},
		{"section drag", true, deviation{drag: t.dragStdUnc()}, InputUncertainty{"CD", "section_drag", t.dragStdUnc(), AsFraction}},
		{"speed", true, deviation{speed: u.Speed}, InputUncertainty{"V", "speed", u.Speed, AsFraction}},
		{"air density", true, deviation{air: u.Air}, InputUncertainty{"ρ", "air", u.Air, AsFraction}},
	}
	if r.LeanCredit > 0 {
		all = append(all, input{"credit for the lift's forward lean", true, deviation{paid: payStdUnc}, InputUncertainty{"G", "", payStdUnc, AsFraction}})
	}
	zero, slope, top := 0.0, GivenLiftStdUnc, GivenLiftStdUnc
	if s := t.Wing.Section; s != nil {
		zero, slope, top = s.ZeroLiftStdUnc, s.SlopeStdUnc, s.MaxLiftStdUnc
	}
	liftKey := ""
	if lift, ok := u.SectionLift.Get(); ok {
		slope, top, liftKey = lift, lift, "section_lift"
	}
	if s := t.Car.TrackFit.Downforce; s.Known() { // measured: what the section alone left open is told
		slope, top = s.StdUnc/s.Factor, math.Hypot(s.StdUnc/s.Factor, top/2)
	}
	if zero > 0 {
		all = append(all, input{"section's zero-lift angle", true, deviation{zero: zero}, InputUncertainty{"CL", "", zero, InRadians}})
	}
	return append(all,
		input{"section's lift slope", true, deviation{slope: slope}, InputUncertainty{"CL", liftKey, slope, AsFraction}},
		input{"section's maximum CL", true, deviation{top: top}, InputUncertainty{"CL", liftKey, top, AsFraction}})
}

// dragStdUnc is the standard uncertainty of the drag, as a fraction: what was fitted
// on track, where it was.
func (t *Table) dragStdUnc() float64 {
	if s := t.Car.TrackFit.Drag; s.Known() {
		return s.StdUnc / s.Factor
	}
	return t.Car.Uncertainty.SectionDrag
}

// Contribution is what one source adds to the uncertainty of a row's figures, signed as
// the figures move when the input is larger: rad, N, shares as fractions. Combined, it is
// one standard uncertainty of each figure, all positive.
type Contribution struct {
	What      string
	Input     InputUncertainty
	Shared    bool    // all settings of the car are off by the same
	Angle     float64 // of the angle to the ground
	CL        float64
	Downforce float64
	Drag      float64
	Change    Axles
	Share     float64
	Shift     float64
}

// unknown is the contribution of what cannot be told, but for the angle.
func unknown(angle float64) Contribution {
	nan := math.NaN()
	return Contribution{Angle: angle, CL: nan, Downforce: nan, Drag: nan, Change: Axles{nan, nan}, Share: nan, Shift: nan}
}

// Roughness is why an uncertainty is only a rough guide.
type Roughness int

// The causes.
const (
	NotRough  Roughness = iota
	PastStall           // the flow is not steady
	NearStall           // the stall margin is less than 1.5 times as large as the angle of attack is uncertain
)

// Budget is the uncertainty budget of a row: one standard uncertainty of each of its
// figures, and what it is made of.
type Budget struct {
	Contribution                // combined
	Parts        []Contribution // largest effect on downforce first
	Rough        Roughness
	Attack       float64 // rad, one standard uncertainty of the angle of attack
}

// Budget works out the uncertainty budget of a row by first-order propagation: each input
// is moved by its standard uncertainty either way and the half differences are added as
// squares. It is NaN, but for the angle, where the row has no figures.
// Source: JCGM 100:2008, "Guide to the expression of uncertainty in measurement",
// sec. 5.1, with the partial derivatives as differences (5.1.3, note 2).
func (t *Table) Budget(r *Row) Budget {
	if math.IsNaN(r.Downforce) {
		return Budget{Contribution: unknown(math.Hypot(r.Play/math.Sqrt(3), t.Car.Uncertainty.AngleReading))}
	}
	var b Budget
	base := t.outcome(r.Position, deviation{})
	for _, in := range t.inputs(r) {
		up, down := t.outcome(r.Position, in.by), t.outcome(r.Position, in.by.times(-1))
		half := 0.5
		switch { // at the end of the data only one side can be told
		case math.IsNaN(up.Downforce):
			up, half = base, 1
		case math.IsNaN(down.Downforce):
			down, half = base, 1
		}
		b.Attack = math.Hypot(b.Attack, in.by.turn+in.by.flowAngle+in.by.zero)
		b.Parts = append(b.Parts, Contribution{
			What: in.what, Input: in.of, Shared: in.shared, Angle: in.by.turn,
			CL:        half * (up.CL - down.CL),
			Downforce: half * (up.Downforce - down.Downforce),
			Drag:      half * (up.Drag - down.Drag),
			Change:    Axles{half * (up.Change.Front - down.Change.Front), half * (up.Change.Rear - down.Change.Rear)},
			Share:     half * (up.Share - down.Share),
			Shift:     half * (up.Shift - down.Shift),
		})
	}
	b.Contribution = combined(b.Parts)
	slices.SortStableFunc(b.Parts, func(x, y Contribution) int {
		return cmp.Compare(math.Abs(y.Downforce), math.Abs(x.Downforce))
	})
	switch {
	case r.Stalled:
		b.Rough = PastStall
	case r.StallMargin < 1.5*b.Attack:
		b.Rough = NearStall
	}
	return b
}

func (d deviation) times(f float64) deviation {
	return deviation{d.turn * f, d.flowAngle * f, d.zero * f, d.ratio * f, d.slope * f, d.top * f, d.drag * f, d.speed * f, d.air * f,
		d.paid * f}
}

// combined adds contributions as squares.
func combined(parts []Contribution) Contribution {
	var s Contribution
	add := func(sum *float64, x float64) { *sum = math.Hypot(*sum, x) }
	for _, p := range parts {
		add(&s.Angle, p.Angle)
		add(&s.CL, p.CL)
		add(&s.Downforce, p.Downforce)
		add(&s.Drag, p.Drag)
		add(&s.Change.Front, p.Change.Front)
		add(&s.Change.Rear, p.Change.Rear)
		add(&s.Share, p.Share)
		add(&s.Shift, p.Shift)
	}
	return s
}

// less is the difference of two contributions of one source.
func (p Contribution) less(q Contribution) Contribution {
	return Contribution{
		Angle: p.Angle - q.Angle, CL: p.CL - q.CL, Downforce: p.Downforce - q.Downforce, Drag: p.Drag - q.Drag,
		Change: Axles{p.Change.Front - q.Change.Front, p.Change.Rear - q.Change.Rear},
		Share:  p.Share - q.Share, Shift: p.Shift - q.Shift,
	}
}

// DifferenceStdUnc returns one standard uncertainty of the differences of two rows'
// figures: what both are off by alike cancels.
func DifferenceStdUnc(a, b Budget) Contribution {
	parts := DifferenceParts(a, b)
	if len(parts) == 0 {
		return unknown(math.NaN())
	}
	return combined(parts)
}

// DifferenceParts lists what the uncertainty of the differences of two rows' figures is made of: of what both are
// off by alike the difference, of what each has of its own both.
func DifferenceParts(a, b Budget) []Contribution {
	var parts []Contribution
	for _, p := range a.Parts {
		for _, q := range b.Parts {
			switch {
			case p.What != q.What:
			case p.Shared:
				d := p.less(q)
				d.What, d.Input, d.Shared = p.What, p.Input, true
				parts = append(parts, d)
			default:
				parts = append(parts, p, q)
			}
		}
	}
	return parts
}

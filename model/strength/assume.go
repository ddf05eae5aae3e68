package strength

import (
	"fmt"
	"math"
	"slices"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/given"
)

// Defaults where the file leaves the loads open.
const (
	// Source: EN 1990:2002 Table A1.2(B), the partial factor of a variable action.
	defaultFactor = 1.5
	// Common practice, no source.
	defaultUprights  = 2
	defaultVertical  = 3.0            // g
	defaultCornering = 1.5            // g
	defaultYaw       = 10 * plane.Deg // rad
	defaultBraking   = 1.2            // g
	defaultUneven    = 0.6            // of the wing's loads on one upright of two
	defaultPush      = 200.0          // N of a hand
)

// assume takes the loads' inputs and lists those that nobody gave.
func (f *Analysis) assume() {
	m := f.Car.Mounting
	for _, v := range []struct {
		value     *float64
		given     given.Number
		otherwise float64
		assumed   model.Assumption
	}{
		{&f.LoadFactor, m.LoadFactor, defaultFactor, model.Assumption{What: "load factor", Value: "1.5 on all loads", Note: "EN 1990 Table A1.2(B), as for wind; set by load_factor"}},
		{&f.Uprights, m.Uprights, defaultUprights, model.Assumption{What: "uprights that share the load", Value: "2, equally", Note: "set by uprights"}},
		{&f.vertical, m.Vertical, defaultVertical, model.Assumption{What: "vertical acceleration", Value: "3 g, including own weight", Note: "kerbs; common practice, no source; set by vertical"}},
		{&f.cornering, m.Cornering, defaultCornering, model.Assumption{What: "cornering", Value: "1.5 g", Note: "common practice, no source; set by cornering"}},
		{&f.braking, m.Braking, defaultBraking, model.Assumption{What: "braking", Value: "1.2 g", Note: "common practice, no source; set by braking"}},
		{&f.uneven, m.Uneven, defaultUneven, model.Assumption{What: "the most that one upright takes of the wing's loads", Value: "60 %", Note: "play in the joints; common practice, no source; set by uneven"}},
		{&f.push, m.Push, defaultPush, model.Assumption{What: "a hand on the wing", Value: "200 N down at its rear edge, or sideways", Note: "common practice, no source; set by push and push_at"}},
		{&f.yaw, m.Yaw, defaultYaw, model.Assumption{What: "yaw of end plates and uprights to the air", Value: "10°", Note: "a slide; common practice, no source; set by yaw"}},
	} {
		if *v.value = v.given.Or(v.otherwise); !v.given.Known() {
			f.Assumed = append(f.Assumed, v.assumed)
		}
	}
	f.pushAt = m.PushAt.Or(f.Car.Wing.Chord)
	f.shares()
	f.pushes()
	f.Assumed = append(f.Assumed,
		model.Assumption{What: "the wing's centre of mass", Value: "the middle of the chord", Note: "moves a joint's moment by a little"},
		model.Assumption{What: "uprights sideways", Value: "free at the head",
			Note: "the wing ties them together, which helps and is not counted"},
		model.Assumption{What: "how the parts overlap", Value: "each on the outside of the one below", Note: "worst case for the bolts"})
	if lift, drag := f.unscaled(); lift > 1 || drag > 1 {
		f.Assumed = append(f.Assumed, model.Assumption{What: "forces of the wing for its loads",
			Value: fmt.Sprintf("lift %.2f and drag %.2f times those of the figures", lift, drag),
			Note:  "the larger of what is expected and what [claim] and [fit] say: a claim may be for a small angle, a fit be off"})
	}
	if !f.Car.Wing.Mass.Known() {
		f.missing("[wing] mass", "what the wing weighs is left out of all loads")
		f.open("wing", "mass not given")
	}
	if design, ok := f.Car.DesignSpeed.Get(); ok && f.Car.Speed > design {
		f.missing("[speed] design", "it is below [speed] chosen, where the loads are higher")
		f.open("[speed] design", "below the chosen speed")
	}
	if !f.Table.Wing.Curve.HasMoment() {
		f.missing("the wing's pitching moment, a column cm", "it is left out of all loads")
		f.open("wing", "pitching moment not given")
	}
}

// shares works out what part of the wing's loads the most heavily loaded upright bears: of two a half, of
// more by a beam on rigid supports. Where their places are not given they stand evenly from end to end of
// the wing, which loads the inner ones most.
func (f *Analysis) shares() {
	at, span := f.Car.Mounting.UprightAt, f.Car.Wing.Span
	if len(at) > 0 {
		f.Uprights = float64(len(at))
	}
	if f.Uprights <= 2 {
		f.Share = 1 / f.Uprights
		if len(at) != 2 {
			return
		}
	}
	if len(at) == 0 {
		n := int(f.Uprights)
		for i := range n {
			at = append(at, span*(float64(i)/float64(n-1)-0.5))
		}
		f.Assumed = append(f.Assumed, model.Assumption{What: "where the uprights stand across the wing", Value: "evenly from end to end",
			Note: "set by upright_at"})
	}
	f.Share = slices.Max(Shares(at, span))
	f.Assumed = append(f.Assumed, model.Assumption{What: "the share of the most heavily loaded upright", Value: fmt.Sprintf("%.0f %% of the wing's loads", 100*f.Share),
		Note: "an evenly loaded wing on rigid supports, three-moment theorem"})
}

// defaultTrack is where two uprights stand to either side of the wing's middle when nobody says, in spans.
// Common practice, no source.
const defaultTrack = 0.25

// closest is how near uprights may stand for what bears on one side to be shared as is taken here, in spans.
const closest = 0.25

// pushes works out what a push down on the wing's end brings onto the nearest upright, as on a beam on the two
// outermost; a single upright bears it with its lever.
func (f *Analysis) pushes() {
	span, at := f.Car.Wing.Span, f.Car.Mounting.UprightAt
	n := int(f.Uprights)
	switch {
	case n == 1:
		f.pushShare, f.pushRoll = 1, span/2
		if len(at) == 1 {
			f.pushRoll += math.Abs(at[0])
		}
		return
	case len(at) == 0 && n == 2:
		at = []float64{-defaultTrack * span, defaultTrack * span}
		f.Assumed = append(f.Assumed, model.Assumption{What: "where the two uprights stand", Value: "a quarter of the span to either side", Note: "for a push on the wing's end; set by upright_at"})
	case len(at) == 0:
		f.pushShare = 1
		return
	}
	first, last := at[0], at[len(at)-1]
	f.pushShare = max(1, (span/2-first)/(last-first), (last+span/2)/(last-first))
	if last-first < closest*span {
		f.missing("[strength] upright_at", "uprights this close leave most of the wing overhanging: what bears on one side of it alone is not checked")
		f.open("uprights", "they stand so close that the wing may roll on them")
	}
}

func (f *Analysis) missing(what, without string) {
	f.Missing = append(f.Missing, what+": "+without)
}

// open notes what no setting's verdict can rest on.
func (f *Analysis) open(what, why string) {
	f.Open = append(f.Open, Open{what, why})
}

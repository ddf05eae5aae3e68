package drill

import (
	"math"
	"math/rand/v2"

	"stanchion/holes"
	"stanchion/model"
)

// DrillError is what holes that are not exactly where they should be do to a setting.
type DrillError struct {
	Misfit      float64 // probability that its bolts do not go in after all, on one side or another
	AngleStdUnc float64 // rad, standard uncertainty of the angle on one side
	LeftRight   float64 // rad, of the difference between the left and the right side
}

// drillTrials is how many times holes are moved at random for fits of more than
// two bolts.
const drillTrials = 400

// Errors works out what a standard uncertainty of hole centres, in mm along each
// axis, does to a setting. For two bolts both spacings are off by √2 σ along
// the span, so that their difference is normal with 2 σ; for more, holes are
// moved at random (always the same way, so that the answer repeats).
func Errors(t *model.Table, r *model.Row, sigma float64) DrillError {
	fine, turn := 1.0, 0.0
	for j, f := range r.Fits {
		lower, upper := t.Car.Parts[j].Part, t.Car.Parts[j+1].Part
		fine *= 1 - misfit(lower, upper, t.Car.Joints[j].Joint, f, sigma)
		turn = math.Hypot(turn, model.HolesTurn(t.Car, j, f.Pairs, sigma))
	}
	return DrillError{1 - math.Pow(fine, t.Car.Mounting.Uprights.Or(2)), turn, math.Sqrt2 * turn}
}

// misfit returns the probability that one fit does not go in on one side.
func misfit(lower, upper holes.Part, joint holes.Joint, f *holes.Fit, sigma float64) float64 {
	if sigma <= 0 {
		return 0
	}
	if len(f.Pairs) == 2 {
		v := holes.Why(lower, upper, joint, f.Pairs)
		clearance := v.Slack + math.Abs(v.Lower-v.Upper)
		off := v.Lower - v.Upper
		// Normal with mean off and deviation 2σ, outside of ±clearance.
		cdf := func(x float64) float64 { return 0.5 * math.Erfc(-x/(2*sigma)/math.Sqrt2) }
		return 1 - (cdf(clearance-off) - cdf(-clearance-off))
	}
	random := rand.New(rand.NewPCG(1, 2)).NormFloat64 // always the same row of numbers
	bad := 0
	for range drillTrials {
		l, u := shaken(lower, f, sigma, random, true), shaken(upper, f, sigma, random, false)
		pairs := make([]holes.Pair, len(f.Pairs))
		for i := range pairs {
			pairs[i] = holes.Pair{Lower: i, Upper: i}
		}
		if v := holes.Why(l, u, joint, pairs); v.Reason == holes.Spacing || v.Reason == holes.Crowded {
			bad++
		}
	}
	return float64(bad) / drillTrials
}

// shaken returns the holes of a fit's pairs in one part, moved at random.
func shaken(p holes.Part, f *holes.Fit, sigma float64, random func() float64, lower bool) holes.Part {
	out := holes.Part{Name: p.Name}
	for _, q := range f.Pairs {
		k := q.Upper
		if lower {
			k = q.Lower
		}
		h := p.Holes[k]
		h.Slot = ""
		h.X += sigma * random()
		h.Z += sigma * random()
		out.Holes = append(out.Holes, h)
	}
	return out
}

package model

import "math"

// fittedInputs puts what a fit on track leaves open in the place of what the file says of the same
// unknowns. The covariance is C = L·Lᵀ: each column of L is an input of its own, one standard uncertainty
// that moves its unknown and, with it, those after it, so that what is known of sums is kept, and what
// two settings share cancels in their difference. With a diagonal covariance they are those of the file.
// Source: JCGM 102:2011, 5 and annex D (covariance matrices and their factors).
func (t *Table) fittedInputs(r *Row, file []input, j *Estimate) []input {
	var all []input
	byUnknown := map[Unknown]input{}
	for _, in := range file {
		if in.unknown != NoUnknown && j.index(in.unknown) >= 0 {
			byUnknown[in.unknown] = in
		} else {
			all = append(all, in)
		}
	}
	units := make([]deviation, len(j.Of))
	for i, u := range j.Of {
		if _, here := byUnknown[u]; here || u != BodyPartOff && u != WakeFactor {
			units[i] = t.unit(u, r.Flow)
		}
	}
	for k, u := range j.Of {
		in := byUnknown[u]
		in.what, in.same, in.unknown = unknownNames[u].what, unknownNames[u].what, u
		in.of.Key = ""
		before := in.by
		in.by = deviation{}
		alone := true
		for i := k; i < len(j.Of); i++ {
			if x := j.factor.At(i, k); x != 0 {
				in.by.add(&units[i], x)
				alone = alone && (i == k || units[i] == deviation{})
			}
		}
		if in.by == (deviation{}) {
			continue
		}
		if same := alone && in.by.near(before); !same {
			in.rectangular = false
			in.what += FittedMark
			std, _ := j.StdUnc(u)
			in.of.StdUnc, in.of.Unit = std, u.budgetUnit()
		}
		all = append(all, in)
	}
	return all
}

// FittedMark stands behind the name of a source that a fit on track has changed.
const FittedMark = ", fitted"

// near reports whether two deviations are the same but for rounding.
func (d deviation) near(e deviation) bool {
	d.add(&e, -1)
	const little = 1e-9
	largest := 0.0
	for _, x := range []float64{d.turn, d.flowAngle, d.zero, d.ratio, d.slope, d.top, d.stall, d.drag, d.speed, d.air, d.paid, d.deck, d.struts, d.wake, d.frontOwn, d.rearOwn, d.stalledLift, d.stalledDrag} {
		largest = max(largest, math.Abs(x))
	}
	return largest < little
}

// budgetUnit is what the budget gives an unknown's uncertainty in.
func (u Unknown) budgetUnit() InputUnit {
	switch {
	case u.IsAngle():
		return InRadians
	case u == FrontOwnArea, u == RearOwnArea, u == OwnDragArea:
		return InSquareMetres
	case u == SpeedRatioOff:
		return InItsOwn
	}
	return AsFraction
}

package model

import (
	"fmt"
	"math"

	"stanchion/aero"
	"stanchion/model/given"
)

// Claim is a maker's single figure: so much downforce, at some speed or at none.
type Claim struct {
	Downforce given.Number // N; not given for no claim
	Speed     given.Number // m/s; not given when the maker does not say
}

// ClaimAt works out what the claim needs at a speed in m/s, of a clean wing, which is what a maker
// measures.
func (c *Car) ClaimAt(v float64) (ClaimRow, error) {
	clean := *c
	clean.Wing.Surface = aero.Clean
	w, err := clean.SolveUnscaled(v)
	if err != nil {
		return ClaimRow{}, err
	}
	if math.IsNaN(w.MaxLift) {
		return ClaimRow{}, fmt.Errorf("the maximum CL of the wing is not known (%s), so no claim can be judged", w.From)
	}
	band := GivenLiftStdUnc
	if w.Section != nil {
		band = math.Hypot(w.Section.MaxLiftStdUnc, w.GurneyTop)
	}
	q := aero.DynamicPressure(c.Air.Density(), v)
	r := ClaimRow{Speed: v, Needed: c.Claim.Downforce.Value() / (q * c.Wing.Area()), MaxCL: w.MaxLift, StdUnc: w.MaxLift * band}
	return r, nil
}

// ClaimRow is what a claim would need at one speed.
type ClaimRow struct {
	Speed  float64 // m/s
	Needed float64 // CL of the wing
	MaxCL  float64 // of this section, span and end plates there
	StdUnc float64 // of MaxCL
}

// What a claim may need, in terms of the wing's maximum lift.
const (
	// likelyLow is how far below the largest lift a maker's figure may lie and
	// still be taken as meant for the steepest useful angle, as a fraction.
	// Common practice, no source.
	likelyLow     = 0.8
	likelyTimes   = 1.0 // standard uncertainties above the maximum up to which it is likely
	credibleTimes = 2.0 // up to which it is possible
)

// Likely returns the CL between which a claim is likely: from a little below the maximum to one
// standard uncertainty above it.
func (r ClaimRow) Likely() (from, to float64) {
	return likelyLow * r.MaxCL, r.MaxCL + likelyTimes*r.StdUnc
}

// Most returns the CL above which a claim is not credible: two standard uncertainties above the
// maximum.
func (r ClaimRow) Most() float64 { return r.MaxCL + credibleTimes*r.StdUnc }

// Credible reports whether the claim needs no more lift than the wing can make, by two
// standard uncertainties.
func (r ClaimRow) Credible() bool { return r.Needed <= r.Most() }

// ClaimVerdict is what is to be thought of a claim at one speed.
type ClaimVerdict int

// The verdicts.
const (
	ClaimNotCredible ClaimVerdict = iota // more than the wing can make
	ClaimAbove                           // possible, but above what is likely
	ClaimLikely                          // about the most that the wing makes
	ClaimBelow                           // possible: the wing makes more than that
)

// Key names the verdict in data: both ways of being possible are one.
func (v ClaimVerdict) Key() string {
	switch v {
	case ClaimNotCredible:
		return "not_credible"
	case ClaimLikely:
		return "likely"
	}
	return "possible"
}

// Verdict says what is to be thought of the claim at this speed.
func (r ClaimRow) Verdict() ClaimVerdict {
	switch from, to := r.Likely(); {
	case !r.Credible():
		return ClaimNotCredible
	case r.Needed > to:
		return ClaimAbove
	case r.Needed >= from:
		return ClaimLikely
	}
	return ClaimBelow
}

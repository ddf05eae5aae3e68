package model

import (
	"fmt"
	"math"

	"stanchion/aero"
	"stanchion/model/units"
)

// Claim is a maker's single figure: so much downforce, at some speed or at none.
type Claim struct {
	Downforce float64 // N; NaN for no claim
	Speed     float64 // m/s; NaN when the maker does not say
}

// ClaimRow is what a claim would need at one speed.
type ClaimRow struct {
	Speed    float64 // m/s
	Needed   float64 // CL of the wing
	Most     float64 // largest CL of this section, span and end plates there
	Band     float64 // of Most
	Credible bool
	Why      string
}

// ClaimAnswer is what can be said of a claim.
type ClaimAnswer struct {
	Rows           []ClaimRow
	Likely         [2]float64 // m/s, the range of speeds that fits best; NaN for none
	ImpliedCL      float64    // with the claim's own speed; else NaN
	ImpliedFactor  float64    // ImpliedCL over the largest lift expected there
	ImpliedBelieve bool       // whether it is credible
}

// likelyLow is how far below the largest lift a maker's figure may lie and
// still be taken as meant for the steepest useful angle, as a fraction.
// Common practice, no source.
const likelyLow = 0.8

// CheckClaim works out at which speeds the claimed downforce is physically credible:
// where it needs no more lift than the wing can make, by two standard
// uncertainties. The flow is undisturbed, as makers quote. Speeds in m/s.
func (c *Car) CheckClaim(speeds []float64) (ClaimAnswer, error) {
	a := ClaimAnswer{Likely: [2]float64{math.NaN(), math.NaN()}, ImpliedCL: math.NaN(), ImpliedFactor: math.NaN()}
	for _, v := range speeds {
		r, err := c.claimAt(v)
		if err != nil {
			return a, err
		}
		a.Rows = append(a.Rows, r)
	}
	var err error
	if a.Likely, err = c.likely(speeds[0], speeds[len(speeds)-1]); err != nil {
		return a, err
	}
	if !math.IsNaN(c.Claim.Speed) {
		r, err := c.claimAt(c.Claim.Speed)
		if err != nil {
			return a, err
		}
		a.ImpliedCL, a.ImpliedFactor, a.ImpliedBelieve = r.Needed, r.Needed/r.Most, r.Credible
	}
	return a, nil
}

// likely returns the speeds, m/s, between which the claim needs a little more
// to somewhat less than the largest lift; NaN when that lies outside of the
// range looked at.
func (c *Car) likely(least, most float64) ([2]float64, error) {
	var ends [2]float64
	for i := range ends {
		v := (least + most) / 2
		for range 4 { // the largest lift hardly changes with the speed
			r, err := c.claimAt(v)
			if err != nil {
				return ends, err
			}
			lift := [2]float64{r.Most + r.Band, likelyLow * r.Most}[i]
			v = math.Sqrt(c.Claim.Downforce / (aero.DynamicPressure(c.Air.Density(), 1) * c.Wing.Area() * lift))
			v = min(max(v, least/2), 2*most) // keep within what the section's data serve
		}
		ends[i] = v
	}
	if ends[1] < least || ends[0] > most {
		return [2]float64{math.NaN(), math.NaN()}, nil
	}
	return ends, nil
}

func (c *Car) claimAt(v float64) (ClaimRow, error) {
	w, err := c.solveUnscaled(v)
	if err != nil {
		return ClaimRow{}, err
	}
	if math.IsNaN(w.MaxLift) {
		return ClaimRow{}, fmt.Errorf("the largest lift of the wing is not known (%s), so no claim can be judged", w.From)
	}
	band := givenBand
	if w.Section != nil {
		band = w.Section.MaxLiftBand
	}
	q := aero.DynamicPressure(c.Air.Density(), v)
	r := ClaimRow{Speed: v, Needed: c.Claim.Downforce / (q * c.Wing.Area()), Most: w.MaxLift, Band: w.MaxLift * band}
	r.Credible = r.Needed <= r.Most+2*r.Band
	switch {
	case !r.Credible:
		r.Why = fmt.Sprintf("needs CL %.2f, the wing makes at most %.2f ± %.2f", r.Needed, r.Most, r.Band)
	case r.Needed < likelyLow*r.Most:
		r.Why = fmt.Sprintf("needs CL %.2f, well below the most it makes, %.2f", r.Needed, r.Most)
	case r.Needed > r.Most+r.Band:
		r.Why = fmt.Sprintf("needs CL %.2f, more than is likely, %.2f ± %.2f", r.Needed, r.Most, r.Band)
	default:
		r.Why = fmt.Sprintf("needs CL %.2f, about the most it makes, %.2f ± %.2f", r.Needed, r.Most, r.Band)
	}
	return r, nil
}

// scaled returns a wing's curve with its lift and its drag scaled. Induced drag
// goes with the square of the lift.
func (c *Car) scaled(curve aero.Curve, lift, drag float64) (aero.Curve, error) {
	n, at := curve.Points()
	alpha, cl, cd, cm := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range n {
		a, k := at(i)
		induced := min(k.CL*k.CL/(math.Pi*c.Wing.effectiveAspect()), 0.9*k.CD)
		alpha[i], cl[i], cd[i], cm[i] = a, k.CL*lift, (k.CD+(lift*lift-1)*induced)*drag, k.CM*lift
	}
	return aero.NewCurve(alpha, cl, cd, cm)
}

// scaleToClaim scales a wing's curve so that its largest lift is the one that
// the maker's figure implies, as far as that is credible; induced drag goes with
// the square.
func (c *Car) scaleToClaim(w *WingCurve) {
	if math.IsNaN(c.Claim.Speed) || math.IsNaN(c.Claim.Downforce) || c.Wing.Table != nil {
		return
	}
	r, err := c.claimAt(c.Claim.Speed)
	if err != nil {
		w.Notes = append(w.Notes, units.Say("%v", err))
		return
	}
	if !r.Credible {
		w.Notes = append(w.Notes, units.Say("the maker's %s at %s is not used: it %s", units.Newtons(c.Claim.Downforce), units.MetresPerSecond(c.Claim.Speed), r.Why))
		return
	}
	f := r.Needed / r.Most
	curve, err := c.scaled(w.Curve, f, 1)
	if err != nil {
		w.Notes = append(w.Notes, units.Say("%v", err))
		return
	}
	w.Curve = curve
	w.From += fmt.Sprintf("; scaled by %.2f on the maker's word", f)
	w.Notes = append(w.Notes, units.Say("lift is scaled by %.2f to the maker's %s at %s", f, units.Newtons(c.Claim.Downforce), units.MetresPerSecond(c.Claim.Speed)))
}

package calibrate

import (
	"math"

	"stanchion/aero"
	"stanchion/model"
)

// ClaimAnswer is what can be said of a claim.
type ClaimAnswer struct {
	Rows            []model.ClaimRow
	Likely          [2]float64      // m/s, the range of speeds where it is likely; NaN for none
	Implied         *model.ClaimRow // at the claim's own speed; nil without one
	ImpliedCL       float64         // with the claim's own speed; else NaN
	ImpliedFactor   float64         // ImpliedCL over the largest lift expected there
	ImpliedCredible bool            // whether the wing can make it
}

// LikelyRange returns the speeds, m/s, between which the claim is likely; not ok where it is so at none
// that was looked at.
func (a ClaimAnswer) LikelyRange() (from, to float64, ok bool) {
	return a.Likely[0], a.Likely[1], !math.IsNaN(a.Likely[0])
}

// Own returns what the claim needs at its own speed; not ok without one.
func (a ClaimAnswer) Own() (model.ClaimRow, bool) {
	if a.Implied == nil {
		return model.ClaimRow{}, false
	}
	return *a.Implied, true
}

// Credible reports whether the claim is credible at any speed looked at, its own included.
func (a ClaimAnswer) Credible() bool {
	for _, r := range a.Rows {
		if r.Credible() {
			return true
		}
	}
	return a.ImpliedCredible
}

// CheckClaim works out at which speeds the claimed downforce is physically credible:
// where it needs no more lift than the wing can make, by two standard
// uncertainties. The flow is undisturbed, as makers quote. Speeds in m/s.
func CheckClaim(c *model.Car, speeds []float64) (ClaimAnswer, error) {
	a := ClaimAnswer{Likely: [2]float64{math.NaN(), math.NaN()}, ImpliedCL: math.NaN(), ImpliedFactor: math.NaN()}
	for _, v := range speeds {
		r, err := c.ClaimAt(v)
		if err != nil {
			return a, err
		}
		a.Rows = append(a.Rows, r)
	}
	var err error
	if a.Likely, err = likely(c, speeds[0], speeds[len(speeds)-1]); err != nil {
		return a, err
	}
	if speed, ok := c.Claim.Speed.Get(); ok {
		r, err := c.ClaimAt(speed)
		if err != nil {
			return a, err
		}
		a.Implied = &r
		a.ImpliedCL, a.ImpliedFactor, a.ImpliedCredible = r.Needed, r.Needed/r.MaxCL, r.Credible()
	}
	return a, nil
}

// likely returns the speeds, m/s, between which the claim needs a little more
// to somewhat less than the largest lift; NaN when that lies outside of the
// range looked at.
func likely(c *model.Car, least, most float64) ([2]float64, error) {
	var ends [2]float64
	for i := range ends {
		v := (least + most) / 2
		for range 4 { // the largest lift hardly changes with the speed
			r, err := c.ClaimAt(v)
			if err != nil {
				return ends, err
			}
			low, high := r.Likely()
			lift := [2]float64{high, low}[i]
			v = math.Sqrt(c.Claim.Downforce.Value() / (aero.DynamicPressure(c.Air.Density(), 1) * c.Wing.Area() * lift))
			v = min(max(v, least/2), 2*most) // keep within what the section's data serve
		}
		ends[i] = v
	}
	if ends[1] < least || ends[0] > most {
		return [2]float64{math.NaN(), math.NaN()}, nil
	}
	return ends, nil
}

package calibrate

import (
	"math"

	"stanchion/aero"
	"stanchion/model"
	"stanchion/model/speeds"
)

// ClaimAnswer is what can be said of a claim.
type ClaimAnswer struct {
	Rows            []model.ClaimRow
	Likely          [2]float64      // m/s, the range of speeds where it is likely; NaN for none
	From            float64         // m/s, below which it is not credible
	Top             Top             // how fast the car goes
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

// TopFrom is what a car's top speed is known from.
type TopFrom int

// What it is known from, the best first.
const (
	TopByPower  TopFrom = iota // power and drag area
	TopByDesign                // the design speed of strength, which a car is not to go faster than
	TopAsUsual                 // nothing in the car file
)

// usualTop is how fast cars on track days go at most, m/s: 280 km/h. Common practice, no source.
const usualTop = 280 / 3.6

// Top is how fast the car goes without the wing, which is more than with it.
type Top struct {
	Speed, StdUnc float64 // m/s; no uncertainty but of TopByPower
	By            TopFrom
}

// TopOf returns the top speed of a car. By power and drag area the uncertainty is a third of theirs, as the
// speed goes with their cube root.
func TopOf(c *model.Car) Top {
	if v, ok := speeds.BareTopSpeed(c); ok {
		return Top{v, v * math.Hypot(c.Uncertainty.Power, c.Uncertainty.DragArea) / 3, TopByPower}
	}
	if v, ok := c.DesignSpeed.Get(); ok {
		return Top{v, 0, TopByDesign}
	}
	return Top{usualTop, 0, TopAsUsual}
}

// Below reports whether the car does not reach a speed in m/s, by more than the uncertainty of its top speed.
func (t Top) Below(v float64) bool { return v > t.Speed+t.StdUnc }

// CheckClaim works out at which speeds the claimed downforce is physically credible:
// where it needs no more lift than the wing can make, by two standard
// uncertainties. The flow is undisturbed, as makers quote. Speeds in m/s.
func CheckClaim(c *model.Car, at []float64) (ClaimAnswer, error) {
	a := ClaimAnswer{Top: TopOf(c), From: math.NaN(), Likely: [2]float64{math.NaN(), math.NaN()}, ImpliedCL: math.NaN(), ImpliedFactor: math.NaN()}
	for _, v := range at {
		r, err := c.ClaimAt(v)
		if err != nil {
			return a, err
		}
		a.Rows = append(a.Rows, r)
	}
	var err error
	least, most := at[0], at[len(at)-1]
	if a.Likely, err = likely(c, least, most); err != nil {
		return a, err
	}
	if a.From, err = neededAt(c, least, most, model.ClaimRow.Most); err != nil {
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
		v, err := neededAt(c, least, most, func(r model.ClaimRow) float64 {
			low, high := r.Likely()
			return [2]float64{high, low}[i]
		})
		if err != nil {
			return ends, err
		}
		ends[i] = v
	}
	if ends[1] < least || ends[0] > most {
		return [2]float64{math.NaN(), math.NaN()}, nil
	}
	return ends, nil
}

// neededAt returns the speed, m/s, at which the claim needs just so much lift, from half the least to twice the
// most of a range.
func neededAt(c *model.Car, least, most float64, lift func(model.ClaimRow) float64) (float64, error) {
	v := (least + most) / 2
	for range 4 { // the largest lift hardly changes with the speed
		r, err := c.ClaimAt(v)
		if err != nil {
			return v, err
		}
		v = math.Sqrt(c.Claim.Downforce.Value() / (aero.DynamicPressure(c.Air.Density(), 1) * c.Wing.Area() * lift(r)))
		v = min(max(v, least/2), 2*most) // keep within what the section's data serve
	}
	return v, nil
}

package model

import (
	"fmt"
	"math"

	"stanchion/aero"
	"stanchion/model/units"
)

// Scale is a factor fitted to measurements, with its standard uncertainty; NaN
// where nothing tells it.
type Scale struct{ Factor, StdUnc float64 }

// Known reports whether the scale was fitted.
func (s Scale) Known() bool { return !math.IsNaN(s.Factor) }

// NoScale is a scale that nothing tells.
func NoScale() Scale { return Scale{math.NaN(), math.NaN()} }

// TrackFit is what the person took over from measurements on track into the car file: scales that older
// files have, which take the place of what body and uprights do to the lift, or what all readings together
// tell of the unknowns.
type TrackFit struct {
	Downforce, Drag Scale
	Estimate        *Estimate // nil for none
	// Inputs is a digest of what the car file has besides a fit that a fit depends on; "" for a car of no
	// file.
	Inputs string

	before *unfitted // what a joint fit has changed in the car
}

// NoFit is what a car has to which nothing was fitted.
func NoFit() TrackFit { return TrackFit{Downforce: NoScale(), Drag: NoScale()} }

// Known reports whether anything was fitted.
func (f TrackFit) Known() bool { return f.Downforce.Known() || f.Drag.Known() || f.Estimate != nil }

// Tells reports whether readings on track tell of an unknown.
func (f TrackFit) Tells(u Unknown) bool { return f.Estimate.index(u) >= 0 }

// scaleToFit scales a wing's curve by what was fitted, and says so.
func (c *Car) scaleToFit(w *WingCurve) error {
	if c.TrackFit.Estimate != nil {
		return c.curveToFit(w)
	}
	if !c.TrackFit.Downforce.Known() && !c.TrackFit.Drag.Known() {
		return nil
	}
	down, drag := 1.0, 1.0
	text := ""
	if s := c.TrackFit.Downforce; s.Known() {
		down = s.Factor
		text += fmt.Sprintf(" downforce × %.2f ± %.2f", s.Factor, s.StdUnc)
	}
	if s := c.TrackFit.Drag; s.Known() {
		drag = s.Factor
		text += fmt.Sprintf(" drag × %.2f ± %.2f", s.Factor, s.StdUnc)
	}
	curve, err := c.scaled(w.Curve, down, drag)
	if err != nil {
		return err
	}
	w.Curve, w.LiftScale, w.DragScale = curve, w.LiftScale*down, w.DragScale*drag
	w.From += "; FITTED to the track:" + text
	return nil
}

// scaled returns a wing's curve with its lift and its drag scaled. Induced drag
// goes with the square of the lift.
func (c *Car) scaled(curve aero.Curve, lift, drag float64) (aero.Curve, error) {
	var alpha, cl, cd, cm []float64
	for a, k := range curve.Points() {
		induced := min(k.CL*k.CL/(math.Pi*c.Wing.effectiveAspect()), 0.9*k.CD)
		alpha, cl = append(alpha, a), append(cl, k.CL*lift)
		cd, cm = append(cd, (k.CD+(lift*lift-1)*induced)*drag), append(cm, k.CM*lift)
	}
	return aero.NewCurve(alpha, cl, cd, cm)
}

// scaleToClaim scales a wing's curve so that its largest lift is the one that the maker's figure implies,
// where that is likely; induced drag goes with the square. One that is only possible is further off than
// what is expected is uncertain by, as of a small angle or another wing: to scale to it would shrink the
// figures and their ± alike. It changes nothing but loads, where it is above.
// What readings on track told together is not multiplied by it either.
func (c *Car) scaleToClaim(w *WingCurve) {
	if !c.Claim.Speed.Known() || !c.Claim.Downforce.Known() || c.Wing.Table != nil {
		return
	}
	r, err := c.ClaimAt(c.Claim.Speed.Value())
	if err != nil {
		w.Notes = append(w.Notes, units.Say("%v", err))
		return
	}
	f := r.Needed / r.MaxCL
	if c.TrackFit.Estimate != nil {
		if r.Verdict() != ClaimNotCredible {
			w.ClaimedMore = max(1, f)
		}
		return
	}
	if v := r.Verdict(); v != ClaimLikely {
		why := map[ClaimVerdict]string{ClaimNotCredible: "not credible", ClaimAbove: "only possible, and taken for loads alone",
			ClaimBelow: "only possible: the wing makes more, and a maker may mean a smaller angle"}[v]
		w.Notes = append(w.Notes, units.Say("figures are not scaled to the maker's %s at %s: it needs CL %.2f, the wing's maximum is %.2f ± %.2f (%s)",
			units.Newtons(c.Claim.Downforce.Value()), units.MetresPerSecond(c.Claim.Speed.Value()), r.Needed, r.MaxCL, r.StdUnc, why))
		if v == ClaimAbove {
			w.ClaimedMore = f
		}
		return
	}
	curve, err := c.scaled(w.Curve, f, 1)
	if err != nil {
		w.Notes = append(w.Notes, units.Say("%v", err))
		return
	}
	w.Curve, w.LiftScale, w.ClaimScale = curve, f, f
	w.From += fmt.Sprintf("; lift scaled by %.2f to the maker's claim", f)
	w.Notes = append(w.Notes, units.Say("lift is scaled by %.2f to the maker's %s at %s", f, units.Newtons(c.Claim.Downforce.Value()),
		units.MetresPerSecond(c.Claim.Speed.Value())))
}

// ScaledToClaim reports whether the figures are scaled to what the maker claims.
func (t *Table) ScaledToClaim() bool { return t.Wing.ClaimScale > 0 && t.Wing.ClaimScale != 1 }

// Factors that a fit may have. Beyond them the measurement is about something
// else than the wing.
const (
	MinFit, MaxFit = 0.2, 3.0
	MaxFitStdUnc   = 1.0
)

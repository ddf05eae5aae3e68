package model

import (
	"fmt"

	"stanchion/aero"
	"stanchion/model/units"
)

// WingCurve is what the wing makes at any angle of attack, at one speed in one
// air, and how that is known.
type WingCurve struct {
	Curve    aero.Curve
	Reynolds float64
	Section  *aero.Section  // nil with a table of the whole wing
	From     string         // in words: where the figures come from
	Range    string         // in words: why there are none beyond the curve's ends
	Notes    []units.Phrase // what was corrected or assumed on the way
	Stall    float64        // rad, angle of attack of the largest lift; NaN when the data end before it
	MaxLift  float64        // CL there; NaN when not known
	ZeroLift float64        // rad, angle of attack without lift; NaN where the data do not reach it
	Slope    float64        // dCL/dα of the wing with its straight part, per rad
	// What lift and drag are scaled by, to the maker's claim and to what was fitted on track; 1
	// when they are not.
	LiftScale, DragScale float64
	ClaimScale           float64 // the part of LiftScale that is the maker's claim; 1 when there is none
	ClaimedMore          float64 // how many times the lift a maker's claim says that is possible, above and not used; else 1

	Worn       aero.Worn // what the surface leaves open
	GurneyZero float64   // rad, one standard uncertainty of the zero-lift angle by the Gurney flap
	GurneyTop  float64   // of the maximum lift by it, as a fraction
}

// SolveWing works out the wing's curve at a speed in m/s. With a table that is
// the table itself; otherwise the section is looked up or computed and a vortex
// lattice solved, which takes some hundredths of a second. The error says what
// is missing.
func (c *Car) SolveWing(speed float64) (WingCurve, error) {
	out, err := c.SolveUnscaled(speed)
	if err != nil {
		return out, err
	}
	c.scaleToClaim(&out)
	if err := c.scaleToFit(&out); err != nil {
		return out, err
	}
	out.Stall, out.MaxLift, _ = out.Curve.Stall()
	if c.Wing.Table == nil {
		out.Stall = out.Curve.PeakAngle()
	}
	if c.TrackFit.Estimate == nil { // else it has said both
		out.ZeroLift, out.Slope = out.Curve.Straight()
	}
	return out, nil
}

// SolveUnscaled is SolveWing without regard to what the maker claims.
func (c *Car) SolveUnscaled(speed float64) (WingCurve, error) {
	w := c.Wing
	out := WingCurve{Reynolds: c.Air.Reynolds(w.Chord*mm, speed), LiftScale: 1, DragScale: 1, ClaimScale: 1, ClaimedMore: 1}
	if w.Table != nil {
		out.Curve = *w.Table
		out.From = fmt.Sprintf("table of the whole wing, %s", w.Source)
		out.Range = "the table ends there"
	} else {
		section, err := w.section(out.Reynolds)
		if err != nil {
			return WingCurve{}, err
		}
		section = w.asRun(section, &out)
		out.Section = &section
		for _, n := range section.Notes {
			out.Notes = append(out.Notes, units.Say("%s", n))
		}
		out.From = fmt.Sprintf("%s: %s; vortex lattice for the wing", w.Source, section.Source)
		finite := aero.Wing{Planform: w.planform(), Section: section.Curve}
		if w.Polar == nil { // a curve of the person's is theirs past the stall, too
			finite.Thickness = w.thickness()
		}
		if w.Plate.Height > 0 {
			finite.Friction = skinFriction(c.Air.Reynolds(w.Plate.Length*mm, speed))
		}
		s, err := solved(finite)
		if err != nil {
			return WingCurve{}, err
		}
		out.Curve, out.Range = s.Curve, s.EndedHigh
	}
	out.Stall, out.MaxLift, _ = out.Curve.Stall()
	return out, nil
}

// section returns the section's behaviour: given, published, or computed from
// its shape. Published values lead, with the computed ones beside them.
func (w Wing) section(reynolds float64) (aero.Section, error) {
	if w.Polar != nil {
		s := aero.Section{Name: w.Source, Curve: *w.Polar, Reynolds: reynolds, Origin: aero.Given, Source: "the section's own curve, as given"}
		s.MaxAngle, s.MaxLift, _ = w.Polar.Stall()
		s.ZeroLift, s.Slope = w.Polar.Straight()
		s.SlopeStdUnc, s.MaxLiftStdUnc = GivenLiftStdUnc, GivenLiftStdUnc
		return s, nil
	}
	var computed *aero.Section
	var trouble error
	if w.Shape != nil {
		c, err := aero.SectionFromShape(w.Source, w.Shape, reynolds)
		if err == nil {
			w.Traced.widen(&c)
			computed = &c
		}
		trouble = err
	}
	published, ok := aero.Lookup(w.Section, reynolds)
	switch {
	case !ok && computed == nil && trouble != nil:
		return aero.Section{}, trouble
	case !ok && computed == nil:
		return aero.Section{}, fmt.Errorf("section %q: nothing is published here and no shape given: coordinates or a polar are needed",
			w.Section)
	case !ok:
		computed.Notes = append(computed.Notes,
			fmt.Sprintf("nothing is published here for this section: its maximum CL is computed, and known to ±%.0f %%", 100*computed.MaxLiftStdUnc))
		return *computed, nil
	}
	s, err := published.At(reynolds, computed)
	if err != nil {
		if computed == nil {
			return aero.Section{}, err
		}
		computed.Notes = append(computed.Notes, err.Error())
		return *computed, nil
	}
	if computed != nil {
		s.Beside = &computed.Summary
	}
	return s, nil
}

// asRun returns a smooth section as the wing is run: with its surface and its Gurney flap.
// A curve that the person brings is as it was measured, so that only a surface that they name
// counts.
func (w Wing) asRun(s aero.Section, out *WingCurve) aero.Section {
	if w.Polar == nil || w.SurfaceGiven {
		s = s.OnSurface(w.Surface)
		out.Worn = w.Surface.Wear()
	}
	if w.Loads {
		s = s.WithDrag(aero.MostRoughDrag)
	}
	if g := w.gurney(); g > 0 {
		_, unc := g.Lift()
		s = s.With(g)
		out.GurneyZero, out.GurneyTop = unc/s.Slope, g.MaxLiftStdUnc()/s.MaxLift
	}
	return s
}

// GivenLiftStdUnc is the standard uncertainty of lift in a curve that the person
// brings, as a fraction, when the file gives none.
// Common practice, no source.
const GivenLiftStdUnc = 0.05

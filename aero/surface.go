package aero

import (
	"fmt"
	"math"
)

// Surface is how clean a wing's surface is.
type Surface int

// The surfaces.
const (
	Used  Surface = iota // as a wing is after some laps: anywhere between the other two
	Clean                // polished, as published sections are measured
	Dirty                // flies, rubber and stone chips along the nose, as published roughness
)

func (s Surface) String() string { return [...]string{"used", "clean", "dirty"}[s] }

// ParseSurface reads "clean", "used" or "dirty".
func ParseSurface(text string) (Surface, error) {
	for _, s := range []Surface{Clean, Used, Dirty} {
		if s.String() == text {
			return s, nil
		}
	}
	return Used, fmt.Errorf("surface %q; use \"clean\", \"used\" or \"dirty\"", text)
}

// What roughness along the nose leaves of the maximum CL, and what it makes of the least
// drag, with half the range in which published tests lie.
//
// Source: NACA Report 824 (1945), standard roughness at 6e6 (from memory): NACA 4412 1.67 to
// about 1.37, 23012 1.79 to about 1.23, least drag of 12 % sections 0.006 to about 0.010;
// W. A. Timmer, AIAA 2009-268: sections of the 63 and 64 series lose 18 to 20 %; Clark Y and
// FX 63-137 with tripped layers at 1e5 to 5e5 13 to 17 % (Summary of Low-Speed Airfoil Data
// 3; NREL/SR-500-34515). Maximum 0.70 to 0.87 of the smooth one, drag 1.3 to 1.8 times.
const (
	roughMaxLift, roughMaxLiftHalf = 0.785, 0.085
	roughDrag, roughDragHalf       = 1.55, 0.25
)

// roughStall is what roughness leaves of the angle from zero lift to the stall for what it
// leaves of the maximum CL, as a power: half of the loss is in the angle, the rest in a rounder
// top. Common practice, no source.
const roughStall = 0.5

// Worn is what a surface makes of a section: factors on maximum CL and drag, with one
// standard uncertainty each. Dirt lowers the one as it raises the other.
type Worn struct {
	MaxLift, Drag             float64
	MaxLiftStdUnc, DragStdUnc float64 // as fractions of what the section has with it
	StallStdUnc               float64 // of the angle from zero lift to the stall, as a fraction
}

// Wear returns what the surface makes of a smooth section's figures. Used is between clean and
// dirty, nobody knows where, as is dirty in the range of the tests: rectangular distributions
// (JCGM 100:2008, 4.3.7).
func (s Surface) Wear() Worn {
	between := func(lo, hi float64) (mid, unc float64) { return (lo + hi) / 2, (hi - lo) / 2 / math.Sqrt(3) }
	w := Worn{MaxLift: 1, Drag: 1}
	switch s {
	case Used:
		w.MaxLift, w.MaxLiftStdUnc = between(roughMaxLift, 1)
		w.Drag, w.DragStdUnc = between(1, roughDrag)
	case Dirty:
		w.MaxLift, w.MaxLiftStdUnc = between(roughMaxLift-roughMaxLiftHalf, roughMaxLift+roughMaxLiftHalf)
		w.Drag, w.DragStdUnc = between(roughDrag-roughDragHalf, roughDrag+roughDragHalf)
	}
	w.MaxLiftStdUnc /= w.MaxLift
	w.StallStdUnc = roughStall * w.MaxLiftStdUnc
	w.DragStdUnc /= w.Drag
	return w
}

// WithDrag returns the section with so many times its profile drag, and nothing else changed.
func (s Section) WithDrag(times float64) Section {
	return s.applied(reshape{drag: func(cd float64) float64 { return cd * times }, below: math.Inf(-1)})
}

// MostRoughDrag is what the roughest surface makes of the profile drag.
const MostRoughDrag = roughDrag + roughDragHalf

// OnSurface returns a smooth section as it is with a surface.
func (s Section) OnSurface(surface Surface) Section {
	w := surface.Wear()
	if w.MaxLift == 1 {
		return s
	}
	if s.Tripped { // its drag has the early transition in it, of which half of the growth is made
		w.Drag = math.Sqrt(w.Drag)
	}
	sooner := math.Pow(w.MaxLift, roughStall) - 1
	worn := s.applied(reshape{
		topLift: (w.MaxLift - 1) * s.MaxLift, topAngle: sooner * (s.MaxAngle - s.ZeroLift),
		drag: func(cd float64) float64 { return cd * w.Drag }, below: math.Inf(-1),
	})
	if s.LeastLift < 0 { // the negative stall likewise, on the curve upside down
		down := reshape{topLift: (1 - w.MaxLift) * s.LeastLift, topAngle: sooner * (s.ZeroLift - s.LeastAngle), drag: func(cd float64) float64 { return cd }}
		down.below = math.Inf(-1)
		if turned, err := down.of(worn.Curve.mirrored()); err == nil {
			worn.Curve = turned.mirrored()
			worn.LeastLift, worn.LeastAngle = s.LeastLift-down.topLift, s.LeastAngle-down.topAngle
		}
	}
	worn.Notes = append(worn.Notes[:len(worn.Notes):len(worn.Notes)],
		fmt.Sprintf("%s surface: maximum CL × %.2f ± %.2f, profile drag × %.2f ± %.2f", surface, w.MaxLift, w.MaxLift*w.MaxLiftStdUnc,
			w.Drag, w.Drag*w.DragStdUnc))
	return worn
}

package model

import (
	"fmt"
	"math"

	"stanchion/aero"
	"stanchion/holes/plane"
	"stanchion/model/given"
)

// Wing is the wing as the car file describes it. Its lift comes from one of: a
// table of the whole wing, a polar of the section, or the section by its name,
// its outline or both.
type Wing struct {
	Span, Chord float64     // mm
	TipChord    float64     // mm; 0 for the same as Chord
	Twist       float64     // rad, of the tips against the middle, in the sense of more angle
	Table       *aero.Curve // the whole wing's
	Polar       *aero.Curve // the section's own curve, two-dimensional
	Section     string      // the section's name, "naca 4412"; "" for none
	Shape       []aero.Vec  // the section's outline in chords, as aero.Naca.Outline; nil when not known
	Source      string      // the section or file as the car file names it
	File        string      // the file that was read for it; "" for none
	Traced      *Traced     // points that were read off, and how well; nil for an outline that is exact
	Plate       EndPlate
	Mass        given.Number // kg

	Surface      aero.Surface
	SurfaceGiven bool         // by the car file; else a wing is taken as used
	Gurney       given.Number // mm, height of the strip at the trailing edge
	Loads        bool         // as for what must bear it: with the drag of the roughest surface
}

// EndPlate is one of the two equal end plates; zero for none.
type EndPlate struct {
	Length, Height float64 // mm
	Ahead          float64 // mm, from the wing's leading edge forward to the plate's
	Above          float64 // mm, from the chord line up to the middle of the plate, as it hangs on the car
}

// Area returns the wing's area, m².
func (w Wing) Area() float64 { return w.planform().Area() }

// MeanChord returns the wing's mean aerodynamic chord, m, which moments are given on.
func (w Wing) MeanChord() float64 { return w.planform().MeanChord() }

// effectiveAspect returns the aspect ratio with the end plates' effect.
// Source: S. F. Hoerner, "Fluid-Dynamic Drag" (1965), ch. 7: A (1 + 1.9 h/b).
func (w Wing) effectiveAspect() float64 {
	return w.planform().AspectRatio() * (1 + 1.9*w.Plate.Height/w.Span)
}

// planform returns the wing as aero sees it: turned over, with its lifting side
// up.
func (w Wing) planform() aero.Planform {
	p := aero.Planform{Span: w.Span * mm, Chord: w.Chord * mm, TipChord: w.TipChord * mm, Twist: w.Twist}
	if w.Plate.Height > 0 {
		p.Plate = aero.Plate{
			Length: w.Plate.Length * mm, Height: w.Plate.Height * mm,
			Ahead: w.Plate.Ahead * mm, Above: -w.Plate.Above * mm,
		}
	}
	return p
}

// gurney returns the Gurney flap in chords; 0 for none.
func (w Wing) gurney() aero.Gurney { return aero.Gurney(w.Gurney.Or(0) / w.Chord) }

// thickness returns the section's largest thickness in chords; the assumed one where its
// shape is not known.
func (w Wing) thickness() float64 {
	if w.Shape == nil {
		return assumedThickness
	}
	return aero.Thickness(w.Shape)
}

// assumedThickness is the thickness in chords that a wing is drawn with, and
// its highest point found with, when its section's shape is not known.
// Common practice, no source: single-element wings are 10 to 14 % thick.
const assumedThickness = 0.12

// Outline returns the section as it hangs on the car, in the wing's own frame,
// mm: upside down, so that its lifting side faces the ground. drawn reports
// whether the shape is the section's own; if not, it is a symmetrical one of
// the assumed thickness.
func (w Wing) Outline() (points []plane.Point, drawn bool) {
	shape := w.Shape
	if shape == nil {
		plain, err := aero.ParseNaca(fmt.Sprintf("naca 00%02.0f", 100*assumedThickness))
		if err != nil {
			panic(err) // a constant of ours
		}
		shape = plain.Outline(24)
	}
	for _, v := range shape {
		points = append(points, plane.Point{X: v.X * w.Chord, Z: -v.Y * w.Chord})
	}
	return points, w.Shape != nil
}

// PlateOutline returns the corners of an end plate in the wing's own frame, mm;
// nil when there is none.
func (w Wing) PlateOutline() []plane.Point {
	if w.Plate.Height <= 0 {
		return nil
	}
	x0, x1 := -w.Plate.Ahead, w.Plate.Length-w.Plate.Ahead
	z0, z1 := w.Plate.Above-w.Plate.Height/2, w.Plate.Above+w.Plate.Height/2
	return []plane.Point{{X: x0, Z: z0}, {X: x1, Z: z0}, {X: x1, Z: z1}, {X: x0, Z: z1}}
}

// QuarterChord is the point that height and axle loads refer to, in the wing's
// own frame.
func (w Wing) QuarterChord() plane.Point { return plane.Point{X: w.Chord / 4} }

// skinFriction returns the mean friction coefficient of a turbulent flat plate.
// Source: H. Schlichting, "Boundary-Layer Theory", Prandtl-Schlichting formula,
// 0.455/(log₁₀ Re)^2.58, for Re of 1e5 to 1e9.
func skinFriction(reynolds float64) float64 {
	return 0.455 / math.Pow(math.Log10(math.Max(reynolds, 1e5)), 2.58)
}

// WithGurney returns the wing with a Gurney flap of so many mm; 0 for none.
func (w Wing) WithGurney(mmHigh float64) Wing {
	w.Gurney = given.Number{}
	if mmHigh > 0 {
		w.Gurney = given.Is(mmHigh)
	}
	return w
}

package model

import (
	"fmt"
	"math"
	"testing"

	"stanchion/holes/plane"
	"stanchion/model/given"
)

// H. Schlichting, "Boundary-Layer Theory", Prandtl-Schlichting: 0.455/(log₁₀ Re)^2.58 is
// 0.455/6^2.58 = 0.00447 at a Reynolds number of a million and 0.00716 at 100,000, below
// which it does not hold and is not carried on.
func Example_skinFriction() {
	for _, re := range []float64{1e6, 1e5, 1e4} {
		fmt.Printf("%.5f\n", skinFriction(re))
	}
	// Output:
	// 0.00447
	// 0.00716
	// 0.00716
}

// By hand: an end plate of 300 × 200 mm that begins 40 mm ahead of the leading edge and has
// its middle 30 mm above the chord line reaches from x −40 to 260 and z −70 to 130; as aero
// sees the wing, turned over, its middle is 30 mm below. Hoerner: A (1 + 1.9·0.2/1.4).
func TestEndPlateByHand(t *testing.T) {
	w := Wing{Span: 1400, Chord: 250, Plate: EndPlate{Length: 300, Height: 200, Ahead: 40, Above: 30}}
	lo, hi := plane.Box(w.PlateOutline())
	if lo != (plane.Point{X: -40, Z: -70}) || hi != (plane.Point{X: 260, Z: 130}) || len(w.PlateOutline()) != 4 {
		t.Errorf("end plate from %v to %v", lo, hi)
	}
	p := w.planform().Plate
	for i, d := range []float64{p.Length - 0.3, p.Height - 0.2, p.Ahead - 0.04, p.Above + 0.03} {
		if math.Abs(d) > 1e-12 {
			t.Errorf("in m, figure %d is off by %g", i, d)
		}
	}
	if a := w.effectiveAspect(); math.Abs(a-5.6*(1+0.38/1.4)) > 1e-9 {
		t.Errorf("effective aspect ratio %.4f", a)
	}
	if w.Plate = (EndPlate{}); w.PlateOutline() != nil || math.Abs(w.effectiveAspect()-5.6) > 1e-9 {
		t.Errorf("without end plates: %v, aspect ratio %.3f", w.PlateOutline(), w.effectiveAspect())
	}
	if area, chord := w.Area(), w.MeanChord(); math.Abs(area-0.35) > 1e-12 || math.Abs(chord-0.25) > 1e-12 {
		t.Errorf("area %g m², chord %g m", area, chord)
	}
	// Tapered from 250 to 150 mm: mean chord ⅔·(250² + 250·150 + 150²)/400 = 204.2 mm.
	w.TipChord = 150
	if area, chord := w.Area(), w.MeanChord(); math.Abs(area-0.28) > 1e-12 || math.Abs(chord-0.2041667) > 1e-6 {
		t.Errorf("tapered: area %g m², chord %g m", area, chord)
	}
}

// A section that is not known is drawn 12 % thick, 250 mm long: 15 mm either side.
func TestAssumedSection(t *testing.T) {
	w := Wing{Span: 1400, Chord: 250}
	outline, drawn := w.Outline()
	lo, hi := plane.Box(outline)
	if drawn || math.Abs(hi.Z-15) > 0.1 || math.Abs(lo.Z+15) > 0.1 || math.Abs(lo.X) > 0.1 || math.Abs(hi.X-250) > 0.1 {
		t.Errorf("its own %v, from %v to %v", drawn, lo, hi)
	}
	if q := w.QuarterChord(); q != (plane.Point{X: 62.5}) {
		t.Errorf("quarter chord at %v", q)
	}
}

// An angle without a standard uncertainty of its own has that of a digital level.
func TestReadingUncertainty(t *testing.T) {
	for is, want := range map[float64]float64{0.5: 0.5, 0: 0.2, -1: 0.2, math.Inf(-1): 0.2} {
		if got := (Reading{ReadingStdUnc: given.Is(is * plane.Deg)}).AngleStdUnc() / plane.Deg; math.Abs(got-want) > 1e-12 {
			t.Errorf("%g°: %g°, want %g°", is, got, want)
		}
	}
	if got := (Reading{}).AngleStdUnc() / plane.Deg; math.Abs(got-0.2) > 1e-12 {
		t.Errorf("not given: %g°", got)
	}
}

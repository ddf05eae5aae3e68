package model

import (
	"fmt"
	"math"
	"testing"

	"stanchion/aero"
)

// What is kept is what Solve says, and a wing that differs in one thing, however little, is one of its own. The
// oldest go first.
func TestSolvedWings(t *testing.T) {
	line := func(slope float64) aero.Curve {
		c, err := aero.NewCurve([]float64{-0.35, 0, 0.35}, []float64{-0.35 * slope, 0, 0.35 * slope}, []float64{0.02, 0.01, 0.02}, nil)
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	base := aero.Wing{Planform: aero.Planform{Span: 1.4, Chord: 0.28}, Section: line(5.5)}
	others := map[string]func(*aero.Wing){
		"as it is":   func(*aero.Wing) {},
		"span":       func(w *aero.Wing) { w.Span = math.Nextafter(w.Span, 2) },
		"chord":      func(w *aero.Wing) { w.Chord = 0.3 },
		"twist":      func(w *aero.Wing) { w.Twist = 0.01 },
		"tip chord":  func(w *aero.Wing) { w.TipChord = 0.2 },
		"end plates": func(w *aero.Wing) { w.Plate = aero.Plate{Height: 0.2, Length: 0.3} },
		"section":    func(w *aero.Wing) { w.Section = line(5.6) },
		"friction":   func(w *aero.Wing) { w.Friction = 0.004 },
		"thickness":  func(w *aero.Wing) { w.Thickness = 0.12 },
	}
	for range 2 {
		for what, change := range others {
			w := base
			change(&w)
			got, err := solved(w)
			want, err2 := w.Solve()
			if err != nil || err2 != nil {
				t.Fatal(err, err2)
			}
			if a, b := fmt.Sprint(got), fmt.Sprint(want); a != b {
				t.Errorf("%s: kept %.60s…, solved %.60s…", what, a, b)
			}
		}
	}
	if n := len(wings.of); n < len(others) || n > wingsKept || n != len(wings.order) {
		t.Errorf("%d wings are kept in order of %d, of %d solved and at most %d", n, len(wings.order), len(others), wingsKept)
	}
}

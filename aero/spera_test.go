package aero

import (
	"fmt"
	"math"
	"testing"
)

// NASA/CR-2008-215434, worked with its equations for zero lift −3.9°, slope 0.07247 per
// degree, maximum CL 1.22381 and CD 0.18330 at 20.6996°, 12 % thick, aspect ratio 5. The
// published equations give 1.1600 and 0.2963 at 25°, 0.9023 and 0.4262 at 30°, 0.7665 and
// 0.7909 at 45°, 0.6681 and 1.0861 at 60°, 0.0621 and 1.3443 at 90°.
func ExampleSpera_At() {
	wing := Spera{-3.9 * deg, 0.07247 / deg, 20.6996 * deg, 1.22381, 0.18330, 0.12, 5}
	for _, a := range []float64{25, 30, 45, 60, 90} {
		cl, cd := wing.At(a * deg)
		fmt.Printf("%.0f° %.3f %.4f\n", a, cl, cd)
	}
	// Output:
	// 25° 1.160 0.2963
	// 30° 0.902 0.4262
	// 45° 0.766 0.7909
	// 60° 0.668 1.0861
	// 90° 0.062 1.3443
}

// At the stall it is what was known there and level; a sharp stall falls off to the plate's
// lift, a wing of endless span ends in a plate's drag.
func TestSperaAtItsEnds(t *testing.T) {
	s := Spera{-4 * deg, 5, 14 * deg, 1.3, 0.1, 0.12, 6}
	cl, cd := s.At(s.MaxAngle)
	if math.Abs(cl-1.3) > 1e-9 || math.Abs(cd-0.1) > 1e-9 {
		t.Errorf("at the stall %.4f and %.4f, want 1.3 and 0.1", cl, cd)
	}
	before, _ := s.At(13.9 * deg)
	after, _ := s.At(14.1 * deg)
	if before > 1.3 || after > 1.3 || math.Abs(before-after) > 0.002 {
		t.Errorf("about the stall %.5f and %.5f, want a level top", before, after)
	}
	s.Slope = 1.3 / (18 * deg) // straight to the stall
	// By hand, 20° being 24/18 of the way from zero lift: 1.3·(4/3·4/3 − (4/3)⁴/3) = 0.942.
	if cl, _ := s.At(20 * deg); math.Abs(cl-0.942) > 1e-3 {
		t.Errorf("6° past a sharp stall: CL %.3f, want 0.942", cl)
	}
	s.Aspect = math.Inf(1)
	// By hand: 2.3·exp(−0.078^0.9) = 2.3·0.9041 = 2.0794.
	if _, cd := s.At(math.Pi / 2); math.Abs(cd-2.0794) > 2e-3 {
		t.Errorf("a section across the flow: CD %.4f, want 2.079", cd)
	}
}

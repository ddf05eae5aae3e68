package plan

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// Sizes of two samples. By the normal approximation, two-sided 5 %, power 0.90 and 0.80 at a difference of one standard deviation:
// n = 2 (1.95996 + 1.28155)² = 21.015 and 2 (1.95996 + 0.84162)² = 15.698. By the noncentral t distribution, from the manual of R,
// power.t.test(delta = 1, power = .90): n = 22.0211; power.t.test(n = 20, delta = 1): power = 0.868953.
func ExampleEach() {
	fmt.Printf("normal %.3f %.3f\n", EachByNormal(1, 0.05, 0.9), EachByNormal(1, 0.05, 0.8))
	fmt.Printf("t %.4f\n", Each(1, 0.05, 0.9))
	fmt.Printf("power of 20 each %.6f\n", PowerOf(math.Sqrt(20.0/2), 38, 0.05))
	// A difference of 0.3 s at 0.4 s from lap to lap.
	fmt.Printf("0.3 s at 0.4 s: normal %.1f, t %.1f; power 0.9: %.1f\n", EachByNormal(0.75, 0.05, 0.8), Each(0.75, 0.05, 0.8), Each(0.75, 0.05, 0.9))
	// Output:
	// normal 21.015 15.698
	// t 22.0211
	// power of 20 each 0.868953
	// 0.3 s at 0.4 s: normal 27.9, t 28.9; power 0.9: 38.3
}

// The chance by drawing: a normal difference over the scatter of free degrees of freedom. Without a difference it is the level.
func TestPowerByDrawing(t *testing.T) {
	draw := rand.New(rand.NewPCG(7, 7))
	for _, c := range []struct{ shift, free float64 }{{4, 1}, {3, 2}, {4, 3}, {3, 8}} {
		crit, hits := critical(c.free, 0.05), 0
		const n = 40_000
		for range n {
			sum := 0.0
			for range int(c.free) {
				x := draw.NormFloat64()
				sum += x * x
			}
			if math.Abs(c.shift+draw.NormFloat64()) > crit*math.Sqrt(sum/c.free) {
				hits++
			}
		}
		got := PowerOf(c.shift, c.free, 0.05)
		if drawn := float64(hits) / n; math.Abs(got-drawn) > 4*math.Sqrt(got*(1-got)/n) {
			t.Errorf("PowerOf(%g, %g) = %.4f, drawn %.4f", c.shift, c.free, got, drawn)
		}
		if at := PowerOf(0, c.free, 0.05); math.Abs(at-0.05) > 2e-5 {
			t.Errorf("PowerOf(0, %g) = %.5f, want the level 0.05", c.free, at)
		}
		if seen := Seen(c.free, 0.05, 0.8); math.Abs(PowerOf(seen, c.free, 0.05)-0.8) > 1e-9 {
			t.Errorf("Seen(%g) = %g, of which the chance is not 0.8", c.free, seen)
		}
	}
	if !math.IsNaN(PowerOf(3, 0, 0.05)) || !math.IsNaN(Seen(0, 0.05, 0.8)) {
		t.Error("without degrees of freedom there is a chance")
	}
	if got := each(3); math.Abs(got-(1-math.Cbrt(0.95))) > 1e-12 {
		t.Errorf("each(3) = %g", got)
	}
}

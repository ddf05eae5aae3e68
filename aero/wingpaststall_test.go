package aero

import (
	"math"
	"testing"
)

// A section that stalls at 14° makes a wing that beyond its own stall follows Spera for its own
// aspect ratio, joined to its own stall; the same wing upside down has the same curve mirrored.
func TestWingPastItsStall(t *testing.T) {
	var a, cl, cd []float64
	for x := -30.0; x <= 45; x += 0.5 {
		y := math.Abs(x)
		l := 0.105*y - 0.0008*math.Pow(max(0, y-9), 2.4)
		if y > 14 {
			l = 1.43 - 0.03*(y-14)
		}
		a, cl, cd = append(a, x*deg), append(cl, math.Copysign(max(l, 0.6), x)), append(cd, 0.01+0.0005*max(0, y-9)*max(0, y-9))
		if y < 6 {
			cl[len(cl)-1] = 0.105 * x
		}
	}
	section, err := NewCurve(a, cl, cd, nil)
	if err != nil {
		t.Fatal(err)
	}
	w := Wing{Planform: Planform{Span: 1.5, Chord: 0.3}, Section: section, Thickness: 0.12}
	sol, err := w.Solve()
	if err != nil {
		t.Fatal(err)
	}
	at, most, ok := sol.Curve.Stall()
	top, _ := sol.Curve.At(at)
	if !ok || at < 16*deg || at > 23*deg {
		t.Fatalf("stall at %.1f°", at/deg)
	}
	zero := sol.Curve.ZeroLift()
	want := Spera{zero, sol.Curve.Slope(zero), at, most, top.CD, 0.12, 5}
	for _, x := range []float64{25, 30, 35} {
		k, ok := sol.Curve.At(x * deg)
		l, d := want.At(x * deg)
		if !ok || math.Abs(k.CL-l) > 0.01 || math.Abs(k.CD-d) > 0.005 || k.CL > most || k.CD < top.CD {
			t.Errorf("%g°: CL %.3f CD %.3f, Spera %.3f %.3f", x, k.CL, k.CD, l, d)
		}
		if -x*deg >= lowestAngle {
			if n, ok := sol.Curve.At(-x * deg); !ok || math.Abs(n.CL+k.CL) > 0.02 {
				t.Errorf("%g°: CL %.3f, upside down %.3f", x, k.CL, n.CL)
			}
		}
	}
	before := math.NaN()
	for x, k := range sol.Curve.Points() {
		if math.Abs(k.CL-before) > 0.08 {
			t.Errorf("CL jumps from %.3f to %.3f at %.1f°", before, k.CL, x/deg)
		}
		before = k.CL
	}
	// A plate of 0.2 m at the ends makes it one of 5·(1 + 1.9·0.2/1.5) = 6.267, with more drag across the flow.
	plated := w
	plated.Plate = Plate{Length: 0.3, Height: 0.2}
	ended, err := plated.Solve()
	if err != nil {
		t.Fatal(err)
	}
	k, _ := ended.Curve.At(35 * deg)
	at, most, _ = ended.Curve.Stall()
	top, _ = ended.Curve.At(at)
	zero = ended.Curve.ZeroLift()
	_, d := Spera{zero, ended.Curve.Slope(zero), at, most, top.CD, 0.12, 5 * (1 + 1.9*0.2/1.5)}.At(35 * deg)
	if math.Abs(k.CD-d) > 0.005 {
		t.Errorf("with end plates CD %.3f at 35°, want %.3f", k.CD, d)
	}
}

// By hand: 1.0 at 10°, 1.2 at 12°, 1.1 at 14°, mirrored −1.1 at −14° first; zero lift between −1° and 1° at 0°.
func TestMirrored(t *testing.T) {
	c, err := NewCurve([]float64{-1 * deg, 1 * deg, 12 * deg, 14 * deg}, []float64{-0.1, 0.1, 1.2, 1.1}, []float64{0.01, 0.011, 0.02, 0.03}, []float64{-0.1, -0.1, -0.09, -0.08})
	if err != nil {
		t.Fatal(err)
	}
	m := c.mirrored()
	k, ok := m.At(-14 * deg)
	if !ok || k.CL != -1.1 || k.CD != 0.03 || k.CM != 0.08 {
		t.Errorf("mirrored at −14°: %+v", k)
	}
	if z := c.ZeroLift(); math.Abs(z) > 1e-12 {
		t.Errorf("zero lift at %g", z)
	}
	if z := m.ZeroLift(); math.Abs(z) > 1e-12 {
		t.Errorf("mirrored: zero lift at %g", z)
	}
}

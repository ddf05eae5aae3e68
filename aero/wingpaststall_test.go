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
	zero, slope := sol.Curve.Straight()
	want := Spera{zero, slope, at, most, top.CD, 0.12, 5}
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
	zero, slope = ended.Curve.Straight()
	_, d := Spera{zero, slope, at, most, top.CD, 0.12, 5 * (1 + 1.9*0.2/1.5)}.At(35 * deg)
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
	if z, slope := c.Straight(); math.Abs(z) > 1e-12 || math.Abs(slope*deg-0.1) > 1e-12 {
		t.Errorf("zero lift at %g, slope %g per degree", z, slope*deg)
	}
}

// Zero lift and slope of the attached part, by hand: 0.10 per degree below 5° and 0.05 above. A curve that
// begins above zero lift has those of its straight part, or of its beginning: from 7° on 0.05 per degree, to
// −5°. A negative stall that a flap has lifted above zero is no stall, and zero lift is where the straight
// part would come down to it.
func TestStraightByHand(t *testing.T) {
	curve := func(from float64, lift func(a float64) float64) Curve {
		var alpha, cl, cd []float64
		for a := from; a <= 20; a++ {
			alpha, cl, cd = append(alpha, a*deg), append(cl, lift(a)), append(cd, 0.01)
		}
		c, err := NewCurve(alpha, cl, cd, nil)
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	bent := func(a float64) float64 { return min(0.1*a, 0.25+0.05*a) }
	for from, want := range map[float64][2]float64{-6: {0, 0.1}, -1: {0, 0.1}, 1: {0, 0.1}, 9: {-5, 0.05}} {
		zero, slope := curve(from, bent).Straight()
		if math.Abs(zero/deg-want[0]) > 1e-6 || math.Abs(slope*deg-want[1]) > 1e-6 {
			t.Errorf("from %g°: zero lift %.3f°, slope %.4f per degree; want %v", from, zero/deg, slope*deg, want)
		}
	}
	lifted := func(a float64) float64 {
		switch {
		case a < -12:
			return 0.15 + 0.02*math.Abs(a+16) // a bump about −20° and a trough
		case a > 14:
			return 2.0 - 0.1*(a-14)
		}
		return 0.25 + (a+12)*1.75/26
	}
	c := curve(-24, func(a float64) float64 {
		if a < -19 {
			return 0.1
		}
		return lifted(a)
	})
	at, most, ok := c.Stall()
	zero, slope := c.Straight()
	if !ok || math.Abs(at-14*deg) > 1e-9 || math.Abs(most-2) > 1e-9 || math.Abs(slope*deg-1.75/26) > 1e-6 || math.Abs(zero/deg+12+0.25*26/1.75) > 1e-6 {
		t.Errorf("stall at %.1f° with %.2f, zero lift %.2f°, slope %.4f", at/deg, most, zero/deg, slope*deg)
	}
}

// Whatever strip is put on whatever published section with whatever surface, its lift at 5° grows with the
// strip's height, and the wing still stalls where wings do.
func TestGurneyOnEverySection(t *testing.T) {
	for i, p := range publishedSections {
		if i%3 != 0 && !p.highLift { // each takes 20 ms
			continue
		}
		s, err := p.At(8e5, nil)
		if err != nil {
			continue
		}
		for _, surface := range []Surface{Clean, Dirty} {
			before := math.Inf(-1)
			for _, g := range []Gurney{0, 0.012, 0.03} {
				run := s.OnSurface(surface).With(g)
				w := Wing{Planform: Planform{Span: 1.48, Chord: 0.28}, Section: run.Curve, Thickness: 0.12}
				sol, err := w.Solve()
				if err != nil {
					t.Errorf("%s, %v, %.1f %%: %v", p.Name, surface, 100*g, err)
					continue
				}
				k, ok := sol.Curve.At(5 * deg)
				at, _, stalls := sol.Curve.Stall()
				if !ok || k.CL <= before || !stalls || at < 7*deg || at > 26*deg {
					t.Errorf("%s, %v, strip of %.1f %%: CL %.3f at 5° after %.3f, stall at %.1f°", p.Name, surface, 100*g, k.CL, before, at/deg)
				}
				before = k.CL
			}
		}
	}
}

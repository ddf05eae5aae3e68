package aero

import (
	"math"
	"math/cmplx"
	"testing"
)

// joukowski returns the outline of the section that z = w + 1/w makes of a
// circle through w = 1 with the given centre, with chord 1 and its leading edge
// at 0, and a function for the exact pressure coefficient at each point.
func joukowski(centre complex128, n int) (outline []Vec, exact func(alpha float64) []float64, radius, chord float64) {
	return karmanTrefftz(centre, 2, n)
}

// karmanTrefftz is the same for a trailing edge of the angle (2-k)·π: with
// k = 2 it is the Joukowski section.
// Source: L. M. Milne-Thomson, "Theoretical Aerodynamics" (1958), ch. VII.
func karmanTrefftz(centre complex128, k float64, n int) (outline []Vec, exact func(alpha float64) []float64, radius, chord float64) {
	radius = cmplx.Abs(1 - centre)
	beta := -cmplx.Phase(1 - centre) // of the trailing edge on the circle, below the axis
	kk := complex(k, 0)
	shape := func(w complex128) complex128 {
		if w == 1 {
			return kk
		}
		r := cmplx.Pow((w-1)/(w+1), kk)
		return kk * (1 + r) / (1 - r)
	}
	slope := func(w complex128) complex128 {
		r := cmplx.Pow((w-1)/(w+1), kk)
		return kk * kk * 4 * r / ((1 - r) * (1 - r)) / ((w - 1) * (w + 1))
	}
	var ws, zs []complex128
	for i := 0; i <= n; i++ {
		// Closer together about the leading edge than at equal angles.
		at := 2 * math.Pi * float64(i) / float64(n)
		th := at + 0.6*math.Sin(at) - beta
		w := centre + complex(radius, 0)*cmplx.Exp(complex(0, th))
		if i == 0 || i == n {
			w = 1
		}
		ws, zs = append(ws, w), append(zs, shape(w))
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, z := range zs {
		lo, hi = min(lo, real(z)), max(hi, real(z))
	}
	chord = hi - lo
	for _, z := range zs {
		outline = append(outline, Vec{(real(z) - lo) / chord, imag(z) / chord})
	}
	exact = func(alpha float64) []float64 {
		gamma := 4 * math.Pi * radius * math.Sin(alpha+beta)
		cp := make([]float64, len(ws))
		for i, w := range ws {
			d := w - centre
			u := cmplx.Exp(complex(0, -alpha)) - cmplx.Exp(complex(0, alpha))*complex(radius*radius, 0)/(d*d) + complex(0, gamma/(2*math.Pi))/d
			v := cmplx.Abs(u / slope(w))
			cp[i] = 1 - v*v
		}
		return cp
	}
	return outline, exact, radius, chord
}

// Lift within 0.5 % and pressures within 0.02 of the exact solution with 200
// panels, away from the trailing edge; convergence with their number.
func TestPanelsAgainstExactSections(t *testing.T) {
	for _, row := range []struct {
		name   string
		centre complex128
		k      float64
	}{
		{"Joukowski, 11.8 % thick", complex(-0.1, 0), 2},
		{"Joukowski with camber", complex(-0.08, 0.06), 2},
		{"Kármán-Trefftz, 10° trailing edge", complex(-0.08, 0.05), 2 - 10.0/180},
		{"Kármán-Trefftz, 18° trailing edge", complex(-0.06, 0), 2 - 18.0/180},
	} {
		beta := math.Asin(imag(row.centre) / cmplx.Abs(1-row.centre))
		last := math.Inf(1)
		for _, n := range []int{50, 100, 200} {
			outline, exact, radius, chord := karmanTrefftz(row.centre, row.k, n)
			p, err := NewPanels(outline)
			if err != nil {
				t.Fatal(err)
			}
			for _, a := range []float64{0, 5, 8} {
				// Milne-Thomson: cl = 8π (R/c) sin(α + β).
				want := 8 * math.Pi * radius / chord * math.Sin(a*deg+beta)
				cl, _ := p.Lift(a * deg)
				if n == 200 && math.Abs(cl-want) > 0.005*math.Abs(want)+1e-4 {
					t.Errorf("%s, %d panels, %g°: cl %.5f, exact %.5f", row.name, n, a, cl, want)
				}
				if a == 8 {
					err := math.Abs(cl/want - 1)
					if err > last && err > 1e-3 {
						t.Errorf("%s: error of lift grows from %.2g to %.2g with %d panels", row.name, last, err, n)
					}
					last = err
				}
				worst, cps, cpe := 0.0, p.Pressures(a*deg), exact(a*deg)
				for i, v := range outline {
					if v.X < 0.95 {
						worst = max(worst, math.Abs(cps[i]-cpe[i]))
					}
				}
				if n == 200 && worst > 0.02 {
					t.Errorf("%s, %g°: pressure off by %.4f", row.name, a, worst)
				}
			}
			if z := p.ZeroLift(); n == 200 && math.Abs(z+beta) > 0.02*deg {
				t.Errorf("%s: zero lift at %.3f°, exact %.3f°", row.name, z/deg, -beta/deg)
			}
		}
	}
	// The moment, by pressure integration of the exact solution: centre -0.1 at
	// 8°: cl 0.953946, cm about the quarter chord -0.00373.
	outline, _, _, _ := joukowski(complex(-0.1, 0), 200)
	p, _ := NewPanels(outline)
	if cl, cm := p.Lift(8 * deg); math.Abs(cl-0.953946) > 0.004 || math.Abs(cm+0.00373) > 0.001 {
		t.Errorf("cl %.5f cm %.5f, want 0.95395 and -0.00373", cl, cm)
	}
}

func BenchmarkPanels200(b *testing.B) {
	n, _ := ParseNaca("naca 4412")
	outline := n.Outline(100)
	for b.Loop() {
		if _, err := NewPanels(outline); err != nil {
			b.Fatal(err)
		}
	}
}

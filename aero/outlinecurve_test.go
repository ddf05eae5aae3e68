package aero

import (
	"math"
	"testing"
)

// Derivatives against differences on both sides, and terms of known value: the
// four-digit form of thickness 1 is 0.5 high at 30 % of the chord (NACA Report 460)
// and closed at its end; T2 is 2u² - 1, T3 4u³ - 3u.
func TestNoseTerms(t *testing.T) {
	var f, df, up, down [nosedLen]float64
	for _, at := range []float64{-0.97, -0.4, -0.02, 0.05, 0.6, 1} {
		const h = 1e-5
		noseTerms(at, &f, &df)
		noseTerms(at+h, &up, &df)
		noseTerms(at-h, &down, &df)
		noseTerms(at, &f, &df)
		for j := termForm; j < nosedLen; j++ {
			if d := (up[j] - down[j]) / (2 * h); math.Abs(d-df[j]) > 1e-4*(1+math.Abs(d)) {
				t.Errorf("term %d at %g: derivative %.6f, by differences %.6f", j, at, df[j], d)
			}
		}
		u := at / 1.02
		if math.Abs(f[termCheb+2]-(2*u*u-1)) > 1e-12 || math.Abs(f[termCheb+3]-(4*u*u*u-3*u)) > 1e-12 {
			t.Errorf("at %g: T2 %.6f, T3 %.6f", at, f[termCheb+2], f[termCheb+3])
		}
		if w := math.Copysign(at*at, at); math.Abs(f[termWedge]-w) > 1e-15 {
			t.Errorf("at %g: wedge %.6f, want %.6f", at, f[termWedge], w)
		}
	}
	for _, c := range [][3]float64{{math.Sqrt(0.3), 0.5, 5e-4}, {-math.Sqrt(0.3), -0.5, 5e-4}, {1, 0, 1e-12}} {
		if noseTerms(c[0], &f, &df); math.Abs(f[termForm]-c[1]) > c[2] {
			t.Errorf("thickness form at %.4f: %.5f, want %g", c[0], f[termForm], c[1])
		}
	}
}

// A point square off the outline has its foot where it was set out, on both sides
// and at the nose.
func TestFoot(t *testing.T) {
	c := nosed{termNose: 0.003, termForm: 0.12, termCheb + 2: -0.02, nosedLen - 1: 0}
	for _, at := range []float64{-0.9, -0.3, -0.05, 0, 0.02, 0.2, 0.7} {
		q, d := c.at(at)
		m := outwards(d)
		if math.Abs(m.X*d.X+m.Y*d.Y) > 1e-12 || math.Abs(math.Hypot(m.X, m.Y)-1) > 1e-12 {
			t.Errorf("at %g: %v is not a normal", at, m)
		}
		if p := (Vec{q.X + 0.003*m.X, q.Y + 0.003*m.Y}); math.Abs(c.foot(p, at+0.03)-at) > 1e-5 {
			t.Errorf("foot at %.6f, want %g", c.foot(p, at+0.03), at)
		}
	}
	if _, d := c.at(0); outwards(d).X > -0.99 {
		t.Errorf("the nose's normal is %v, want forwards", outwards(d))
	}
	if _, d := c.at(-0.5); outwards(d).Y > -0.99 {
		t.Errorf("the lower side's normal is %v, want down", outwards(d))
	}
}

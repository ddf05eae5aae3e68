package aero

import "math"

// nosed is a section's outline as a function that is regular at the nose: x is
// x0 + t² and y is f(t), t running from the trailing edge of the
// upper side (+1) through the nose (0) to that of the lower (-1). Even parts of f
// are camber, odd parts thickness.
//
// f is a sum of a four-digit thickness form, a wedge that opens the trailing
// edge, and Chebyshev polynomials of t: the even ones are polynomials of x, the
// odd ones √x times polynomials of x, as in the class-shape transformation of
// B. M. Kulfan, J. Aircraft 45 (2008) 142, which this extends to the camber.
type nosed []float64

// The terms of a nosed outline, in order.
const (
	termNose  = iota // x of the foremost point, chords
	termForm         // the four-digit thickness form, closed at the rear, of thickness 1
	termWedge        // sgn(t) t²: half the opening at the trailing edge
	termCheb         // Chebyshev polynomials of t/noseReach: of order 0, 1 and so on
	chebTerms = 41
	nosedLen  = termCheb + chebTerms
)

// noseReach is the largest |t| at which a nosed outline is used: readings may lie
// a little behind the trailing edge.
const noseReach = 1.02

// noseTerms sets f to what each term but the first adds to y at t, and df to the
// derivatives.
func noseTerms(t float64, f, df *[nosedLen]float64) {
	s, a, x := 1.0, math.Abs(t), t*t
	if t < 0 {
		s = -1
	}
	// NACA Report 460, as in Naca.thickness, with the last constant that closes it.
	f[termForm] = s * 5 * (0.2969*a + x*(-0.1260+x*(-0.3516+x*(0.2843-0.1036*x))))
	df[termForm] = 5 * (0.2969 + a*(2*-0.1260+x*(4*-0.3516+x*(6*0.2843-8*0.1036*x))))
	f[termWedge], df[termWedge] = s*x, 2*a
	// T of order j, and its derivative j times U of order j-1, by their recurrences.
	u := t / noseReach
	t0, t1, u0, u1 := 1.0, u, 0.0, 1.0
	for j := range chebTerms {
		f[termCheb+j], df[termCheb+j] = t0, float64(j)*u0/noseReach
		t0, t1 = t1, 2*u*t1-t0
		u0, u1 = u1, 2*u*u1-u0
	}
}

// at returns the outline's point at t and its derivative there.
func (c nosed) at(t float64) (p, d Vec) {
	var f, df [nosedLen]float64
	noseTerms(t, &f, &df)
	p, d = Vec{c[termNose] + t*t, 0}, Vec{2 * t, 0}
	for j := termForm; j < nosedLen; j++ {
		p.Y += c[j] * f[j]
		d.Y += c[j] * df[j]
	}
	return p, d
}

// outwards returns the unit vector square to an outline, away from the section,
// from the derivative by t.
func outwards(d Vec) Vec {
	l := max(math.Hypot(d.X, d.Y), 1e-12)
	return Vec{-d.Y / l, d.X / l}
}

// foot returns the t of the outline's point nearest to p, searched from a first
// guess.
func (c nosed) foot(p Vec, t float64) float64 {
	for range 8 {
		q, d := c.at(t)
		square := d.X*d.X + d.Y*d.Y
		if square < 1e-12 {
			break
		}
		step := ((p.X-q.X)*d.X + (p.Y-q.Y)*d.Y) / square
		t = min(max(t+min(max(step, -0.1), 0.1), -noseReach), noseReach)
		if math.Abs(step) < 1e-7 {
			break
		}
	}
	return t
}

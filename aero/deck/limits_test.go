package deck

import (
	"fmt"
	"math"
	"math/cmplx"
	"testing"

	"stanchion/aero"
)

// endless returns a deck 1 m high that reaches far to all sides of x = 0, m.
func endless(t *testing.T, far float64) *Deck {
	parts := []float64{0, 0.12, 0.24, 0.37, 0.5, 0.65, 0.85, 1.15, 1.5, 2, 2.7, 3.7, 5.5, 8, far}
	var line []Point
	for i := len(parts) - 1; i > 0; i-- {
		line = append(line, Point{-parts[i], 1})
	}
	for i := range parts {
		line = append(line, Point{parts[i], 1})
	}
	for i := range parts {
		parts[i] /= far
	}
	d, err := assemble(line, 0, len(line)-1, 2*far, mesh{across: parts, rows: []float64{0, 0.5, 1}, fine: 0.1})
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// Over an endless deck all of the downforce goes back into it: without panels, the wing's image
// doubles u, and over all y a line of circulation Γ and length b gives ∫u dy = Γb/π·h/(x² + h²).
// So the share within ±x is 2/π·atan(x/h), which goes to 1; a deck 24 m long and wide is short
// of that by little.
// The rise of the slope is that of the wing over its image, by a lattice of its own, and by
// lifting line with C. Wieselsberger's factor (NACA TM 77, 1922), σ = (1 - 1.32 h/b)/(1.05 +
// 7.4 h/b), 1/a = 1/2π + (1 - σ)/(πA), which knows no chord and falls short close to the deck.
func TestEndlessDeck(t *testing.T) {
	d := endless(t, 12)
	p := aero.Planform{Span: 1.5, Chord: 0.25}
	for _, h := range []float64{0.25, 0.6} {
		e, err := d.under(p, Place{0, 1 + h, 0})
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range []float64{1.5, 3.7} {
			near(t, fmt.Sprintf("lift of %g m of the deck, wing %g m above it", 2*x, h),
				e.Solid.Ahead(x).Lift-e.Solid.Ahead(-x).Lift, 2/math.Pi*math.Atan(x/h), 0.015)
		}
		near(t, fmt.Sprintf("lift of all of it, wing %g m above it", h), e.Solid.Lift, 1, 0.07)
		near(t, fmt.Sprintf("lift of its front half, wing %g m above it", h), e.Solid.Ahead(0).Lift, 0.5, 0.025)
		near(t, fmt.Sprintf("rise of the slope %g m above", h), e.Solid.Rise, imageRise(p, h), 0.07*imageRise(p, h))
		if h > 0.3 {
			sigma := (1 - 1.32*h/1.5) / (1.05 + 7.4*h/1.5)
			line := func(sigma float64) float64 { return 1 / (1/(2*math.Pi) + (1-sigma)/(6*math.Pi)) }
			near(t, fmt.Sprintf("rise of the slope %g m above, by lifting line", h), e.Solid.Rise, line(sigma)/line(0)-1, 0.02)
		}
		near(t, "forward force on a flat deck", e.Solid.Forward, 0, 1e-12)
		near(t, "nose-up moment of it", e.Solid.NoseUp, -e.Solid.Lift*at(e.Solid), 1e-12)
	}
}

func at(r Reaction) float64 { x, _ := r.At(); return x }

// imageRise is the rise of a flat wing's slope over a plane h below it, by 20 horseshoes of
// one panel along the chord and their images: a lattice apart from the package's own.
func imageRise(p aero.Planform, h float64) float64 {
	const n = 20
	width := p.Span / (n + 0.5)
	// down returns the velocity that a horseshoe from y-width/2 to y+width/2 induces half a
	// chord behind it and z above it, downwards for z = 0.
	down := func(y, z float64) float64 {
		x, w := p.Chord/2, 0.0
		for _, end := range []float64{-1, 1} {
			s := end * (width/2 - end*y)
			legs := (1 + x/math.Sqrt(x*x+s*s+z*z)) / (s*s + z*z)
			bound := x * x / (x*x + z*z) / x / math.Sqrt(x*x+s*s+z*z)
			w += end * s * (legs + bound) / (4 * math.Pi)
		}
		return w
	}
	slope := func(ground bool) float64 {
		a := make([][]float64, n)
		for i := range n {
			a[i] = make([]float64, n+1)
			a[i][n] = 1
			for k := range n {
				y := width * float64(i-k)
				a[i][k] = down(y, 0)
				if ground {
					a[i][k] -= down(y, 2*h)
				}
			}
		}
		sum := 0.0
		for i := range n { // Gauss and Jordan
			for r := range n {
				if f := a[r][i] / a[i][i]; r != i {
					for c := i; c <= n; c++ {
						a[r][c] -= f * a[i][c]
					}
				}
			}
		}
		for i := range n {
			sum += a[i][n] / a[i][i]
		}
		return sum
	}
	return slope(true)/slope(false) - 1
}

// drawnIn is the part of a wing's span over which its strips reach.
const drawnIn = stripsAcross / (stripsAcross + 0.25)

// Two dimensions, in closed form: a line vortex over half a cylinder on the ground, by the
// circle theorem (L. M. Milne-Thomson, Theoretical Hydrodynamics, 1940, sec. 6.21): images at
// the inverse point and below the ground.
func TestHalfCylinder(t *testing.T) {
	const r = 1.0
	var line []Point
	const n = 40
	for i := range n + 1 {
		s := math.Pi * float64(i) / n
		line = append(line, Point{-r * math.Cos(s), r * math.Sin(s)})
	}
	line[0].Z, line[n].Z = 0, 0
	d, err := assemble(line, 0, n, 400*drawnIn, mesh{across: []float64{0, 0.6, 1}, rows: []float64{0, 1}, fine: 0.1})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []Place{{0, 1.5, 0}, {0.8, 1.3, 0}, {-1.5, 1, 0}} {
		e, err := d.under(aero.Planform{Span: 400, Chord: 0.02}, c)
		if err != nil {
			t.Fatal(err)
		}
		z0 := complex(c.X, c.Z)
		inverse := r * r / cmplx.Conj(z0)
		up, rear := 0.0, 0.0
		const steps = 2000
		for i := range steps {
			s := math.Pi * (float64(i) + 0.5) / steps
			z := cmplx.Rect(r, s)
			// Downforce needs an anticlockwise vortex with x to the right, z up.
			w := complex(0, -1/(2*math.Pi)) * (1/(z-z0) - 1/(z-inverse) - 1/(z-cmplx.Conj(z0)) + 1/(z-cmplx.Conj(inverse)))
			up += real(w) * math.Sin(s) * math.Pi / steps * r
			rear += real(w) * math.Cos(s) * math.Pi / steps * r
		}
		near(t, fmt.Sprintf("lift of the cylinder, vortex at %v", z0), e.Solid.Lift, up, 0.015)
		near(t, fmt.Sprintf("forward force, vortex at %v", z0), e.Solid.Forward, -rear, 0.015)
	}
}

// Two dimensions, in closed form, for both wakes: a line vortex h above a half plane with its
// edge b behind it. Solid wake: u = Γ/π·h/(x² + h²). Free wake: with s = √(x + iz) from the
// edge the flow lies in a quarter plane. One of its sides is the wall, with an image of the
// other sense, the other one is the wake at constant potential, with an image of the same
// sense. A flow along the wall takes away the endless speed at the edge.
func TestEdgeOfTheDeck(t *testing.T) {
	m := mesh{fine: 0.03, edge: 0.004, near: 0.6, growth: 0.3, coarse: 1e3, wake: 400,
		across: []float64{0, 0.6, 1}, rows: []float64{0, 1}}
	d, err := build([]Point{{-400, 300}, {0, 300}}, 1e4*drawnIn, m)
	if err != nil {
		t.Fatal(err)
	}
	const a = 0.55 // m of the deck ahead of its edge that are counted
	for _, row := range []struct{ h, b float64 }{{0.13, 0.25}, {0.52, 0.25}, {0.26, 0.1}} {
		e, err := d.under(aero.Planform{Span: 1e4, Chord: 0.01}, Place{-row.b, 300 + row.h, 0})
		if err != nil {
			t.Fatal(err)
		}
		solid := (math.Atan(row.b/row.h) - math.Atan((row.b-a)/row.h)) / math.Pi
		near(t, fmt.Sprintf("solid wake, %v", row), e.Solid.Lift-e.Solid.Ahead(-a).Lift, solid, 0.01)
		s0 := cmplx.Sqrt(complex(-row.b, row.h))
		flow := func(s complex128) complex128 { // dF/ds of a vortex of the downforce's sense
			c := cmplx.Conj(s0)
			return complex(0, -1/(2*math.Pi)) * (1/(s-s0) + 1/(s-c) - 1/(s+c) - 1/(s+s0))
		}
		free := 0.0
		const steps = 2000
		for i := range steps { // along the wall, s = it, x = -t²
			s := complex(0, math.Sqrt(a)*(float64(i)+0.5)/steps)
			free -= real((flow(s)-flow(0))*1i) * math.Sqrt(a) / steps
		}
		near(t, fmt.Sprintf("free wake, %v", row), e.Free.Lift-e.Free.Ahead(-a).Lift, free, 0.03)
	}
}

package aero

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// slopeAndDrag returns a flat wing's lift slope per rad and its CDi/CL².
func slopeAndDrag(t *testing.T, p Planform) (slope, drag float64) {
	t.Helper()
	l, err := newLattice(p)
	if err != nil {
		t.Fatal(err)
	}
	n := len(l.weight)
	one := mat.NewVecDense(n, nil)
	for i := range n {
		one.SetVec(i, 1)
	}
	var cl mat.VecDense
	cl.MulVec(l.lift, one)
	slope = floats.Dot(cl.RawVector().Data, l.weight)
	return slope, mat.Inner(one, l.drag, one) / (slope * slope)
}

// Flat rectangular wings against lifting-surface values carried to zero panel
// size; at A = 1 the benchmark of E. O. Tuck, J. Austral. Math. Soc. B 35
// (1993) 127-144, 1.460227.
func TestPublishedLiftingSurface(t *testing.T) {
	var all []check
	for _, row := range []struct {
		a, slope float64
		source   string
	}{{1, 1.460227, "Tuck 1993"}, {4, 3.612, "converged lifting surface"}, {6, 4.215, "converged lifting surface"}} {
		slope, drag := slopeAndDrag(t, Planform{Span: row.a, Chord: 1})
		all = append(all, check{fmt.Sprintf("flat wing A = %g, slope per rad", row.a), row.slope, slope, 0.005 * row.slope, row.source})
		// No wing has less induced drag than the elliptic one.
		if k := drag * math.Pi * row.a; k < 1 || k > 1.06 {
			t.Errorf("A = %g: CDi is %.4f of the elliptic wing's, want 1 to 1.06", row.a, k)
		}
	}
	compare(t, all)
}

// The middle of a very long wing acts like its section in two dimensions: 2π
// per rad.
func TestLatticeOfALongWing(t *testing.T) {
	l, err := newLattice(Planform{Span: 2000, Chord: 1})
	if err != nil {
		t.Fatal(err)
	}
	if slope := floats.Sum(l.lift.RawRowView(0)); off(slope, 2*math.Pi) > 0.001 {
		t.Errorf("A = 2000: slope %.4f/rad in the middle, want 2π", slope)
	}
}

// End plates against minimum-induced-drag theory (H. Mangler 1937, NACA TM 856;
// computed values for plates centred on the wing) and Hoerner's rule
// A_eff/A = 1 + 1.9 h/b (Fluid-Dynamic Drag, 1965, ch. 7), h the full height.
// The lattice's wing is not loaded for least drag, so it lies a little below.
func TestPublishedEndPlates(t *testing.T) {
	var all []check
	for _, row := range []struct{ hb, theory, below float64 }{
		{0.05, 1.099, 0.02}, {0.10, 1.195, 0.02}, {0.20, 1.382, 0.025}, {0.30, 1.561, 0.03}, {0.50, 1.903, 0.07},
	} {
		const a = 5.0
		p := Planform{Span: a, Chord: 1}
		plain, _ := slopeAndDrag(t, p)
		p.Plate = Plate{Length: 1, Height: row.hb * a}
		slope, drag := slopeAndDrag(t, p)
		k := 1 / (drag * math.Pi * a)
		all = append(all,
			check{fmt.Sprintf("end plates h/b %.2f, A_eff/A", row.hb), row.theory, k, row.below, "TM 856 theory"},
			check{fmt.Sprintf("end plates h/b %.2f, A_eff/A", row.hb), 1 + 1.9*row.hb, k, row.below + 0.1*row.hb, "Hoerner's rule"})
		// NACA TN 2440: plates raise the lift slope; by how much lies near the
		// classical formula with the effective aspect ratio, within 10 % of the rise.
		if slope <= plain {
			t.Errorf("h/b %.2f: slope %.3f, without plates %.3f", row.hb, slope, plain)
		}
	}
	compare(t, all)
}

// Plates hung below the wing act less than plates centred on it, and longer
// ones hardly more: Soso and Selig, SAE 2002 (abstract).
func TestPlaceOfEndPlates(t *testing.T) {
	k := func(p Plate) float64 {
		_, drag := slopeAndDrag(t, Planform{Span: 5, Chord: 1, Plate: p})
		return 1 / (drag * math.Pi * 5)
	}
	centred := k(Plate{Length: 1, Height: 0.8})
	if longer := k(Plate{Length: 1.5, Height: 0.8, Ahead: 0.25}); math.Abs(longer/centred-1) > 0.02 {
		t.Errorf("longer plates: A_eff/A %.3f against %.3f", longer, centred)
	}
	up, down := k(Plate{Length: 1, Height: 0.8, Above: 0.3}), k(Plate{Length: 1, Height: 0.8, Above: -0.3})
	if math.Abs(up-down) > 1e-6 {
		t.Errorf("a flat wing's plates: %.5f above, %.5f below; by symmetry the same", up, down)
	}
	if up < 1 || off(up, centred) > 0.1 {
		t.Errorf("plates moved by 0.3 chords: A_eff/A %.3f, centred %.3f", up, centred)
	}
}

// Glauert's lifting line as an independent second route: four-term solution of
// the monoplane equation for a rectangular wing, "Elements of Aerofoil and
// Airscrew Theory" (1926), ch. XI: tau 0.10, 0.17, 0.22 and delta 0.019, 0.049,
// 0.076 at A/a0 of 0.5, 1 and 1.5; and the lattice lies below it, by 3 to 12 %.
func TestPublishedLiftingLine(t *testing.T) {
	var all []check
	for _, row := range []struct{ ratio, tau, delta float64 }{{0.5, 0.10, 0.019}, {1, 0.17, 0.049}, {1.5, 0.22, 0.076}} {
		tau, delta := liftingLine(row.ratio*2*math.Pi, 4)
		all = append(all,
			check{fmt.Sprintf("lifting line A/a0 = %.1f, tau", row.ratio), row.tau, tau, 0.006, "Glauert 1926"},
			check{fmt.Sprintf("lifting line A/a0 = %.1f, delta", row.ratio), row.delta, delta, 0.006, "Glauert 1926"})
	}
	for _, row := range []struct{ a, slope float64 }{{4, 4.0284}, {6, 4.5304}, {8, 4.8377}} {
		tau, _ := liftingLine(row.a, 60)
		line := 2 * math.Pi / (1 + 2/row.a*(1+tau))
		all = append(all, check{fmt.Sprintf("lifting line A = %g, slope per rad", row.a), row.slope, line, 0.001, "converged lifting line"})
		surface, _ := slopeAndDrag(t, Planform{Span: row.a, Chord: 1})
		if r := line / surface; r < 1.03 || r > 1.13 {
			t.Errorf("A = %g: lifting line over lattice %.3f, want 1.03 to 1.13", row.a, r)
		}
	}
	compare(t, all)
}

// liftingLine solves the monoplane equation of a rectangular wing of aspect
// ratio a and section slope 2π by collocation with n terms, and returns tau and
// delta of a = a0/(1 + a0/(πA)(1+tau)), CDi = CL²/(πA)(1+delta).
func liftingLine(a float64, n int) (tau, delta float64) {
	m := mat.NewDense(n, n, nil)
	rhs := mat.NewVecDense(n, nil)
	mu := math.Pi / (2 * a) // a0 c/(4b)
	for i := range n {
		th := math.Pi / 2 * float64(i+1) / float64(n)
		for k := range n {
			order := float64(2*k + 1)
			m.Set(i, k, math.Sin(order*th)*(order*mu+math.Sin(th)))
		}
		rhs.SetVec(i, mu*math.Sin(th))
	}
	var x mat.VecDense
	if err := x.SolveVec(m, rhs); err != nil {
		return math.NaN(), math.NaN()
	}
	slope := math.Pi * a * x.AtVec(0)
	for k := 1; k < n; k++ {
		r := x.AtVec(k) / x.AtVec(0)
		delta += float64(2*k+1) * r * r
	}
	return (2*math.Pi/slope-1)*a/2 - 1, delta
}

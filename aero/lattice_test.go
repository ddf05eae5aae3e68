package aero

import (
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
func TestLatticeAgainstLiftingSurface(t *testing.T) {
	for _, row := range []struct{ a, slope float64 }{{1, 1.460227}, {4, 3.612}, {6, 4.215}} {
		slope, drag := slopeAndDrag(t, Planform{Span: row.a, Chord: 1})
		if off(slope, row.slope) > 0.005 {
			t.Errorf("A = %g: slope %.4f/rad, want %.4f within 0.5 %%", row.a, slope, row.slope)
		}
		// No wing has less induced drag than the elliptic one.
		if k := drag * math.Pi * row.a; k < 1 || k > 1.06 {
			t.Errorf("A = %g: CDi is %.4f of the elliptic wing's, want 1 to 1.06", row.a, k)
		}
	}
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

// End plates against minimum-induced-drag theory (Mangler 1937, NACA TM 856;
// computed values for plates centred on the wing) and Hoerner's rule
// A_eff/A = 1 + 1.9 h/b (Fluid-Dynamic Drag, 1965, ch. 7). The lattice's wing
// is not loaded for least drag, so it may lie a little below the theory.
func TestEndPlatesAgainstTheory(t *testing.T) {
	for _, row := range []struct{ hb, theory float64 }{
		{0.05, 1.099}, {0.10, 1.195}, {0.20, 1.382}, {0.30, 1.561}, {0.50, 1.903},
	} {
		const a = 5.0
		p := Planform{Span: a, Chord: 1}
		_, plain := slopeAndDrag(t, p)
		p.Plate = Plate{Length: 1, Height: row.hb * a}
		slope, drag := slopeAndDrag(t, p)
		k := 1 / (drag * math.Pi * a)
		rule := 1 + 1.9*row.hb
		t.Logf("h/b %.2f: A_eff/A %.3f (plain %.3f), theory %.3f, rule %.3f, slope %.3f/rad", row.hb, k, 1/(plain*math.Pi*a), row.theory, rule, slope)
		if k > row.theory*1.01 || k < row.theory*0.93 {
			t.Errorf("h/b %.2f: A_eff/A %.3f, want %.3f (%.3f by Hoerner's rule)", row.hb, k, row.theory, rule)
		}
	}
}

package aero

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// Wing is a finite wing: a planform whose every strip follows one section's
// curve.
type Wing struct {
	Planform
	Section  Curve   // two-dimensional, of the section
	Friction float64 // friction coefficient of the end plates' wetted area; 0 leaves it out
	// Thickness of the section in chords, for the wing's curve past its stall by Spera's
	// correlation; 0 leaves it to the section's own curve, strip by strip.
	Thickness float64
}

// The angles of attack between which a wing's curve is worked out, and the
// step, rad: beyond them no rear wing is run.
const (
	lowestAngle  = -20 * deg
	highestAngle = 35 * deg
	angleStep    = 0.5 * deg
)

// startsTried is how many steps further up a curve is begun where it cannot be at the section's
// least lift.
const startsTried = 12

// Solution is a wing's curve and how it was reached.
type Solution struct {
	Curve     Curve
	Slope     float64 // dCL/dα of the bare lattice with a 2π section, per rad
	EndedLow  string  // why the curve begins where it begins
	EndedHigh string  // why it ends where it ends
}

// Solve works out the wing's curve: at each angle of attack the strips'
// effective angles are such that the lattice and the section's own curve give
// one lift. The curve reaches as far as the section's data do, or as the
// solution converges; Solution says which.
//
// A strip at angle θ in the lattice has lift cl = Σ lift·θ; the flow it feels
// has the angle cl/2π − δ, where δ = θ − α stands for the section's camber and
// loss of lift. Newton's method on δ, carried from angle to angle.
func (w Wing) Solve() (Solution, error) {
	lat, err := newLattice(w.Planform)
	if err != nil {
		return Solution{}, fmt.Errorf("vortex lattice: %w", err)
	}
	s := coupling{lattice: lat, section: w.Section, n: len(lat.weight)}
	start := s.start()
	s.slope = w.Section.Slope(start)
	if math.IsNaN(start) {
		return Solution{}, fmt.Errorf("the section's curve has no point within %g° to %g°", lowestAngle/deg, highestAngle/deg)
	}
	up, high := s.walk(start, angleStep, highestAngle)
	// Where the section's data begin there, the tips may feel less than they reach.
	for step := 1; len(up) == 0 && step <= startsTried; step++ {
		start += angleStep
		up, high = s.walk(start, angleStep, highestAngle)
	}
	down, low := s.walk(start-angleStep, -angleStep, lowestAngle)
	all := make([]strips, 0, len(up)+len(down))
	for i := len(down) - 1; i >= 0; i-- {
		all = append(all, down[i])
	}
	all = append(all, up...)

	var alpha, cl, cd, cm []float64
	for _, st := range all {
		k := w.total(lat, st)
		alpha, cl, cd, cm = append(alpha, st.alpha), append(cl, k.CL), append(cd, k.CD), append(cm, k.CM)
	}
	curve, err := NewCurve(alpha, cl, cd, cm)
	if err != nil {
		return Solution{}, fmt.Errorf("wing: %w (%s)", err, high)
	}
	if w.Thickness > 0 {
		curve = w.withSpera(curve)
	}
	slope := 0.0
	for j := range s.n {
		slope += lat.weight[j] * floats.Sum(lat.lift.RawRowView(j))
	}
	return Solution{curve, slope, low, high}, nil
}

// total adds the strips up to the wing's coefficients.
func (w Wing) total(lat *lattice, st strips) Coefficients {
	k := Coefficients{CL: floats.Dot(st.cl, lat.weight), CM: floats.Dot(lat.moment, st.theta)}
	for j, a := range st.felt {
		own, _ := w.Section.At(a)
		k.CD += own.CD * lat.share[j]
		k.CM += own.CM * lat.arm[j]
	}
	theta := mat.NewVecDense(len(st.theta), st.theta)
	k.CD += mat.Inner(theta, lat.drag, theta)
	k.CD += 4 * w.Friction * w.Plate.Length * w.Plate.Height / w.Area() // two plates, two sides each
	return k
}

package aero

import (
	"fmt"
	"math"
)

// Gurney is a strip at the trailing edge, square to the chord on the pressure side, of a
// height in chords. The zero Gurney is none.
type Gurney float64

// TallestGurney is the height in chords up to which published tests go.
const TallestGurney Gurney = 0.03

// Lift returns what the strip adds to a section's lift coefficient at every angle with the
// flow attached, and one standard uncertainty of it: tests scatter by a quarter about it.
// Source: J. A. C. Kentfield, AIAA 93-4883 (1993), a cubic fit over the height in % of the
// chord, for heights to 3 %.
func (g Gurney) Lift() (cl, stdUnc float64) {
	h := 100 * float64(g)
	cl = h * (0.31858 + h*(-0.07281+h*0.00693))
	return cl, 0.25 * cl
}

// Drag returns what the strip adds to a profile drag coefficient of cd.
// Source: Kentfield (1993), with the height as a fraction of the chord.
func (g Gurney) Drag(cd float64) float64 {
	return 0.135 * math.Pow(max(cd, 1e-3), -1.0/3) * math.Pow(float64(g), 4.0/3)
}

// What the strip adds to the maximum CL is what it adds elsewhere, give or take this much of
// lift coefficient: measured 0.37 for a calculated 0.40 (Y. Li, J. Wang, P. Zhang, Flow,
// Turbulence and Combustion 68 (2002) 27-39, NACA 0012 at 2.1e6) and 0.47 for 0.36 to 0.40 (B.
// L. Storms, C. S. Jang, J. Aircraft 31 (1994) 542-547, NACA 4412 at 2e6, from memory).
const gurneyTopStdUnc = 0.10

// A strip brings the stall half a degree forward, give or take a degree, rad.
// Source: the same tests (from memory, uncertain).
const (
	gurneyStall       = -0.5 * deg
	GurneyStallStdUnc = 1 * deg
)

// gurneyArm is by how much the lift of the strip acts behind the quarter chord, in chords: that
// of a very small flap at the trailing edge.
// Source: thin-airfoil theory, H. Glauert, "The Elements of Aerofoil and Airscrew Theory"
// (1926): Δcl = 4φ and Δcm = −φ for a flap that ends the chord at the small angle φ.
const gurneyArm = 0.25

// MaxLiftStdUnc returns one standard uncertainty of what the strip adds to the maximum CL.
func (g Gurney) MaxLiftStdUnc() float64 {
	if g <= 0 {
		return 0
	}
	_, u := g.Lift()
	return max(u, gurneyTopStdUnc*min(1, float64(g)/0.01))
}

// With returns the section with the strip at its trailing edge.
func (s Section) With(g Gurney) Section {
	if g <= 0 {
		return s
	}
	lift, stdUnc := g.Lift()
	below := math.Inf(-1)
	if s.LeastLift < 0 {
		below = s.LeastAngle
	}
	with := s.applied(reshape{
		below: below,
		lift:  lift, topLift: lift, topAngle: gurneyStall, moment: -gurneyArm * lift,
		drag: func(cd float64) float64 { return cd + g.Drag(cd) },
	})
	with.Notes = append(with.Notes[:len(with.Notes):len(with.Notes)],
		fmt.Sprintf("Gurney flap of %.1f %% of the chord: lift coefficient of the section +%.2f ± %.2f at every angle", 100*g, lift, stdUnc))
	return with
}

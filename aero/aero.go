// Package aero answers: what force does a wing make, at an angle, in moving
// air? It goes from the air (density, viscosity) over the section (its shape
// or its measured curve) to the finite wing (a lifting surface with end
// plates) and on to forces across and along the flow.
//
// SI units throughout: m, N, Pa, kg, s, K; angles in radians. Lift is
// positive in the sense in which the section lifts: a wing that hangs upside
// down on a car makes downforce with positive lift, and the package need not
// know. Moments are about the quarter-chord point, positive when they raise
// the angle of attack.
//
// It knows no car, no file and no screen. It leaves out compressibility (a
// road car's Mach number stays below 0.25), the ground, and everything the
// car's body does to the flow beyond one local flow angle and speed ratio.
package aero

import "math"

const deg = math.Pi / 180 // one degree in rad

// Coefficients are a wing's or section's force coefficients at one angle of
// attack, all on the same area and chord. One that is not known is NaN.
type Coefficients struct {
	CL, CD, CM float64 // lift, drag, pitching moment about the quarter chord
}

// Force is what the air does to a wing.
type Force struct {
	Lift, Drag float64 // N, across and along the flow that meets the wing
	Moment     float64 // N·m about the quarter-chord point
}

// Times returns the forces at dynamic pressure q in Pa on a wing of the given
// area in m² and chord in m.
func (c Coefficients) Times(q, area, chord float64) Force {
	return Force{c.CL * q * area, c.CD * q * area, c.CM * q * area * chord}
}

// Resolve turns lift and drag, which lie across and along the local flow, into
// force across and along the car's own path, for a flow that comes down onto
// the wing at angle eps in rad (downwash positive) and a wing that lifts
// downwards: down = L cos ε + D sin ε, own = D cos ε, which is the wing's own drag, and
// lean = −L sin ε, by which the lift leans rearwards; below zero it leans forwards.
func (f Force) Resolve(eps float64) (down, own, lean float64) {
	sin, cos := math.Sincos(eps)
	return f.Lift*cos + f.Drag*sin, f.Drag * cos, -f.Lift * sin
}

// DynamicPressure returns ½ρV² in Pa for density rho in kg/m³ and speed v in m/s.
func DynamicPressure(rho, v float64) float64 { return rho * v * v / 2 }

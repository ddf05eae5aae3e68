// Package deck answers: how hard does a wing that makes downforce pull up on the body below
// it, where, and how much does the body change the wing's lift slope?
//
// The air between the wing and the deck is sucked at by both: the wing's lower side pulls
// the wing down and the deck, rear window and roof up. Over an endless flat deck all of the
// downforce would be given back.
//
// Method: linearised potential flow of the wing's disturbance. The wing is a vortex lattice,
// the body's skin a sheet of sources that cancel the flow through it (J. L. Hess and A. M. O.
// Smith, Prog. Aeronaut. Sci. 8 (1967) 1-138), the ground a plane of symmetry. Both are
// solved together. Pressures on the skin are p = -ρ V u. What the air does behind the tail
// decides how much of the suction counts, and potential flow does not know it. So there are
// two answers, which are meant as the ends of what can be expected:
//
//   - a solid wake: the wake holds its shape, as if the body went on at the tail's height;
//   - a free wake: it yields until the pressure in it is what it is without the wing, and the
//     flow leaves the tail's edge smoothly, at that pressure.
//
// They are near to each other for a wing that stands well ahead of the tail, and far apart for
// one above it or behind: there even the sign of the body's lift is open.
//
// Left out: separation ahead of the tail, viscosity, flow below the car, that the flow round
// the body is faster or slower than the car (some 5 % of the lift on a notchback, 10 % on a
// fastback), wing uprights, side force. Where the flow along deck or window is separated, the
// suction there is smaller; Reaction.Ahead leaves it out. No measurement was at hand to
// check the figures for a car against.
//
// SI units. x to the rear from above the rear axle, z up from the ground. Forces are over the
// wing's downforce on the car as it then is.
package deck

import (
	"errors"
	"fmt"
	"math"

	"stanchion/aero"
)

// Place is where a wing stands.
type Place struct {
	X, Z  float64 // quarter chord, m
	Angle float64 // rad, chord against the ground, positive with the trailing edge up
}

// Effect is what body and wing do to each other, for the two wakes.
type Effect struct {
	Solid, Free Reaction
}

// Reaction is what the body feels of the wing, each over the wing's downforce, and what the
// wing feels of the body.
type Reaction struct {
	Lift    float64 // of the body, upwards
	Forward float64 // force on the body, forwards; suction on a rear window makes it negative
	NoseUp  float64 // m, moment about the ground point below the rear axle, of both forces
	Rise    float64 // the wing's lift slope over that of the same wing in free air, less 1

	slices   []Point   // the ends of the slices of the profile
	up, back []float64 // force on each slice, over the downforce
}

// At returns x of the line along which the lift acts, m, and whether there is one on the
// body: where suction and pressure cancel there is none, and NoseUp says what is left.
func (r Reaction) At() (x float64, ok bool) {
	moment := 0.0
	for i := range r.up {
		moment += r.up[i] * (r.slices[i].X + r.slices[i+1].X) / 2
	}
	n := len(r.slices)
	if math.Abs(r.Lift) < 0.005 || n == 0 {
		return 0, false
	}
	x = moment / r.Lift
	return x, x >= r.slices[0].X && x <= r.slices[n-1].X
}

// Ahead returns the part of the reaction that acts ahead of x, m, for a flow that is separated
// from there on. Rise stays what it is.
func (r Reaction) Ahead(x float64) Reaction {
	up, back := make([]float64, len(r.up)), make([]float64, len(r.up))
	for i := range r.up {
		a, b := r.slices[i].X, r.slices[i+1].X
		part := 1.0
		if b > x {
			part = max(0, x-a) / (b - a)
		}
		up[i], back[i] = part*r.up[i], part*r.back[i]
	}
	r.up, r.back = up, back
	return r.total()
}

// total sums the slices.
func (r Reaction) total() Reaction {
	r.Lift, r.Forward, r.NoseUp = 0, 0, 0
	for i := range r.up {
		x, z := (r.slices[i].X+r.slices[i+1].X)/2, (r.slices[i].Z+r.slices[i+1].Z)/2
		r.Lift += r.up[i]
		r.Forward -= r.back[i]
		r.NoseUp += r.back[i]*z - r.up[i]*x
	}
	return r
}

// Under returns what a wing and the body do to each other. The wing is taken as flat, without
// twist; what an end plate reaches down to the body or below is cut off. Time: about 7 ms.
func (d *Deck) Under(p aero.Planform, at Place) (Effect, error) {
	if err := errors.Join(checkWing(p), at.check()); err != nil {
		return Effect{}, err
	}
	if floor := d.lowest(p, at.X, at.Angle); at.Z < floor {
		return Effect{}, tooLow(at.X, at.Z, floor)
	}
	return d.under(d.trimmed(p, at), at)
}

func tooLow(x, z, floor float64) error {
	return fmt.Errorf("the wing's quarter chord at x %.3f m, z %.3f m is in the body or its wake, ahead of something higher, "+
		"or too near for this method; raise it to %.3f m or more", x, z, floor)
}

// under is Under for a wing that is clear of the body.
func (d *Deck) under(p aero.Planform, at Place) (Effect, error) {
	f := d.fields(p, at)
	g, err := atUnitAngle(f.lattice.vs, f.alone)
	if err != nil {
		return Effect{}, fmt.Errorf("the wing's lattice cannot be solved: %w", err)
	}
	alone := downforce(f.lattice.vs, g)
	solid, err := d.reaction(f, 0, alone)
	free, err2 := d.reaction(f, 1, alone)
	if err := errors.Join(err, err2); err != nil {
		return Effect{}, fmt.Errorf("wing and body cannot be solved together: %w", err)
	}
	return Effect{solid, free}, nil
}

func checkWing(p aero.Planform) error {
	if !(p.Span > 0 && p.Span <= longest && p.Chord > 0 && p.Chord <= longest && p.TipChord >= 0 && p.TipChord <= longest) {
		return fmt.Errorf("the wing's span %g m, chord %g m and chord at the tip %g m must be above 0 (the last may be 0) and below %g m",
			p.Span, p.Chord, p.TipChord, longest)
	}
	e := p.Plate
	if !(e.Height >= 0 && e.Height <= longest && e.Length >= 0 && e.Length <= longest && math.Abs(e.Above)+math.Abs(e.Ahead) <= longest) {
		return fmt.Errorf("the end plates' length %g m and height %g m must be 0 to %g m", e.Length, e.Height, longest)
	}
	return nil
}

const steepest = math.Pi / 4 // rad, of a wing: beyond it nothing is linear

func (at Place) check() error {
	if !(math.Abs(at.X) <= 2*longest && at.Z > 0 && at.Z <= 2*longest && math.Abs(at.Angle) <= steepest) {
		return fmt.Errorf("the wing is at x %g m, z %g m, angle %g rad; z must be above 0, x and z within %g m, the angle within %.2f rad",
			at.X, at.Z, at.Angle, 2*longest, steepest)
	}
	return nil
}

// lowest returns the least height of the quarter chord, m, at which the wing is clear of body,
// wake and ground by as much as the panels are long, and of what is behind it.
func (d *Deck) lowest(p aero.Planform, x, angle float64) float64 {
	sin, cos := math.Sincos(angle)
	const parts = 8
	z := math.Inf(-1)
	for i := range parts + 1 {
		s := p.Chord * (float64(i)/parts - 0.25)
		floor, over := heightAt(d.around, x+s*cos)
		clear := d.mesh.fine
		if over {
			clear = max(clear, d.mesh.size(x+s*cos, d.slices[len(d.slices)-1].X))
		}
		z = max(z, max(0, floor)+clear-s*sin)
	}
	// The wing's trailing vortices run straight to the rear, and must not meet the body.
	s := 0.75 * p.Chord
	for _, q := range d.around {
		if q.X > x+s*cos {
			z = max(z, q.Z+d.mesh.fine-s*sin)
		}
	}
	return z
}

// trimmed returns the wing with end plates that stay above the body by half a panel.
func (d *Deck) trimmed(p aero.Planform, at Place) aero.Planform {
	e := &p.Plate
	if e.Height <= 0 || e.Length <= 0 {
		return p
	}
	sin, cos := math.Sincos(at.Angle)
	low, high := -e.Above-e.Height/2, -e.Above+e.Height/2
	front := -tipChord(p)/4 - e.Ahead
	const parts = 8
	for i := range parts + 1 {
		s := front + e.Length*float64(i)/parts
		floor := 0.0
		if p.Span <= d.width+2*d.mesh.fine { // else the plates stand beside the body
			z, _ := heightAt(d.around, at.X+s*cos)
			floor = max(0, z)
		}
		low = max(low, (floor+d.mesh.fine/2-at.Z-s*sin)/cos)
	}
	e.Height, e.Above = max(0, high-low), -(low+high)/2
	return p
}

package sheet

import (
	"math"

	"stanchion/holes/plane"
)

// Load is what acts on a plate's head, about a place in its middle plane.
type Load struct {
	At      plane.Point
	X, Z    float64 // N in the plane
	Turn    float64 // N·mm in the plane, positive from x to z
	Side    float64 // N across the plane
	MX, MZ  float64 // N·mm about x and z, right-handed with y across the plane
	OwnX    float64 // N of the plate itself all over, spread over its area
	OwnZ    float64
	OwnSide float64
}

// Cut is what a chord has to bear.
type Cut struct {
	Normal float64 // N, positive pulled
	Shear  float64 // N along the chord
	Turn   float64 // N·mm in the plane, about the middle of its metal
	Side   float64 // N across the plane
	Bend   float64 // N·mm about the chord
	Twist  float64 // N·mm about the direction square to it
}

// Bear returns what a parting chord has to bear for equilibrium of what lies beyond it: no
// stiffness comes into it. whole is the plate's area, mm², that its own loads are spread over.
func (p *Parted) Bear(l Load, whole float64) Cut {
	c := p.Centre()
	way, n := p.Way(), p.Normal
	part := 0.0
	if whole > 0 {
		part = min(1, p.Area/whole)
	}
	fx, fz, fy := l.X+part*l.OwnX, l.Z+part*l.OwnZ, l.Side+part*l.OwnSide
	dx, dz := l.At.X-c.X, l.At.Z-c.Z
	mx, mz := p.Mass.X-c.X, p.Mass.Z-c.Z
	turn := l.Turn + dx*l.Z - dz*l.X + part*(mx*l.OwnZ-mz*l.OwnX)
	// r × F with r in the plane and F across it: about x −dz Fy, about z dx Fy.
	bx := l.MX - dz*l.Side - part*mz*l.OwnSide
	bz := l.MZ + dx*l.Side + part*mx*l.OwnSide
	return Cut{
		Normal: fx*n.X + fz*n.Z,
		Shear:  fx*way.X + fz*way.Z,
		Turn:   turn,
		Side:   fy,
		Bend:   bx*way.X + bz*way.Z,
		Twist:  bx*n.X + bz*n.Z,
	}
}

// Stress are the parts of a chord's stress, MPa, linearised: through the thickness by the
// theory of plates, along the chord by its mean and its linear part at the end that is worse.
// Source: EN 13445-3:2014 Annex C, membrane and bending parts.
type Stress struct {
	Mean  float64 // of the force square to the chord
	Turn  float64 // linear part at the worse end, of bending in the plane
	Shear float64 // mean
	Bend  float64 // at the surface, of bending across the plane
	Twist float64 // at the surface
}

// Stress returns the stress of what a chord bears in a plate t mm thick: linear along the
// chord, as a beam of its metal.
func (c *Chord) Stress(k Cut, t float64) Stress {
	a := c.Width * t
	return Stress{
		Mean:  k.Normal / a,
		Turn:  k.Turn * c.Far / (c.Inertia * t),
		Shear: math.Hypot(k.Shear, k.Side) / a,
		Bend:  6 * k.Bend / (a * t),
		Twist: k.Twist * torsion(c.Width/float64(len(c.Spans)), t) / (a * t),
	}
}

// torsion returns τ b t²/T of a bar b by t mm at the middle of its broad side.
// Source: W. C. Young and R. G. Budynas, "Roark's Formulas for Stress and Strain", Table 10.1,
// solid rectangle.
func torsion(b, t float64) float64 {
	r := min(t/b, b/t)
	k := 3 * (1 + r*(0.6095+r*(0.8865+r*(-1.8023+r*0.91))))
	if b < t {
		return k * t / b // the thin way is along the chord: t b² in place of b t²
	}
	return k
}

// Equivalent is √(σ² + 3τ²) with all parts at their worst in one place.
// Source: EN 1999-1-1:2007 6.2.1(5), EN 1993-1-1:2005 6.2.1(5).
func (s Stress) Equivalent() float64 {
	sigma := math.Abs(s.Mean) + math.Abs(s.Turn) + math.Abs(s.Bend)
	tau := math.Abs(s.Shear) + math.Abs(s.Twist)
	return math.Sqrt(sigma*sigma + 3*tau*tau)
}

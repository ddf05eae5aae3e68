// Package holes answers one question of geometry: in which ways can parts that
// are drilled full of holes be bolted together, and where does the last part
// of the chain then sit?
//
// Everything is two-dimensional, in the side view: x to the rear, z up,
// lengths in millimetres, angles in radians, counter-clockwise positive, so
// that a positive turn lifts the rear of a part. Parts are rigid and never
// mirrored. The package knows no car, no file and no screen; how strong a bolt
// is and whether metal is in the way are other packages' business.
package holes

import (
	"math"

	"stanchion/holes/plane"
)

// Hole is one round hole in a part, or one position of a bolt in a slot.
type Hole struct {
	ID    string  // as marked on the part, "A3"
	X, Z  float64 // centre, mm, in the part's own frame
	D     float64 // diameter as drilled, mm
	Joint string  // the only joint that may use it; "" for any

	Slot     string  // the slot it is a position of; "" for a round hole
	Distance float64 // mm from the slot's first end
}

// At returns the centre of the hole in the part's own frame, mm.
func (h Hole) At() plane.Point { return plane.Point{X: h.X, Z: h.Z} }

// Takes reports whether a bolt of shank d mm passes through the hole.
func (h Hole) Takes(d float64) bool { return d <= h.D+eps }

// Part is one rigid piece with its holes.
type Part struct {
	Name  string
	Holes []Hole
}

// Joint lies between the lower and the upper part of a chain and says what
// bolts them together.
type Joint struct {
	Name     string
	Shank    float64 // bolt shank diameter, mm
	MinBolts int     // fewest bolts that count as bolted; below 2 is read as 2
	MaxTurn  float64 // largest turn of the upper part from the drawn position, either way, rad
}

// Chain is a row of parts, the fixed one first, with one joint between each
// and the next: len(Joints) == len(Parts)-1.
type Chain struct {
	Parts  []Part
	Joints []Joint
}

// Pair is one bolt of a fit: a hole of the lower part and a hole of the upper
// part, as indices into their Holes.
type Pair struct{ Lower, Upper int }

// Clearance returns by how much, in mm, the centres of two holes of diameters
// d1 and d2 mm may be off when one bolt of the given shank diameter goes
// through both: (d1 + d2)/2 - shank. With both holes drilled to the medium
// series of ISO 273 and an M8 bolt it is 1 mm.
func Clearance(d1, d2, shank float64) float64 { return (d1+d2)/2 - shank }

// Slack returns by how much, in mm, two bolts clear when both are in: their
// two clearances together, less the difference of the hole spacings of the
// lower and the upper part. Below zero they do not go in together.
//
// For all spacings a, b and clearances c:
//
//	Slack(a, b, c) == Slack(b, a, c)
//	Slack(a, a, c) == c
func Slack(lower, upper, clearance float64) float64 { return clearance - math.Abs(lower-upper) }

// TwoBoltPlay returns the largest turn either way, in radians, for which two
// bolts still go in: hole spacings lower and upper in mm, clearance the two
// bolts' clearances together, mm. By the law of cosines,
//
//	cos φ = (L₁² + L₂² − c²) / (2 L₁ L₂),
//
// which holds for Slack >= 0; the result is NaN where it is negative, and π
// where the clearance is so large that the parts can turn right round.
func TwoBoltPlay(lower, upper, clearance float64) float64 {
	if Slack(lower, upper, clearance) < -eps {
		return math.NaN()
	}
	cos := (lower*lower + upper*upper - clearance*clearance) / (2 * lower * upper)
	return math.Acos(min(1, max(-1, cos)))
}

// eps absorbs rounding in comparisons of lengths, mm: a nanometre.
const eps = 1e-6

// Package pattern answers: how does a person tell where the holes of a plate are, and where
// are they then, how surely?
//
// Holes are told as rows and columns, by distances from edges or from one another, on an arc
// about a pivot, as slots, or by distances between holes alone (Solve). Everything is in the
// side view and in the plate's own frame: x to the rear, z up, lengths in mm, angles in rad,
// the rear end higher positive. The package knows no car and no file; what is wrong with what
// was typed it says in a line for each item.
package pattern

import (
	"math"

	"stanchion/holes/plane"
)

// Standard uncertainties of a length that is read once, mm. Common practice, no source: a
// caliper's jaws in holes, a tape between edges that the eye judges.
const (
	Caliper = 0.1
	Tape    = 0.5
)

// Edges says between what a distance of two holes was measured.
type Edges int

// The ways in which calipers and tapes are held to two holes.
const (
	Centres Edges = iota
	Inner         // between the edges that face each other
	Outer         // over both holes
	Near          // from the first hole's edge that faces away from the second to the second's nearer edge
	Far           // from the first hole's edge that faces the second to the second's farther edge
)

// edgeWords are the ways as they are typed.
var edgeWords = map[string]Edges{"centres": Centres, "centers": Centres, "centre": Centres, "center": Centres, "inner": Inner, "inside": Inner,
	"outer": Outer, "outside": Outer, "near": Near, "far": Far}

// EdgesNamed returns the way that a word names.
func EdgesNamed(word string) (Edges, bool) {
	e, ok := edgeWords[word]
	return e, ok
}

// Centre returns the distance of the centres of two holes whose diameters are d1 and d2, all
// in mm, from the distance measured in a way.
//
// By hand: 51.6 inner between two holes of 8.4 is 60.0; 68.4 outer is 60.0; of 8.4 and 10.4
// the same side's edges, near, are 59.0 apart when the centres are 60.0.
func Centre(measured, d1, d2 float64, by Edges) float64 {
	switch by {
	case Inner:
		return measured + (d1+d2)/2
	case Outer:
		return measured - (d1+d2)/2
	case Near:
		return measured + (d2-d1)/2
	case Far:
		return measured + (d1-d2)/2
	}
	return measured
}

// FromEdge returns how far the centre of a hole of diameter d is from a plate's edge, when it
// was measured to the centre, to the hole's near edge or to its far edge; mm.
func FromEdge(measured, d float64, by Edges) float64 {
	switch by {
	case Near, Inner:
		return measured + d/2
	case Far, Outer:
		return measured - d/2
	}
	return measured
}

// Step returns the distance of neighbours in a row of n holes that is as long as said from
// the first to the last, mm; 0 for one hole.
func Step(firstToLast float64, n int) float64 {
	if n < 2 {
		return 0
	}
	return firstToLast / float64(n-1)
}

// Grid is holes in rows and columns, its first the lowest in front.
type Grid struct {
	Rows, Columns int
	Up, Along     float64 // mm from the first to the last row, and from the first to the last column
	StdUnc        float64 // mm, of each of the two
}

// Points returns the holes' places from the first one on, row by row from below, each from
// the front to the rear.
func (g Grid) Points() []plane.Point {
	all := make([]plane.Point, 0, max(g.Rows*g.Columns, 0))
	for r := range g.Rows {
		for c := range g.Columns {
			all = append(all, plane.Point{X: float64(c) * Step(g.Along, g.Columns), Z: float64(r) * Step(g.Up, g.Rows)})
		}
	}
	return all
}

// StdUncOf returns the standard uncertainty in mm of a hole's x and z to the first one: a
// length over all gaps shares its error out among them.
func (g Grid) StdUncOf(row, column int) (x, z float64) {
	return Step(g.StdUnc, g.Columns) * float64(column), Step(g.StdUnc, g.Rows) * float64(row)
}

// Arc returns places on a circle about a pivot, at a radius in mm and angles in rad: 0 is
// straight behind the pivot, and positive is higher.
func Arc(pivot plane.Point, radius float64, angles []float64) []plane.Point {
	all := make([]plane.Point, len(angles))
	for i, a := range angles {
		sin, cos := math.Sincos(a)
		all[i] = plane.Point{X: pivot.X + radius*cos, Z: pivot.Z + radius*sin}
	}
	return all
}

// ChordTurn returns the angle in rad between two holes on an arc that are a chord apart, straight from centre to centre;
// both in mm. NaN for a chord above twice the radius.
//
// By hand: a chord as long as the radius is a side of the regular hexagon, 60°.
func ChordTurn(chord, radius float64) float64 { return 2 * math.Asin(chord/(2*radius)) }

// LengthTurn returns the angle in rad between two holes on an arc that are so far apart along it; both in mm.
func LengthTurn(length, radius float64) float64 { return length / radius }

// Spread returns n angles from the first to the last, evenly.
func Spread(first, last float64, n int) []float64 {
	all := make([]float64, max(n, 0))
	for i := range all {
		all[i] = first + Step(last-first, n)*float64(i)
	}
	return all
}

// SlotCentres returns how far apart the centres of a slot's ends are, mm, from its overall
// length and its width.
func SlotCentres(overall, width float64) float64 { return overall - width }

// Package sheet answers: where is there metal in a drilled plate, which straight lines cut
// it through, and what has a cut to bear? It knows outlines, holes, slots and cut-outs, and
// equilibrium; how stiff the metal is does not come into it.
//
// Lengths are in mm, forces in N, moments in N·mm, stresses in MPa. The plate lies in the
// plane of x and z, its thickness runs along y.
package sheet

import (
	"math"

	"stanchion/holes/plane"
)

// Round is a round opening.
type Round struct {
	At     plane.Point
	Radius float64 // mm
}

// Slot is an opening with round ends about a line of points.
type Slot struct {
	Line   []plane.Point // two or more
	Radius float64       // mm
}

// Shape is the metal of a plate seen from the side.
type Shape struct {
	Outline []plane.Point // closed from the last corner to the first
	Rounds  []Round
	Slots   []Slot
	Cutouts [][]plane.Point // closed as Outline is
	Floor   float64         // mm: no metal counts below this z; use NoFloor for none
}

// NoFloor is the floor of a plate all of which counts.
var NoFloor = math.Inf(-1)

// Gap returns how far a point is from the nearest edge, mm: positive in the metal, negative
// outside it.
func (s *Shape) Gap(p plane.Point) float64 {
	gap := p.Z - s.Floor
	d, inside := plane.EdgeDistance(s.Outline, p)
	if !inside {
		d = -d
	}
	gap = min(gap, d)
	for _, r := range s.Rounds {
		gap = min(gap, p.Distance(r.At)-r.Radius)
	}
	for _, t := range s.Slots {
		gap = min(gap, toLine(p, t.Line)-t.Radius)
	}
	for _, c := range s.Cutouts {
		d, inside := plane.EdgeDistance(c, p)
		if inside {
			d = -d
		}
		gap = min(gap, d)
	}
	return gap
}

// Inside reports whether a point lies in the metal.
func (s *Shape) Inside(p plane.Point) bool { return s.Gap(p) > 0 }

// Box returns the corners of the box around the metal that counts.
func (s *Shape) Box() (lo, hi plane.Point) {
	lo, hi = plane.Box(s.Outline)
	lo.Z = max(lo.Z, s.Floor)
	return lo, hi
}

// toLine is the distance of a point from a line of points, mm.
func toLine(p plane.Point, line []plane.Point) float64 {
	least := math.Inf(1)
	for i := range line {
		d, _ := plane.ToSegment(p, line[i], line[min(i+1, len(line)-1)])
		least = min(least, d)
	}
	return least
}

// Narrowest returns the least width of metal between two openings or an opening and the
// outline, mm: the narrowest ligament. It is infinite without openings.
func (s *Shape) Narrowest() float64 {
	least := math.Inf(1)
	type opening struct {
		line   []plane.Point
		radius float64
		closed bool
	}
	var all []opening
	for _, r := range s.Rounds {
		all = append(all, opening{[]plane.Point{r.At}, r.Radius, false})
	}
	for _, t := range s.Slots {
		all = append(all, opening{t.Line, t.Radius, false})
	}
	for _, c := range s.Cutouts {
		all = append(all, opening{c, 0, true})
	}
	for i, a := range all {
		least = min(least, apart(a.line, a.closed, s.Outline, true)-a.radius)
		for _, b := range all[i+1:] {
			least = min(least, apart(a.line, a.closed, b.line, b.closed)-a.radius-b.radius)
		}
	}
	return least
}

// apart is the least distance of two lines of points, mm.
func apart(a []plane.Point, aClosed bool, b []plane.Point, bClosed bool) float64 {
	least := math.Inf(1)
	one := func(points, line []plane.Point, closed bool) {
		n := len(line)
		for _, p := range points {
			for i := range n {
				j := i + 1
				if j == n {
					if !closed && n > 1 {
						break
					}
					j = 0
				}
				d, _ := plane.ToSegment(p, line[i], line[j])
				least = min(least, d)
			}
		}
	}
	one(a, b, bClosed)
	one(b, a, aClosed)
	return least
}

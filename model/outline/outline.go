// Package outline draws the edge of a plate around its holes: with the distance from the edge that each hole wants, clear
// of what the plate must not touch, in one piece whose bands have a least width, with straight sides and with inside radii that a
// cutter can go round.
//
// Three families of shapes: Convex is the tightest outline without inward bends. Cranked is a string drawn tight around
// holes and bands that cannot pass through a keep-out, so that it is convex but for where it bends round one. Slim draws each group of
// holes by itself and joins the groups by bands along the shortest tree.
//
// Lengths are in mm, in the plate's own frame. An outline is the corners of a polygon, counter-clockwise; arcs are drawn as
// chords that lie outside of them, at holes and at keep-outs, so that no distance comes out smaller than asked for. Corners are rounded to
// hundredths. The package knows shapes, not cars, and nothing of strength.
package outline

import (
	"math"

	"stanchion/holes/plane"
)

// Hole is a place that the outline goes around.
type Hole struct {
	At    plane.Point
	Usual float64 // mm from its middle to the edge
	Least float64 // mm, where a keep-out leaves no room for the usual
}

// KeepOut is a polygon that the plate stays away from, and how far.
type KeepOut struct {
	Polygon []plane.Point
	Away    float64 // mm
}

// Rules are what a shape keeps.
type Rules struct {
	Band   float64 // mm, least width of what joins holes; less only beside a hole that has no room for it
	Radius float64 // mm, least of inside bends
}

// over is how far the corners of the polygon around a circle are outside of it at most, mm.
const over = 0.13

// corners is how many chords a circle of a radius in mm is drawn with.
func corners(radius float64) int {
	return 4 * max(3, int(math.Ceil(math.Pi/4/math.Acos(radius/(radius+over))))) // with sides along the axes
}

// slack is how far the string and what it is drawn around are kept apart before it is drawn tight, mm: what a hole whose room is
// just the usual distance may lose.
const slack = 0.3

// Convex returns the tightest convex outline with the usual distance at every hole.
func Convex(hs []Hole) []plane.Point {
	var all []plane.Point
	for _, h := range hs {
		all = append(all, circle(h.At, h.Usual)...)
	}
	return rounded(plane.Hull(all))
}

// Cranked returns the outline of a string drawn tight around holes, and around bands that join them along the shortest tree
// clear of all keep-outs. ok is false where there is no way: a hole that has not even its least distance, or
// no room for a band.
func Cranked(hs []Hole, outs []KeepOut, r Rules) (ring []plane.Point, ok bool) {
	s := newSpace(hs, outs, r)
	ring, ok = s.drawn(hs)
	if !ok {
		return nil, false
	}
	ring = rounded(ring)
	return ring, keeps(ring, hs, outs)
}

// drawn is the string around holes of the space.
func (s *space) drawn(hs []Hole) ([]plane.Point, bool) {
	discs, ok := s.discs(hs)
	if !ok {
		return nil, false
	}
	at := make([]plane.Point, len(discs))
	for i, d := range discs {
		at[i] = d.at
	}
	tree, ok := s.tree(at)
	if !ok {
		return nil, false
	}
	discs = append(discs, s.bands(tree)...)
	f := fieldAround(discs, nil, 2*cell)
	f.discs(discs, 2*cell)
	rings := f.contours(slack / 2)
	if len(rings) == 0 {
		return nil, false
	}
	var in []plane.Point
	for _, d := range discs {
		in = append(in, circle(d.at, d.r)...)
	}
	return tight(rings[0], in, s.bends), true
}

// disc is a round piece of plate.
type disc struct {
	at plane.Point
	r  float64
}

// discs are the pieces around holes: as large as usual, or as there is room for.
func (s *space) discs(hs []Hole) ([]disc, bool) {
	var all []disc
	for _, h := range hs {
		r := min(h.Usual, s.room(h.At)-slack)
		if r < h.Least {
			return nil, false
		}
		all = append(all, disc{h.At, r})
	}
	return all, true
}

// circle is a polygon around a circle.
func circle(at plane.Point, radius float64) []plane.Point {
	n := corners(radius)
	all := make([]plane.Point, n)
	r := radius / math.Cos(math.Pi/float64(n))
	for i := range all {
		sin, cos := math.Sincos(2 * math.Pi * (float64(i) + 0.5) / float64(n))
		all[i] = plane.Point{X: at.X + r*cos, Z: at.Z + r*sin}
	}
	return all
}

// rounded rounds corners to hundredths and leaves out those that lie on a straight side or fall together.
func rounded(ring []plane.Point) []plane.Point {
	all := make([]plane.Point, len(ring))
	for i, p := range ring {
		all[i] = plane.Point{X: math.Round(p.X*100) / 100, Z: math.Round(p.Z*100) / 100}
	}
	all = plane.Corners(all)
	for i := 0; i < len(all) && len(all) > 3; i++ {
		n := len(all)
		a, c := all[(i+n-1)%n], all[(i+1)%n]
		if d, _ := plane.ToSegment(all[i], a, c); d < 0.002 {
			all = append(all[:i], all[i+1:]...)
			i--
		}
	}
	return all
}

// rounding is by how much rounding to hundredths may spoil a distance, mm.
const rounding = 0.015

// keeps reports whether an outline is one that may be made: whole, with the least distance at every hole, out of all keep-outs.
func keeps(ring []plane.Point, hs []Hole, outs []KeepOut) bool {
	if len(ring) < 3 {
		return false
	}
	if _, crosses := plane.Knot(ring); crosses {
		return false
	}
	for _, h := range hs {
		if mm, in := plane.EdgeDistance(ring, h.At); !in || mm < h.Least-rounding {
			return false
		}
	}
	for _, o := range outs {
		if near := plane.Distance(ring, o.Polygon); near.Distance < o.Away-rounding || plane.Overlap(ring, o.Polygon) {
			return false
		}
	}
	return true
}

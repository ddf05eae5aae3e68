package cad

import (
	"fmt"
	"math"
	"slices"

	"stanchion/holes/plane"
	"stanchion/model/units"
)

// Limits on closed outlines, so that each can be compared with every hole and with the others.
const (
	maxClosed  = 1000   // closed outlines that are looked at, the largest
	maxCorners = 50_000 // of them together
)

// minArea is that of an outline that stands for something, mm².
const minArea = 1

// shape is a closed outline while its role is looked for.
type shape struct {
	Closed
	points []plane.Point
	area   float64 // mm²
	bent   bool    // arcs are taken as chords
}

// shapes makes shapes of loops, the largest first, each once, with the number of holes in it.
func (f *Found) shapes(loops []loop) []shape {
	var all []shape
	twice, tiny, more, corners := 0, 0, 0, 0
	sizes := make([]float64, len(loops))
	order := make([]int, len(loops))
	for i, l := range loops {
		order[i], sizes[i] = i, math.Abs(l.area())
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case sizes[a] > sizes[b]:
			return -1
		case sizes[a] < sizes[b]:
			return 1
		}
		return 0
	})
	for _, i := range order {
		if !(sizes[i] >= minArea) {
			tiny++
			continue
		}
		points, bent := loops[i].corners()
		if corners += len(points); len(all) == maxClosed || corners > maxCorners {
			more++
			continue
		}
		s := shape{points: plane.Corners(points), area: sizes[i], bent: bent}
		s.Lo, s.Hi = plane.Box(s.points)
		s.Layer = loops[i].layer
		if drawnBefore(all, &s) {
			twice++
			continue
		}
		s.Number, s.Holds = len(all)+1, f.heldBy(&s)
		all = append(all, s)
	}
	if twice > 0 {
		f.Notes = append(f.Notes, units.Count(twice, "closed outline")+" drawn more than once: taken once")
	}
	if tiny > 0 {
		f.Ignored = append(f.Ignored, units.Count(tiny, "closed outline")+" with next to nothing inside")
	}
	if more > 0 {
		f.Ignored = append(f.Ignored, fmt.Sprintf("%d more closed outlines, the smallest: too many to look at", more))
	}
	return all
}

// drawnBefore reports whether a shape is one of those before it, drawn over it.
func drawnBefore(all []shape, s *shape) bool {
	for i := len(all) - 1; i >= 0; i-- {
		o := &all[i]
		around := s.Hi.X - s.Lo.X + s.Hi.Z - s.Lo.Z
		if o.area-s.area > sameSpot*around {
			return false // and those before are larger still
		}
		if o.Lo.Distance(s.Lo) <= sameSpot && o.Hi.Distance(s.Hi) <= sameSpot && SameOutline(o.points, s.points) {
			return true
		}
	}
	return false
}

// SameOutline reports whether two polygons are one: each corner of either lies on the other,
// as near as arcs are taken as chords.
func SameOutline(a, b []plane.Point) bool {
	on := func(points, outline []plane.Point) bool {
		return !slices.ContainsFunc(points, func(p plane.Point) bool {
			mm, _ := plane.EdgeDistance(outline, p)
			return !(mm <= flat)
		})
	}
	return on(a, b) && on(b, a)
}

// heldBy counts the holes and slots that lie in a shape by their centres.
func (f *Found) heldBy(s *shape) int {
	n := 0
	for _, h := range f.Holes {
		if s.holds(h.At()) {
			n++
		}
	}
	for _, o := range f.Slots {
		if s.holds(o.Along(0)) && s.holds(o.Along(o.Length())) {
			n++
		}
	}
	return n
}

// holds reports whether a point lies in a shape.
func (s *shape) holds(p plane.Point) bool {
	return p.X >= s.Lo.X && p.X <= s.Hi.X && p.Z >= s.Lo.Z && p.Z <= s.Hi.Z && plane.Inside(s.points, p)
}

// liesIn reports whether a shape lies in a larger one, at its edge too.
func (s *shape) liesIn(larger *shape) bool {
	if s.area > larger.area || s.Lo.X < larger.Lo.X-sameSpot || s.Lo.Z < larger.Lo.Z-sameSpot || s.Hi.X > larger.Hi.X+sameSpot || s.Hi.Z > larger.Hi.Z+sameSpot {
		return false
	}
	return !slices.ContainsFunc(s.points, func(p plane.Point) bool {
		if plane.Inside(larger.points, p) {
			return false
		}
		mm, _ := plane.EdgeDistance(larger.points, p)
		return mm > sameSpot
	})
}

// rectangle reports whether a shape has four corners, all of them square; corners along an edge
// do not count.
func (s *shape) rectangle() bool {
	var corners []plane.Point
	n := len(s.points)
	for i, p := range s.points {
		before, after := s.points[(i+n-1)%n], s.points[(i+1)%n]
		if mm, _ := plane.ToSegment(p, before, after); mm > sameSpot {
			corners = append(corners, p)
		}
	}
	if len(corners) != 4 {
		return false
	}
	for i, p := range corners {
		u, v := corners[(i+3)%4].Sub(p), corners[(i+1)%4].Sub(p)
		if math.Abs(u.X*v.X+u.Z*v.Z) > 1e-3*u.Length()*v.Length() {
			return false
		}
	}
	return true
}

package plane

import "math"

// touching is how near two edges are that count as touching, mm: a nanometre, for rounding.
const touching = 1e-6

// EdgeDistanceOf returns the distance in mm from a point to the nearest edge of a shape with
// openings, and whether the point lies in its material. rings are its outline and the openings
// within it, in any order and sense: each changes from one to the other, so that openings must
// not overlap. Without rings the distance is infinite, and there is no material.
func EdgeDistanceOf(rings [][]Point, p Point) (mm float64, inside bool) {
	mm = math.Inf(1)
	for _, r := range rings {
		d, in := EdgeDistance(r, p)
		mm = min(mm, d)
		inside = inside != in
	}
	return mm, inside
}

// AreaOf returns the area of an outline less that of its openings, mm², and the middle of
// what is left. Neither depends on the sense in which corners run.
func AreaOf(outline []Point, openings [][]Point) (mm2 float64, middle Point) {
	mm2, middle = Area(outline)
	mm2 = math.Abs(mm2)
	moment := middle.Times(mm2)
	for _, o := range openings {
		a, m := Area(o)
		mm2 -= math.Abs(a)
		moment = moment.Sub(m.Times(math.Abs(a)))
	}
	if len(openings) == 0 || mm2 <= 0 {
		return max(mm2, 0), middle
	}
	return mm2, moment.Times(1 / mm2)
}

// Corners returns a polygon without corners that repeat the one before, as where the first
// stands again at the end.
func Corners(polygon []Point) []Point {
	var kept []Point
	for _, p := range polygon {
		if n := len(kept); n == 0 || kept[n-1].Distance(p) > touching {
			kept = append(kept, p)
		}
	}
	for len(kept) > 1 && kept[0].Distance(kept[len(kept)-1]) <= touching {
		kept = kept[:len(kept)-1]
	}
	return kept
}

// Knot returns where a polygon without repeated corners crosses or touches itself, or runs
// back along its own edge.
func Knot(polygon []Point) (at Point, ok bool) {
	n := len(polygon)
	corner := func(i int) Point { return polygon[i%n] }
	for i := range n {
		a, b, c := corner(i), corner(i+1), corner(i+2)
		if d, _ := ToSegment(c, a, b); d <= touching {
			return c, true
		}
		if d, _ := ToSegment(a, b, c); d <= touching {
			return a, true
		}
		for k := i + 2; k < n && k-i < n-1; k++ {
			if at, ok := meet(a, b, corner(k), corner(k+1)); ok {
				return at, true
			}
		}
	}
	return Point{}, false
}

// Meet returns where the edges of two polygons cross or touch.
func Meet(a, b []Point) (at Point, ok bool) {
	if boxesApart(a, b) {
		return Point{}, false
	}
	lo, hi := Box(a)
	for r, s := range Edges(b) {
		if apart(lo, hi, r, s) > touching {
			continue
		}
		for p, q := range Edges(a) {
			if at, ok := meet(p, q, r, s); ok {
				return at, true
			}
		}
	}
	return Point{}, false
}

// Overlap reports whether two polygons cross, touch, or lie one in the other.
func Overlap(a, b []Point) bool {
	if len(a) == 0 || len(b) == 0 || boxesApart(a, b) {
		return false
	}
	_, ok := Meet(a, b)
	return ok || Inside(a, b[0]) || Inside(b, a[0])
}

// Encloses reports whether an outline has a polygon wholly inside, nowhere at its edge.
func Encloses(outline, polygon []Point) bool {
	if len(polygon) == 0 || !Inside(outline, polygon[0]) {
		return false
	}
	_, ok := Meet(outline, polygon)
	return !ok
}

func boxesApart(a, b []Point) bool {
	loA, hiA := Box(a)
	loB, hiB := Box(b)
	return apart(loA, hiA, loB, hiB) > touching
}

// meet returns where two edges cross or touch.
func meet(p, q, r, s Point) (Point, bool) {
	if apart(p, q, r, s) > touching {
		return Point{}, false
	}
	c := segments(p, q, r, s)
	return c.A, c.Distance <= touching
}

package plane

import (
	"iter"
	"math"
)

// EdgeDistance returns the distance in mm from a point to the nearest edge of
// an outline, and whether the point lies inside of it.
func EdgeDistance(outline []Point, p Point) (mm float64, inside bool) {
	mm = math.Inf(1)
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		d, _ := ToSegment(p, a, b)
		mm = min(mm, d)
		inside = inside != behind(p, a, b)
	}
	return mm, inside
}

// behind reports whether a ray from a point to the rear crosses an edge.
func behind(p, a, b Point) bool {
	return (a.Z > p.Z) != (b.Z > p.Z) && p.X < a.X+(p.Z-a.Z)/(b.Z-a.Z)*(b.X-a.X)
}

// Inside reports whether a point lies in an outline; what has fewer than three corners
// holds nothing.
func Inside(outline []Point, p Point) bool {
	if len(outline) < 3 {
		return false
	}
	inside := false
	for i, a := range outline {
		inside = inside != behind(p, a, outline[(i+1)%len(outline)])
	}
	return inside
}

// ToSegment returns the distance in mm of a point from the straight line from a to b,
// and the line's point that is nearest.
func ToSegment(p, a, b Point) (mm float64, at Point) {
	way := b.Sub(a)
	t := 0.0
	if l := way.X*way.X + way.Z*way.Z; l > 0 {
		t = min(1, max(0, ((p.X-a.X)*way.X+(p.Z-a.Z)*way.Z)/l))
	}
	at = a.Add(way.Times(t))
	return p.Distance(at), at
}

// Box returns the corners of the box around points: both the origin where there are none.
func Box(points []Point) (lo, hi Point) {
	if len(points) == 0 {
		return lo, hi
	}
	lo, hi = points[0], points[0]
	for _, p := range points {
		lo = Point{min(lo.X, p.X), min(lo.Z, p.Z)}
		hi = Point{max(hi.X, p.X), max(hi.Z, p.Z)}
	}
	return lo, hi
}

// Centroid returns the mean of points; the origin where there are none.
func Centroid(points []Point) Point {
	var sum Point
	for _, p := range points {
		sum = sum.Add(p)
	}
	return sum.Times(1 / float64(max(len(points), 1)))
}

// Edges runs over the edges of a polygon, closed from its last corner to its first. Two
// corners are one edge, one corner is an edge without length.
func Edges(points []Point) iter.Seq2[Point, Point] {
	return func(yield func(a, b Point) bool) {
		n := len(points)
		for i := range n {
			if n == 2 && i == 1 || !yield(points[i], points[(i+1)%n]) {
				return
			}
		}
	}
}

// Area returns the area in an outline, mm², positive when its corners run
// counter-clockwise, and the middle of it; that is the first corner where there is no
// area.
func Area(outline []Point) (mm2 float64, middle Point) {
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		cross := a.X*b.Z - b.X*a.Z
		mm2 += cross / 2
		middle.X += (a.X + b.X) * cross / 6
		middle.Z += (a.Z + b.Z) * cross / 6
	}
	if mm2 == 0 {
		if len(outline) > 0 {
			middle = outline[0]
		}
		return 0, middle
	}
	return mm2, middle.Times(1 / mm2)
}

// Arc returns the circle of the arc from a to b with a bulge, the tangent of a quarter
// of its turn, positive counter-clockwise and not 0: the way in which DXF writes arcs.
func Arc(a, b Point, bulge float64) (centre Point, radius float64) {
	// The centre lies square to the chord's middle, by (1 - bulge²)/(4 bulge) chords to
	// its left.
	k := (1 - bulge*bulge) / (4 * bulge)
	centre = Point{(a.X+b.X)/2 - k*(b.Z-a.Z), (a.Z+b.Z)/2 + k*(b.X-a.X)}
	return centre, a.Distance(centre)
}

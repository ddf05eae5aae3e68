// Package clearance answers: how near do two shapes in the side view come, also
// while one of them turns about a hinge? It is exact for polygons, since the least
// distance of two straight edges that do not cross is one of a corner from an
// edge, and a corner that turns runs along an arc whose least distance from an
// edge has a closed form. Nothing is sampled.
//
// Lengths are in mm, angles in rad, counter-clockwise positive. Everything lies in
// one plane: what is beside one another across the car counts as if it could meet.
// It knows no car.
package clearance

import (
	"math"

	"stanchion/holes/plane"
)

// Contact is the least distance of two shapes, and where it is.
type Contact struct {
	Distance float64     // mm; 0 when they touch or overlap
	A, B     plane.Point // mm, the two points; B on the shape that turns, as it lies then
	Turn     float64     // rad that it has turned by then
}

// none is the contact of shapes that are not there.
func none() Contact { return Contact{Distance: math.Inf(1)} }

// Between returns the least distance of two polygons, closed from the last corner
// to the first; two corners are a straight line. Without a corner it is infinite.
func Between(a, b []plane.Point) Contact {
	best := none()
	lo, hi := box(a)
	edges(b, func(r, s plane.Point) {
		if best.Distance == 0 || apart(lo, hi, r, s) >= best.Distance {
			return
		}
		edges(a, func(p, q plane.Point) {
			if best.Distance == 0 || apart(p, q, r, s) >= best.Distance {
				return
			}
			if c := segments(p, q, r, s); c.Distance < best.Distance {
				best = c
			}
		})
	})
	switch {
	case best.Distance == 0 || len(a) == 0 || len(b) == 0:
	case inside(b, a[0]):
		return Contact{A: a[0], B: a[0]}
	case inside(a, b[0]):
		return Contact{A: b[0], B: b[0]}
	}
	return best
}

// Turning returns the least distance of a fixed polygon from one that turns about
// a hinge from where it is drawn by open rad, either way. When they touch it is
// the least turn at which they do.
func Turning(fixed, turning []plane.Point, hinge plane.Point, open float64) Contact {
	best := Between(fixed, turning)
	if best.Distance == 0 {
		return best
	}
	take := func(c Contact) {
		if c.Distance < best.Distance || c.Distance == best.Distance && math.Abs(c.Turn) < math.Abs(best.Turn) {
			best = c
		}
	}
	for _, v := range turning {
		r := radius(hinge, v)
		edges(fixed, func(p, q plane.Point) {
			if ringApart(hinge, r, r, p, q) > best.Distance {
				return
			}
			c := arc(hinge, v, open, p, q)
			take(Contact{c.distance, c.edge, c.arc, c.turn})
		})
	}
	// A fixed corner, as seen from the shape that turns, turns the other way.
	inner, outer := ring(hinge, turning)
	for _, v := range fixed {
		r := radius(hinge, v)
		if max(r-outer, inner-r) > best.Distance {
			continue
		}
		edges(turning, func(p, q plane.Point) {
			if ringApart(hinge, r, r, p, q) > best.Distance {
				return
			}
			c := arc(hinge, v, -open, p, q)
			take(Contact{c.distance, v, plane.About(hinge, -c.turn).Apply(c.edge), -c.turn})
		})
	}
	return best
}

// box returns the corners of the box around points.
func box(points []plane.Point) (lo, hi plane.Point) {
	if len(points) == 0 {
		return lo, hi
	}
	lo, hi = points[0], points[0]
	for _, p := range points {
		lo = plane.Point{X: min(lo.X, p.X), Z: min(lo.Z, p.Z)}
		hi = plane.Point{X: max(hi.X, p.X), Z: max(hi.Z, p.Z)}
	}
	return lo, hi
}

// ring returns the least and the greatest distance of a polygon from a point.
func ring(c plane.Point, points []plane.Point) (inner, outer float64) {
	inner = math.Inf(1)
	edges(points, func(p, q plane.Point) {
		d, _ := onSegment(p, q, c)
		inner, outer = min(inner, d), max(outer, radius(c, p), radius(c, q))
	})
	return inner, outer
}

// Within reports whether a convex polygon holds all of the points.
func Within(convex, points []plane.Point) bool {
	if len(convex) < 3 {
		return false
	}
	for _, p := range points {
		if d, in := plane.EdgeDistance(convex, p); !in && d > 0 {
			return false
		}
	}
	return true
}

// edges calls each with the edges of a polygon.
func edges(points []plane.Point, each func(p, q plane.Point)) {
	switch n := len(points); n {
	case 0:
	case 1:
		each(points[0], points[0])
	case 2:
		each(points[0], points[1])
	default:
		for i, p := range points {
			each(p, points[(i+1)%n])
		}
	}
}

func radius(c, p plane.Point) float64 { return math.Hypot(p.X-c.X, p.Z-c.Z) }

// apart is a lower bound of the distance of two edges: that of their boxes.
func apart(p, q, r, s plane.Point) float64 {
	dx := max(min(r.X, s.X)-max(p.X, q.X), min(p.X, q.X)-max(r.X, s.X), 0)
	dz := max(min(r.Z, s.Z)-max(p.Z, q.Z), min(p.Z, q.Z)-max(r.Z, s.Z), 0)
	return max(dx, dz)
}

// ringApart is a lower bound of the distance of an edge from the ring of radii
// from inner to outer about a centre.
func ringApart(c plane.Point, inner, outer float64, p, q plane.Point) float64 {
	nearest, _ := onSegment(p, q, c)
	return max(nearest-outer, inner-max(radius(c, p), radius(c, q)), 0)
}

// onSegment returns the distance of a point from an edge, and the edge's point
// that is nearest.
func onSegment(a, b, p plane.Point) (float64, plane.Point) {
	wx, wz := b.X-a.X, b.Z-a.Z
	t := 0.0
	if l := wx*wx + wz*wz; l > 0 {
		t = min(1, max(0, ((p.X-a.X)*wx+(p.Z-a.Z)*wz)/l))
	}
	at := plane.Point{X: a.X + t*wx, Z: a.Z + t*wz}
	return radius(p, at), at
}

// segments returns the least distance of two edges.
func segments(p, q, r, s plane.Point) Contact {
	if at, ok := crossing(p, q, r, s); ok {
		return Contact{A: at, B: at}
	}
	best := none()
	for _, v := range [2]plane.Point{p, q} {
		if d, at := onSegment(r, s, v); d < best.Distance {
			best = Contact{Distance: d, A: v, B: at}
		}
	}
	for _, v := range [2]plane.Point{r, s} {
		if d, at := onSegment(p, q, v); d < best.Distance {
			best = Contact{Distance: d, A: at, B: v}
		}
	}
	return best
}

// crossing returns where two edges cross; edges along one line do not count, nor ones
// that are parallel but for rounding, whose place would be made of it: where they touch,
// their ends do.
func crossing(p, q, r, s plane.Point) (plane.Point, bool) {
	d := (q.X-p.X)*(s.Z-r.Z) - (q.Z-p.Z)*(s.X-r.X)
	if math.Abs(d) <= 1e-12*math.Hypot(q.X-p.X, q.Z-p.Z)*math.Hypot(s.X-r.X, s.Z-r.Z) {
		return plane.Point{}, false
	}
	t := ((r.X-p.X)*(s.Z-r.Z) - (r.Z-p.Z)*(s.X-r.X)) / d
	u := ((r.X-p.X)*(q.Z-p.Z) - (r.Z-p.Z)*(q.X-p.X)) / d
	return plane.Point{X: p.X + t*(q.X-p.X), Z: p.Z + t*(q.Z-p.Z)}, t >= 0 && t <= 1 && u >= 0 && u <= 1
}

// inside reports whether a point lies in a polygon.
func inside(outline []plane.Point, p plane.Point) bool {
	if len(outline) < 3 {
		return false
	}
	_, in := plane.EdgeDistance(outline, p)
	return in
}

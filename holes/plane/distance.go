package plane

import "math"

// Contact is the least distance of two shapes, and where it is.
type Contact struct {
	Distance float64 // mm; 0 when they touch or overlap
	A, B     Point   // mm, the two points; B on the shape that turns, as it lies then
	Turn     float64 // rad that it has turned by then
}

// none is the contact of shapes that are not there.
func none() Contact { return Contact{Distance: math.Inf(1)} }

// Distance returns the least distance of two polygons, closed from the last corner
// to the first; two corners are a straight line. Without a corner it is infinite.
func Distance(a, b []Point) Contact {
	best := none()
	lo, hi := Box(a)
	for r, s := range Edges(b) {
		if best.Distance == 0 || apart(lo, hi, r, s) >= best.Distance {
			continue
		}
		for p, q := range Edges(a) {
			if best.Distance == 0 || apart(p, q, r, s) >= best.Distance {
				continue
			}
			if c := segments(p, q, r, s); c.Distance < best.Distance {
				best = c
			}
		}
	}
	switch {
	case best.Distance == 0 || len(a) == 0 || len(b) == 0:
	case Inside(b, a[0]):
		return Contact{A: a[0], B: a[0]}
	case Inside(a, b[0]):
		return Contact{A: b[0], B: b[0]}
	}
	return best
}

// DistanceTurning returns the least distance of a fixed polygon from one that turns about
// a hinge from where it is drawn by open rad, either way. When they touch it is
// the least turn at which they do.
func DistanceTurning(fixed, turning []Point, hinge Point, open float64) Contact {
	best := Distance(fixed, turning)
	if best.Distance == 0 {
		return best
	}
	take := func(c Contact) {
		if c.Distance < best.Distance || c.Distance == best.Distance && math.Abs(c.Turn) < math.Abs(best.Turn) {
			best = c
		}
	}
	for _, v := range turning {
		r := hinge.Distance(v)
		for p, q := range Edges(fixed) {
			if ringApart(hinge, r, r, p, q) > best.Distance {
				continue
			}
			c := arc(hinge, v, open, p, q)
			take(Contact{c.distance, c.edge, c.arc, c.turn})
		}
	}
	// A fixed corner, as seen from the shape that turns, turns the other way.
	inner, outer := ring(hinge, turning)
	for _, v := range fixed {
		r := hinge.Distance(v)
		if max(r-outer, inner-r) > best.Distance {
			continue
		}
		for p, q := range Edges(turning) {
			if ringApart(hinge, r, r, p, q) > best.Distance {
				continue
			}
			c := arc(hinge, v, -open, p, q)
			take(Contact{c.distance, v, About(hinge, -c.turn).Apply(c.edge), -c.turn})
		}
	}
	return best
}

// ring returns the least and the greatest distance of a polygon from a point.
func ring(c Point, points []Point) (inner, outer float64) {
	inner = math.Inf(1)
	for p, q := range Edges(points) {
		d, _ := ToSegment(c, p, q)
		inner, outer = min(inner, d), max(outer, c.Distance(p), c.Distance(q))
	}
	return inner, outer
}

// Within reports whether a convex polygon holds all of the points.
func Within(convex, points []Point) bool {
	if len(convex) < 3 {
		return false
	}
	for _, p := range points {
		if d, in := EdgeDistance(convex, p); !in && d > 0 {
			return false
		}
	}
	return true
}

// apart is a lower bound of the distance of two edges: that of their boxes.
func apart(p, q, r, s Point) float64 {
	dx := max(min(r.X, s.X)-max(p.X, q.X), min(p.X, q.X)-max(r.X, s.X), 0)
	dz := max(min(r.Z, s.Z)-max(p.Z, q.Z), min(p.Z, q.Z)-max(r.Z, s.Z), 0)
	return max(dx, dz)
}

// ringApart is a lower bound of the distance of an edge from the ring of radii
// from inner to outer about a centre.
func ringApart(c Point, inner, outer float64, p, q Point) float64 {
	nearest, _ := ToSegment(c, p, q)
	return max(nearest-outer, inner-max(c.Distance(p), c.Distance(q)), 0)
}

// segments returns the least distance of two edges.
func segments(p, q, r, s Point) Contact {
	if at, ok := crossing(p, q, r, s); ok {
		return Contact{A: at, B: at}
	}
	best := none()
	for _, v := range [2]Point{p, q} {
		if d, at := ToSegment(v, r, s); d < best.Distance {
			best = Contact{Distance: d, A: v, B: at}
		}
	}
	for _, v := range [2]Point{r, s} {
		if d, at := ToSegment(v, p, q); d < best.Distance {
			best = Contact{Distance: d, A: at, B: v}
		}
	}
	return best
}

// crossing returns where two edges cross; edges along one line do not count, nor ones
// that are parallel but for rounding, whose place would be made of it: where they touch,
// their ends do.
func crossing(p, q, r, s Point) (Point, bool) {
	d := (q.X-p.X)*(s.Z-r.Z) - (q.Z-p.Z)*(s.X-r.X)
	if math.Abs(d) <= 1e-12*math.Hypot(q.X-p.X, q.Z-p.Z)*math.Hypot(s.X-r.X, s.Z-r.Z) {
		return Point{}, false
	}
	t := ((r.X-p.X)*(s.Z-r.Z) - (r.Z-p.Z)*(s.X-r.X)) / d
	u := ((r.X-p.X)*(q.Z-p.Z) - (r.Z-p.Z)*(q.X-p.X)) / d
	return Point{X: p.X + t*(q.X-p.X), Z: p.Z + t*(q.Z-p.Z)}, t >= 0 && t <= 1 && u >= 0 && u <= 1
}

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
	return nearerTurning(fixed, turning, hinge, open, best, 0)
}

// TurnsApart returns how far, rad, the second of two polygons turns about a hinge, towards open, while it stays mm at least
// from the first, as DistanceTurning tells: |open| where it does all the way. The least distance up to an angle never
// grows with the angle, so the angle is found by halving, to a billionth of the way.
func TurnsApart(fixed, turning []Point, hinge Point, open, mm float64) float64 {
	if Distance(fixed, turning).Distance < mm {
		return 0
	}
	lo, hi := 0.0, math.Abs(open)
	for range 30 {
		mid := (lo + hi) / 2
		if nearerTurning(fixed, turning, hinge, math.Copysign(mid, open), Contact{Distance: mm}, mm).Distance < mm {
			hi = mid
		} else {
			lo = mid
		}
	}
	return lo
}

// nearerTurning returns the nearest contact on the way of the polygon that turns, or best where none is nearer; the first that is nearer
// than enough will do.
func nearerTurning(fixed, turning []Point, hinge Point, open float64, best Contact, enough float64) Contact {
	take := func(c Contact) {
		if c.Distance < best.Distance || c.Distance == best.Distance && math.Abs(c.Turn) < math.Abs(best.Turn) {
			best = c
		}
	}
	from := rings(hinge, fixed)
	for _, v := range turning {
		r, i := hinge.Distance(v), -1
		for p, q := range Edges(fixed) {
			if i++; from[i].apart(r) > best.Distance {
				continue
			}
			c := arc(hinge, v, open, p, q)
			if take(Contact{c.distance, c.edge, c.arc, c.turn}); best.Distance < enough {
				return best
			}
		}
	}
	// A fixed corner, as seen from the shape that turns, turns the other way.
	from = rings(hinge, turning)
	for _, v := range fixed {
		r, i := hinge.Distance(v), -1
		for p, q := range Edges(turning) {
			if i++; from[i].apart(r) > best.Distance {
				continue
			}
			c := arc(hinge, v, -open, p, q)
			if take(Contact{c.distance, v, About(hinge, -c.turn).Apply(c.edge), -c.turn}); best.Distance < enough {
				return best
			}
		}
	}
	return best
}

// ring is from where to where an edge is away from a point, mm.
type ring struct{ inner, outer float64 }

// rings returns the rings of a polygon's edges about a point, in the order of Edges.
func rings(c Point, points []Point) []ring {
	all := make([]ring, 0, len(points))
	for p, q := range Edges(points) {
		inner, _ := ToSegment(c, p, q)
		all = append(all, ring{inner, max(c.Distance(p), c.Distance(q))})
	}
	return all
}

// apart is a lower bound of the distance of a point that turns about the rings' centre on a radius r from the edge.
func (g ring) apart(r float64) float64 { return max(g.inner-r, r-g.outer, 0) }

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
	if math.Abs(d) <= 1e-12*p.Distance(q)*r.Distance(s) {
		return Point{}, false
	}
	t := ((r.X-p.X)*(s.Z-r.Z) - (r.Z-p.Z)*(s.X-r.X)) / d
	u := ((r.X-p.X)*(q.Z-p.Z) - (r.Z-p.Z)*(q.X-p.X)) / d
	return Point{X: p.X + t*(q.X-p.X), Z: p.Z + t*(q.Z-p.Z)}, t >= 0 && t <= 1 && u >= 0 && u <= 1
}

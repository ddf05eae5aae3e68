package sheet

import (
	"math"
	"slices"

	"stanchion/holes/plane"
)

// cast returns how far it is from a point in a direction of length 1 to the nearest edge,
// mm, and the outline's edge that it is; outline is -1 where it is the edge of an opening.
func (s *Shape) cast(from, way plane.Point, openings bool) (mm float64, outline int) {
	mm, outline = math.Inf(1), -1
	for i, a := range s.Outline {
		if d := toSegment(from, way, a, s.Outline[(i+1)%len(s.Outline)]); d < mm {
			mm, outline = d, i
		}
	}
	if !openings {
		return mm, outline
	}
	nearer := func(d float64) {
		if d < mm {
			mm, outline = d, -1
		}
	}
	for _, r := range s.Rounds {
		nearer(toCircle(from, way, r.At, r.Radius))
	}
	for _, t := range s.Slots {
		for i, a := range t.Line {
			nearer(toCircle(from, way, a, t.Radius))
			if i+1 == len(t.Line) {
				break
			}
			b := t.Line[i+1]
			l := a.Distance(b)
			if l == 0 {
				continue
			}
			off := plane.Point{X: -(b.Z - a.Z) / l * t.Radius, Z: (b.X - a.X) / l * t.Radius}
			nearer(toSegment(from, way, a.Add(off), b.Add(off)))
			nearer(toSegment(from, way, a.Sub(off), b.Sub(off)))
		}
	}
	for _, c := range s.Cutouts {
		for a, b := range plane.Edges(c) {
			nearer(toSegment(from, way, a, b))
		}
	}
	if !math.IsInf(s.Floor, -1) && way.Z < 0 {
		nearer((s.Floor - from.Z) / way.Z)
	}
	return mm, outline
}

// least is what a ray must run before it counts as having met an edge, mm: one that starts
// on an edge does not meet that edge.
const least = 1e-7

// toSegment is how far a ray runs to a straight edge; infinite where it misses.
func toSegment(from, way, a, b plane.Point) float64 {
	ex, ez := b.X-a.X, b.Z-a.Z
	det := way.X*ez - way.Z*ex
	if det == 0 {
		return math.Inf(1)
	}
	ax, az := a.X-from.X, a.Z-from.Z
	d := (ax*ez - az*ex) / det
	at := (ax*way.Z - az*way.X) / det
	if d <= least || at < 0 || at > 1 {
		return math.Inf(1)
	}
	return d
}

// toCircle is how far a ray runs to a circle from outside it; infinite where it misses.
func toCircle(from, way, centre plane.Point, radius float64) float64 {
	cx, cz := centre.X-from.X, centre.Z-from.Z
	along := cx*way.X + cz*way.Z
	h := radius*radius - (cx*cx + cz*cz - along*along)
	if h < 0 {
		return math.Inf(1)
	}
	if d := along - math.Sqrt(h); d > least {
		return d
	}
	return math.Inf(1)
}

// spans returns the metal along the straight line from a to b, counted from a; a and b lie on
// the outline and the line between them inside it.
func (s *Shape) spans(a, b plane.Point) []plane.Span {
	length := a.Distance(b)
	metal := []plane.Span{{From: 0, To: length}}
	if length == 0 {
		return nil
	}
	way := b.Sub(a).Times(1 / length)
	circle := func(c plane.Point, radius float64) {
		cx, cz := c.X-a.X, c.Z-a.Z
		along := cx*way.X + cz*way.Z
		if h := radius*radius - (cx*cx + cz*cz - along*along); h > 0 {
			metal = plane.Without(metal, plane.Span{From: along - math.Sqrt(h), To: along + math.Sqrt(h)})
		}
	}
	for _, r := range s.Rounds {
		circle(r.At, r.Radius)
	}
	f := plane.Frame{Origin: a, Normal: plane.Point{X: -way.Z, Z: way.X}} // across counts along the line
	cut := func(polygon []plane.Point) {
		for _, span := range plane.Cut(polygon, f, 0) {
			metal = plane.Without(metal, span)
		}
	}
	for _, t := range s.Slots {
		for i, p := range t.Line {
			circle(p, t.Radius)
			if i+1 < len(t.Line) && p.Distance(t.Line[i+1]) > 0 {
				q := t.Line[i+1]
				l := p.Distance(q)
				off := plane.Point{X: -(q.Z - p.Z) / l * t.Radius, Z: (q.X - p.X) / l * t.Radius}
				cut([]plane.Point{p.Add(off), q.Add(off), q.Sub(off), p.Sub(off)})
			}
		}
	}
	for _, c := range s.Cutouts {
		cut(c)
	}
	return slices.DeleteFunc(metal, func(m plane.Span) bool { return m.To-m.From < 1e-9 })
}

package cad

import (
	"math"

	"stanchion/holes/plane"
)

// curveFlat is how far a straight piece may be from the curve that it stands for, mm.
const curveFlat = 0.01

// maxPieces is how many straight pieces one curve becomes at most.
const maxPieces = 2000

// spline is a rational B-spline. Source: L. Piegl, W. Tiller, "The NURBS Book" (2nd ed., 1997), equations 4.1 and 4.5.
type spline struct {
	degree  int
	knots   []float64 // as many as there are points, and degree + 1
	points  []plane.Point
	weights []float64
}

// sound reports whether points, knots and weights go together.
func (s *spline) sound() bool {
	n := len(s.points)
	if s.degree < 1 || s.degree > 11 || n <= s.degree || n > maxFound || len(s.knots) != n+s.degree+1 || len(s.weights) != n {
		return false
	}
	for i, k := range s.knots {
		if math.IsNaN(k) || i > 0 && k < s.knots[i-1] {
			return false
		}
	}
	for i, p := range s.points {
		if math.IsNaN(p.X+p.Z) || !(s.weights[i] > 0) || math.IsInf(s.weights[i], 0) {
			return false
		}
	}
	return s.knots[n] > s.knots[s.degree]
}

// at returns the curve's place at a parameter within span k, by de Boor's scheme in homogeneous coordinates (Piegl and Tiller, ex. 5.4).
func (s *spline) at(u float64, k int) plane.Point {
	p := s.degree
	var x, z, w [12]float64
	for j := 0; j <= p; j++ {
		i := k - p + j
		x[j], z[j], w[j] = s.points[i].X*s.weights[i], s.points[i].Z*s.weights[i], s.weights[i]
	}
	for r := 1; r <= p; r++ {
		for j := p; j >= r; j-- {
			i := k - p + j
			a := 0.0
			if d := s.knots[i+p-r+1] - s.knots[i]; d > 0 {
				a = (u - s.knots[i]) / d
			}
			x[j], z[j], w[j] = (1-a)*x[j-1]+a*x[j], (1-a)*z[j-1]+a*z[j], (1-a)*w[j-1]+a*w[j]
		}
	}
	return plane.Point{X: x[p] / w[p], Z: z[p] / w[p]}
}

// straight returns places along the curve so near to one another that the straight pieces between them are true to off.
func (s *spline) straight(off float64) []plane.Point {
	n := len(s.points)
	var out []plane.Point
	for k := s.degree; k < n; k++ {
		lo, hi := s.knots[k], s.knots[k+1]
		if !(hi > lo) {
			continue
		}
		curve := func(t float64) plane.Point { return s.at(lo+t*(hi-lo), k) }
		if out == nil {
			out = append(out, curve(0))
		}
		out = append(out, pieces(curve, off)...)
	}
	return out
}

// pieces returns places along a curve from 0 to 1, without the first, between which straight pieces are true to off.
func pieces(curve func(t float64) plane.Point, off float64) (out []plane.Point) {
	var halve func(t0, t1 float64, a, b plane.Point, depth int)
	halve = func(t0, t1 float64, a, b plane.Point, depth int) {
		far := 0.0
		for _, part := range [...]float64{0.25, 0.5, 0.75} { // one alone would miss a curve that turns both ways
			mm, _ := plane.ToSegment(curve(t0+part*(t1-t0)), a, b)
			far = max(far, mm)
		}
		if depth > 0 && (far <= off || depth > 10 || len(out) > maxPieces) {
			out = append(out, b)
			return
		}
		t := (t0 + t1) / 2
		m := curve(t)
		halve(t0, t, a, m, depth+1)
		halve(t, t1, m, b, depth+1)
	}
	halve(0, 1, curve(0), curve(1), 0)
	return out
}

// spline takes a spline of a DXF file as straight pieces. Source: Autodesk, "DXF Reference", SPLINE: 70 flags, 71 degree, 40 knots,
// 41 weights, 10 and 20 control points.
func (g *gathering) spline(e *entity, at affine) {
	s := spline{degree: int(e.number(71, 3))}
	for _, p := range e.pairs {
		switch p.code {
		case 10:
			s.points = append(s.points, plane.Point{X: parse(p.value)})
		case 20:
			if n := len(s.points); n > 0 {
				s.points[n-1].Z = parse(p.value)
			}
		case 40:
			s.knots = append(s.knots, parse(p.value))
		case 41:
			s.weights = append(s.weights, parse(p.value))
		}
	}
	for len(s.weights) < len(s.points) {
		s.weights = append(s.weights, 1)
	}
	if !s.sound() {
		g.pass(e, "without control points and knots that go together")
		return
	}
	for i, p := range s.points { // a rational curve of moved points is the moved curve
		s.points[i] = g.o.place(at.apply(p), g.size)
		if far(s.points[i]) {
			g.pass(e, "further than 100 m away")
			return
		}
	}
	g.row(e.layer(), s.straight(curveFlat))
}

// row takes places in a row, mm in the part's frame, as straight edges; one that comes back to its beginning is closed.
func (g *gathering) row(layer string, places []plane.Point) {
	l := loop{layer: layer}
	for i := 1; i < len(places); i++ {
		if places[i].Distance(places[i-1]) > 1e-9 {
			l.edges = append(l.edges, edge{a: places[i-1], b: places[i]})
		}
	}
	switch n := len(places); {
	case len(l.edges) == 0:
	case len(l.edges) > 2 && places[0].Distance(places[n-1]) <= sameSpot:
		l.edges[len(l.edges)-1].b = places[0]
		g.loops = append(g.loops, l)
	default:
		for _, k := range l.edges {
			g.edges, g.layers = append(g.edges, k), append(g.layers, layer)
		}
	}
}

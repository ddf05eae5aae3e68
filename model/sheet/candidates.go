package sheet

import (
	"math"

	"stanchion/holes/plane"
)

// fan is how many directions are tried through a place, over half a turn.
const fan = 16

// Through returns the shortest of the chords through a point in the metal, from edge to edge,
// in fan directions; ok is false outside the metal.
func (s *Shape) Through(p plane.Point) (c Chord, ok bool) {
	if !s.Inside(p) {
		return c, false
	}
	shortest := math.Inf(1)
	var a, b plane.Point
	var from, to int
	for i := range fan {
		sin, cos := math.Sincos(math.Pi * float64(i) / fan)
		way := plane.Point{X: cos, Z: sin}
		there, edge := s.cast(p, way, true)
		back, other := s.cast(p, way.Times(-1), true)
		if there+back < shortest {
			shortest = there + back
			a, b = p.Sub(way.Times(back)), p.Add(way.Times(there))
			from, to = other, edge
		}
	}
	if math.IsInf(shortest, 1) || shortest < 1e-6 {
		return c, false
	}
	c = Chord{A: a, B: b, Spans: []plane.Span{{From: 0, To: shortest}}, Place: p, from: from, to: to}
	c.measure()
	return c, true
}

// Lattice returns the chords of the points on a lattice of so many mm in the metal, each the
// shortest through its point.
func (s *Shape) Lattice(h float64) []Chord {
	var all []Chord
	lo, hi := s.Box()
	for z := lo.Z + h/2; z < hi.Z; z += h {
		for x := lo.X + h/2; x < hi.X; x += h {
			if c, ok := s.Through(plane.Point{X: x, Z: z}); ok {
				all = append(all, c)
			}
		}
	}
	return all
}

// maxPairs is how many pairs of a place on the outline and an edge of it are looked at for
// the places where it is narrow: beyond it only directions in a fan are tried.
const maxPairs = 200_000

// Across returns chords from outline to outline, openings left out of each: from places along
// the outline no further apart than h mm in a fan of directions, and to the nearest place of
// each edge, so that no neck is missed.
func (s *Shape) Across(h float64) []Chord {
	var all []Chord
	starts := s.along(h)
	narrow := len(starts)*len(s.Outline) <= maxPairs
	for _, st := range starts {
		try := func(way plane.Point) {
			if st.into.X*way.X+st.into.Z*way.Z < 0.05 && !st.corner {
				return
			}
			if !plane.Inside(s.Outline, st.at.Add(way.Times(1e-3))) {
				return
			}
			d, edge := s.cast(st.at, way, false)
			if math.IsInf(d, 1) || d < 1e-3 || edge == st.edge {
				return
			}
			if c, ok := s.chord(st.at, st.at.Add(way.Times(d)), st.edge, edge); ok {
				all = append(all, c)
			}
		}
		for i := range 2 * fan {
			sin, cos := math.Sincos(math.Pi * float64(i) / fan)
			try(plane.Point{X: cos, Z: sin})
		}
		if !st.corner {
			try(st.into)
		}
		if !narrow {
			continue
		}
		for i, a := range s.Outline {
			if i == st.edge {
				continue
			}
			if d, at := plane.ToSegment(st.at, a, s.Outline[(i+1)%len(s.Outline)]); d > 1e-3 {
				try(at.Sub(st.at).Times(1 / d))
			}
		}
	}
	return all
}

// start is a place on the outline.
type start struct {
	at     plane.Point
	into   plane.Point // square to the edge, into the metal
	edge   int
	corner bool // at a corner of the outline, of which edge begins
}

// along returns places on the outline no further apart than h mm, corners among them.
func (s *Shape) along(h float64) []start {
	var all []start
	area, _ := plane.Area(s.Outline)
	n := len(s.Outline)
	for i, a := range s.Outline {
		b := s.Outline[(i+1)%n]
		l := a.Distance(b)
		if l == 0 {
			continue
		}
		into := plane.Point{X: -(b.Z - a.Z) / l, Z: (b.X - a.X) / l}
		if area < 0 {
			into = into.Times(-1)
		}
		all = append(all, start{a, into, i, true})
		k := int(math.Ceil(l / h))
		for j := 1; j < k; j++ {
			all = append(all, start{a.Add(b.Sub(a).Times(float64(j) / float64(k))), into, i, false})
		}
	}
	return all
}

// Level returns the chords from outline to outline at a height in mm.
func (s *Shape) Level(z float64) []Chord {
	var all []Chord
	for _, span := range plane.Cut(s.Outline, plane.Level, z) {
		mid := plane.Point{X: (span.From + span.To) / 2, Z: z}
		there, edge := s.cast(mid, plane.Point{X: 1}, false)
		back, other := s.cast(mid, plane.Point{X: -1}, false)
		if c, ok := s.chord(plane.Point{X: mid.X - back, Z: z}, plane.Point{X: mid.X + there, Z: z}, other, edge); ok {
			all = append(all, c)
		}
	}
	return all
}

// Line returns the chord from outline to outline through two places in the metal or in openings; ok
// is false where the straight line between them leaves the outline.
func (s *Shape) Line(p, q plane.Point) (c Chord, ok bool) {
	l := p.Distance(q)
	if l < 1e-6 || !plane.Inside(s.Outline, p) || !plane.Inside(s.Outline, q) {
		return c, false
	}
	way := q.Sub(p).Times(1 / l)
	there, edge := s.cast(p, way, false)
	if there < l {
		return c, false
	}
	back, other := s.cast(p, way.Times(-1), false)
	return s.chord(p.Sub(way.Times(back)), p.Add(way.Times(there)), other, edge)
}

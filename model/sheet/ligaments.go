package sheet

import (
	"math"

	"stanchion/holes/plane"
)

// spread is how far to either side of an edge's normal ligaments are looked for, rad, in how many steps.
const (
	spread      = 60 * math.Pi / 180
	spreadSteps = 4
)

// thinnest is the narrowest ligament that is one, mm: a shorter ray meets the edge that it starts from.
const thinnest = 0.2

// Ligaments returns the shortest chords from places along every edge, of outline and openings, no further
// apart than h mm, across the metal to the next edge: so that no ligament is missed, however narrow.
func (s *Shape) Ligaments(h float64) []Chord {
	var all []Chord
	from := func(at, into plane.Point, edge int) {
		start := at.Add(into.Times(1e-4))
		if !s.Inside(start) {
			return
		}
		best := math.Inf(1)
		var to plane.Point
		hit := -1
		for k := -spreadSteps; k <= spreadSteps; k++ {
			way := plane.Pose{Turn: spread * float64(k) / spreadSteps}.Apply(into)
			if d, e := s.cast(start, way, true); d < best && (e < 0 || e != edge) {
				best, to, hit = d, start.Add(way.Times(d)), e
			}
		}
		if math.IsInf(best, 1) || best < thinnest {
			return
		}
		l := at.Distance(to)
		c := Chord{A: at, B: to, Spans: []plane.Span{{From: 0, To: l}}, Place: at.Add(to).Times(0.5), from: edge, to: hit}
		c.measure()
		all = append(all, c)
	}
	for _, st := range s.along(h) {
		if !st.corner {
			from(st.at, st.into, st.edge)
		}
	}
	for _, r := range s.Rounds {
		s.around(r.At, r.Radius, h, from)
	}
	for _, t := range s.Slots {
		for _, at := range t.Line {
			s.around(at, t.Radius, h, from)
		}
	}
	for _, c := range s.Cutouts {
		hole := Shape{Outline: c, Floor: NoFloor}
		for _, st := range hole.along(h) {
			if st.corner {
				for i := range 2 * spreadSteps {
					sin, cos := math.Sincos(math.Pi * float64(i) / spreadSteps)
					from(st.at, plane.Point{X: cos, Z: sin}, -1)
				}
				continue
			}
			from(st.at, st.into.Times(-1), -1)
		}
	}
	return all
}

// around calls from with places around a circle and the way out of it.
func (s *Shape) around(at plane.Point, radius, h float64, from func(at, into plane.Point, edge int)) {
	n := max(12, int(math.Ceil(2*math.Pi*radius/h)))
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		out := plane.Point{X: cos, Z: sin}
		from(at.Add(out.Times(radius)), out, -1)
	}
}

// AcrossRounds returns for each round hole the chords through its middle to the next edges on both sides, as
// one net section: a leg or a strip with a hole in it bears as a whole.
func (s *Shape) AcrossRounds() []Chord {
	var all []Chord
	for i, r := range s.Rounds {
		rest := *s
		rest.Rounds = append(append([]Round(nil), s.Rounds[:i]...), s.Rounds[i+1:]...)
		for k := range fan {
			sin, cos := math.Sincos(math.Pi * float64(k) / fan)
			way := plane.Point{X: cos, Z: sin}
			there, edge := rest.cast(r.At, way, true)
			back, other := rest.cast(r.At, way.Times(-1), true)
			if math.IsInf(there+back, 1) {
				continue
			}
			a, b := r.At.Sub(way.Times(back)), r.At.Add(way.Times(there))
			c := Chord{A: a, B: b, Place: r.At, from: other, to: edge,
				Spans: []plane.Span{{From: 0, To: back - r.Radius}, {From: back + r.Radius, To: back + there}}}
			if back <= r.Radius || there <= r.Radius {
				continue
			}
			c.measure()
			all = append(all, c)
		}
	}
	return all
}

// Row returns the chord from outline to outline along the line through two places, moved to one side by so
// many mm.
func (s *Shape) Row(p, q plane.Point, aside float64) (Chord, bool) {
	l := p.Distance(q)
	if l < 1e-6 {
		return Chord{}, false
	}
	off := plane.Point{X: -(q.Z - p.Z) / l * aside, Z: (q.X - p.X) / l * aside}
	return s.Line(p.Add(off), q.Add(off))
}

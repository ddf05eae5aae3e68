package sheet

import (
	"math"

	"stanchion/holes/plane"
)

// Parting is two sets of places of a plate, made ready to be parted by many chords.
type Parting struct {
	shape      *Shape
	foot, head []counted
}

// counted is a place with its parity along the outline.
type counted struct {
	at  plane.Point
	odd []bool
}

// Parting makes two sets of places ready.
func (s *Shape) Parting(foot, head []plane.Point) *Parting {
	ready := func(places []plane.Point) []counted {
		all := make([]counted, len(places))
		for i, p := range places {
			all[i] = counted{p, plane.Parity(s.Outline, p)}
		}
		return all
	}
	return &Parting{s, ready(foot), ready(head)}
}

// Sides reports whether a chord from outline to outline has the whole head on one side and the whole foot on the other, and whether the head is on that of the
// outline's corners after A's edge up to B's.
func (q *Parting) Sides(c *Chord) (after, ok bool) {
	if c.from < 0 || c.to < 0 || c.from == c.to || len(q.head) == 0 {
		return false, false
	}
	after = q.shape.holds(c, &q.head[0])
	for i := range q.head[1:] {
		if q.shape.holds(c, &q.head[1+i]) != after {
			return false, false
		}
	}
	for i := range q.foot {
		if q.shape.holds(c, &q.foot[i]) == after {
			return false, false
		}
	}
	return after, true
}

// holds reports whether the piece after A's edge has a place in it: the parity of its outline, as plane.Inside counts it.
func (s *Shape) holds(c *Chord, p *counted) bool {
	n := len(s.Outline)
	first := (c.from + 1) % n
	in := p.odd[first] != p.odd[c.to]
	if c.to < first {
		in = in != p.odd[n]
	}
	return in != plane.Behind(p.at, c.B, c.A) != plane.Behind(p.at, c.A, s.Outline[first]) != plane.Behind(p.at, s.Outline[c.to], c.B)
}

// Beyond returns a chord with what lies on the side of the outline's corners after A's edge up to B's, or on the other.
func (s *Shape) Beyond(c *Chord, after bool) Parted {
	piece := s.piece(c)
	if !after {
		piece = s.piece(&Chord{A: c.B, B: c.A, from: c.to, to: c.from})
	}
	p := Parted{Chord: c}
	p.Area, p.Mass = plane.Area(piece)
	p.Area = math.Abs(p.Area)
	// The piece's middle of mass need not lie on its side of the chord, a point just off the chord does.
	way, middle := c.Way(), c.Centre()
	p.Normal = plane.Point{X: -way.Z, Z: way.X}
	if !plane.Inside(piece, middle.Add(p.Normal.Times(1e-4))) && plane.Inside(piece, middle.Sub(p.Normal.Times(1e-4))) {
		p.Normal = p.Normal.Times(-1)
	}
	return p
}

package sheet

import (
	"math"

	"stanchion/holes/plane"
)

// Chord is a straight cut through a plate, from edge to edge. Openings on the way are left
// out, and what is left bears together.
type Chord struct {
	A, B    plane.Point
	Spans   []plane.Span // of metal, mm from A
	Width   float64      // mm of metal
	Middle  float64      // mm from A, of the metal
	Inertia float64      // mm³: of the metal about its middle, over the thickness
	Far     float64      // mm from the middle to the outermost metal

	Place plane.Point // that it was cut through, of a lattice's

	from, to int // the outline's edges that A and B lie on; -1 at an opening
}

// NewChord cuts a shape from a to b, both on the outline with the line between them inside
// it; ok is false where no metal is left.
func (s *Shape) NewChord(a, b plane.Point) (c Chord, ok bool) {
	return s.chord(a, b, -1, -1)
}

func (s *Shape) chord(a, b plane.Point, from, to int) (c Chord, ok bool) {
	c = Chord{A: a, B: b, Spans: s.spans(a, b), from: from, to: to}
	c.measure()
	return c, c.Width > 1e-6
}

// measure works a chord's figures out from its spans.
func (c *Chord) measure() {
	for _, m := range c.Spans {
		c.Width += m.To - m.From
		c.Middle += (m.To - m.From) * (m.From + m.To) / 2
	}
	if c.Width == 0 {
		return
	}
	c.Middle /= c.Width
	for _, m := range c.Spans {
		l, d := m.To-m.From, (m.From+m.To)/2-c.Middle
		c.Inertia += l*l*l/12 + l*d*d
		c.Far = max(c.Far, c.Middle-m.From, m.To-c.Middle)
	}
}

// Length is the distance of a chord's ends, mm, openings included.
func (c *Chord) Length() float64 { return c.A.Distance(c.B) }

// Way is the direction from A to B, of length 1.
func (c *Chord) Way() plane.Point { return c.B.Sub(c.A).Times(1 / c.Length()) }

// At returns the place on a chord so many mm from A.
func (c *Chord) At(mm float64) plane.Point { return c.A.Add(c.Way().Times(mm)) }

// Centre is the middle of the chord's metal.
func (c *Chord) Centre() plane.Point { return c.At(c.Middle) }

// Gross reports whether a chord meets no opening.
func (c *Chord) Gross() bool { return len(c.Spans) == 1 && c.Width > c.Length()-1e-6 }

// Touches reports whether a chord comes nearer to a point than a distance in mm.
func (c *Chord) Touches(p plane.Point, mm float64) bool {
	d, _ := plane.ToSegment(p, c.A, c.B)
	return d < mm
}

// piece returns what a chord from outline to outline parts off, on the side of the outline's
// corners after A's edge up to B's.
func (s *Shape) piece(c *Chord) []plane.Point {
	n := len(s.Outline)
	polygon := append(make([]plane.Point, 0, n+2), c.B, c.A)
	for i := (c.from + 1) % n; ; i = (i + 1) % n {
		polygon = append(polygon, s.Outline[i])
		if i == c.to {
			return polygon
		}
	}
}

// Parted is a chord from outline to outline that parts one set of points from another.
type Parted struct {
	*Chord
	Normal plane.Point // square to the chord, towards the piece beyond, of length 1
	Area   float64     // mm² of the piece, openings included
	Mass   plane.Point // its middle
}

// Part reports whether a chord from outline to outline has all points of one set on one side
// and all of the other on the other, and returns it with the piece that holds the second.
func (s *Shape) Part(c *Chord, foot, head []plane.Point) (p Parted, ok bool) {
	after, ok := s.Parting(foot, head).Sides(c)
	if !ok {
		return p, false
	}
	return s.Beyond(c, after), true
}

// BesideRound reports whether a chord without openings runs from a round hole: to another edge.
func (s *Shape) BesideRound(c *Chord) bool {
	if len(c.Spans) != 1 {
		return false
	}
	for _, r := range s.Rounds {
		if math.Abs(c.A.Distance(r.At)-r.Radius) < 1e-6 || math.Abs(c.B.Distance(r.At)-r.Radius) < 1e-6 {
			return true
		}
	}
	return false
}

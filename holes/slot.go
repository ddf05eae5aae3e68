package holes

import (
	"fmt"
	"math"
	"strconv"

	"stanchion/holes/plane"
)

// Slot is a hole whose one bolt can sit anywhere along a line: straight from
// the hole's own centre to another point, or along an arc about a centre. It is
// offered as a row of positions, each a hole of its own.
type Slot struct {
	Hole               // where it starts
	To     plane.Point // the other end of a straight slot
	Centre plane.Point // of an arc
	Turn   float64     // of an arc, rad; 0 for a straight slot
	Step   float64     // largest distance between positions, mm
}

// Length returns the way from end to end, mm.
func (s Slot) Length() float64 {
	if s.Turn != 0 {
		return math.Abs(s.Turn) * s.Hole.At().Distance(s.Centre)
	}
	return s.Hole.At().Distance(s.To)
}

// Along returns the place at a distance in mm from the first end.
func (s Slot) Along(mm float64) plane.Point {
	part := 0.0
	if l := s.Length(); l > 0 {
		part = mm / l
	}
	if s.Turn != 0 {
		return plane.About(s.Centre, s.Turn*part).Apply(s.Hole.At())
	}
	return s.Hole.At().Add(s.To.Sub(s.Hole.At()).Times(part))
}

// maxPositions bounds the positions of one slot.
const maxPositions = 500

// Positions returns the slot's positions as holes, both ends included, no
// further apart than Step. A position's id is the slot's with the distance from
// the first end in mm behind an @: "S1@14".
func (s Slot) Positions() []Hole {
	n := 1
	if s.Step > 0 {
		n = max(1, min(maxPositions, int(math.Ceil(s.Length()/s.Step-1e-9))))
	}
	var all []Hole
	for i := range n + 1 {
		h := s.Hole
		h.Slot, h.Distance = s.ID, s.Length()*float64(i)/float64(n)
		at := s.Along(h.Distance)
		h.X, h.Z = at.X, at.Z
		h.ID = s.ID + "@" + strconv.FormatFloat(math.Round(h.Distance*10)/10, 'f', -1, 64)
		all = append(all, h)
	}
	return all
}

// Where says in words where the position at a distance from the first end is,
// from the end that is named more easily.
func (s Slot) Where(mm float64) string {
	from, to := s.Along(0), s.Along(s.Length())
	first, last := "lower", "upper"
	if math.Abs(from.Z-to.Z) < math.Abs(from.X-to.X) {
		first, last = "front", "rear"
		if from.X > to.X {
			first, last = last, first
		}
	} else if from.Z > to.Z {
		first, last = last, first
	}
	return fmt.Sprintf("%.1f mm from the %s end, %.1f mm from the %s end", mm, first, s.Length()-mm, last)
}

// sameHole reports whether two holes of one part are one, or positions of one
// slot: they take one bolt between them.
func sameHole(a, b *Hole) bool { return a == b || a.Slot != "" && a.Slot == b.Slot }

package cad

import (
	"fmt"
	"math"
	"slices"

	"stanchion/holes/plane"
)

// Role is what a closed outline of a drawing is taken for.
type Role int

// The roles. All but the first four say why an outline is not taken.
const (
	Undecided Role = iota // since which is the part's outline is not clear
	Candidate             // may be the part's outline
	PartOutline
	Cutout
	Border    // around the part's outline
	Beside    // outside of it
	Across    // crosses or touches it
	WithHoles // within it, with holes inside
	AtHole    // within it, and runs into a hole
	AtCutout  // lies in a larger cut-out, or runs into one
	Tangled   // crosses or touches itself
	TooLarge  // has more corners than are taken, or would be one cut-out too many
)

// Closed is a closed outline of a drawing that is neither round nor a slot.
type Closed struct {
	Number int         // counted from 1, the largest first
	Lo, Hi plane.Point // corners of the box around it, mm
	Layer  string
	Holds  int // holes and slots that lie in it
	Role   Role
	At     plane.Point // of AtHole: the hole's centre
	Other  int         // of AtCutout: the number of the other
}

// What a car file takes of the cut-outs of a part: carfile.MaxCutouts and
// carfile.MaxCutoutPoints.
const (
	maxCutouts       = 500
	maxCutoutCorners = 10_000
)

// outlines looks for the part's outline and its cut-outs among closed outlines: the one that is
// chosen by its number, or with 0 the one that is the part's by its holes.
func (f *Found) outlines(loops []loop, chosen int) error {
	shapes := f.shapes(loops)
	if chosen > len(shapes) {
		return fmt.Errorf("there is no closed outline %d in it that could be the part's; it has %d", chosen, len(shapes))
	}
	mine := chosen - 1
	if chosen == 0 {
		mine = pick(shapes)
		if mine >= 0 && shapes[mine].Holds == 0 && len(f.Holes)+len(f.Slots) > 0 {
			mine = -1
			f.Notes = append(f.Notes, "NO OUTLINE IS TAKEN: no closed outline holds the holes. The part's own is open: close its gap in the drawing, or choose one with --take")
		}
	}
	if mine >= 0 && len(shapes[mine].points) > maxFound {
		return fmt.Errorf("closed outline %d has %d corners, and an outline may have %d at most: draw it with fewer, or on a layer that is not read",
			mine+1, len(shapes[mine].points), maxFound)
	}
	if mine >= 0 {
		if chosen > 0 {
			f.dropOutside(&shapes[mine])
		}
		f.takeShapes(shapes, mine)
		f.noteNearlyRound()
		f.takeRounds(&shapes[mine])
	}
	for i := range shapes {
		f.Closed = append(f.Closed, shapes[i].Closed)
	}
	return nil
}

// Unclear reports whether a drawing has closed outlines of which more than one may be the
// part's, so that none is taken: those are the candidates.
func (f *Found) Unclear() bool {
	return slices.ContainsFunc(f.Closed, func(c Closed) bool { return c.Role == Candidate })
}

// dropOutside leaves out the holes and slots beyond the outline that a person chose: they are
// another view's, or a title block's.
func (f *Found) dropOutside(s *shape) {
	dropped := 0
	drop := func(kind string, d float64, at plane.Point) bool {
		if dropped++; dropped <= maxListed {
			f.Ignored = append(f.Ignored, fmt.Sprintf("a %s of %.2f mm at %.2f, %.2f, outside of closed outline %d", kind, d, at.X, at.Z, s.Number))
		}
		return true
	}
	kept := f.Holes[:0]
	for _, h := range f.Holes {
		if s.holds(h.At()) || !drop("circle", h.D, h.At()) {
			kept = append(kept, h)
		}
	}
	f.Holes = kept
	slots := f.Slots[:0]
	for _, o := range f.Slots {
		if s.holds(o.Along(0)) || s.holds(o.Along(o.Length())) || !drop("slot", o.D, o.At()) {
			slots = append(slots, o)
		}
	}
	f.Slots = slots
	if dropped > maxListed {
		f.Ignored = append(f.Ignored, fmt.Sprintf("and %d more circles and slots outside of closed outline %d", dropped-maxListed, s.Number))
	}
}

// takeShapes takes the part's outline, and says of every other what it is to it.
func (f *Found) takeShapes(shapes []shape, mine int) {
	own := &shapes[mine]
	own.Role, f.Outline = PartOutline, own.points
	if at, ok := plane.Knot(own.points); ok {
		f.Notes = append(f.Notes, fmt.Sprintf("CHECK THE OUTLINE: it crosses or touches itself at %.2f, %.2f", at.X, at.Z))
	}
	bent := false
	corners := 0
	var taken []*shape
	for i := range shapes {
		s := &shapes[i]
		if i == mine {
			continue
		}
		if s.Role = f.roleIn(own, s, taken); s.Role != Cutout {
			continue
		}
		if corners += len(s.points); len(taken) == maxCutouts || corners > maxCutoutCorners {
			s.Role = TooLarge
			corners -= len(s.points)
			continue
		}
		taken, f.Cutouts, bent = append(taken, s), append(f.Cutouts, s.points), bent || s.bent
	}
	if own.bent {
		f.Notes = append(f.Notes, fmt.Sprintf("the outline's arcs are taken as chords that are true to %.2f mm", flat))
	}
	if bent {
		f.Notes = append(f.Notes, fmt.Sprintf("arcs of cut-outs are taken as chords that are true to %.2f mm", flat))
	}
}

// lightening is the diameter from which a circle is no bolt's hole, mm: an M20 bolt's is 22 mm.
// Common practice, no source.
const lightening = 25

// roundCorners is how many corners a round cut-out is taken with, around its circle.
const roundCorners = 48

// takeRounds takes circles that are too wide for bolts as cut-outs of the part.
func (f *Found) takeRounds(own *shape) {
	kept := f.Holes[:0]
	for _, h := range f.Holes {
		var points []plane.Point
		radius := h.D / 2 / math.Cos(math.Pi/roundCorners)
		for i := range roundCorners {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / roundCorners)
			points = append(points, plane.Point{X: h.X + radius*cos, Z: h.Z + radius*sin})
		}
		if h.D < lightening || !plane.Encloses(own.points, points) || len(f.Cutouts) == maxCutouts ||
			slices.ContainsFunc(f.Cutouts, func(c []plane.Point) bool { return plane.Overlap(c, points) }) {
			kept = append(kept, h)
			continue
		}
		f.Cutouts = append(f.Cutouts, points)
		f.Notes = append(f.Notes, fmt.Sprintf("the circle of %.1f mm at %.2f, %.2f is taken as a round cut-out: no bolt is that wide", h.D, h.X, h.Z))
	}
	f.Holes = kept
}

// Spoilt returns the first closed outline within or across the part's that cannot be a cut-out, though it
// looks like one: without it the part would be stronger than it is drawn.
func (f *Found) Spoilt() (Closed, bool) {
	for _, c := range f.Closed {
		switch c.Role {
		case Across, AtHole, AtCutout, Tangled:
			return c, true
		}
	}
	return Closed{}, false
}

// roleIn says what a closed outline is to the part's; taken are the cut-outs so far, all larger.
func (f *Found) roleIn(own, s *shape, taken []*shape) Role {
	if own.liesIn(s) {
		return Border
	}
	if !plane.Encloses(own.points, s.points) {
		if _, meets := plane.Meet(own.points, s.points); meets {
			return Across
		}
		return Beside
	}
	switch {
	case s.Holds > 0:
		return WithHoles
	case len(s.points) > maxCutoutCorners:
		return TooLarge
	}
	if _, knot := plane.Knot(s.points); knot || len(s.points) < 3 {
		return Tangled
	}
	for _, h := range f.Holes {
		if h.ReachesInto(s.points) {
			s.At = h.At()
			return AtHole
		}
	}
	for _, o := range f.Slots {
		if o.ReachesInto(s.points) {
			s.At = o.At()
			return AtHole
		}
	}
	for _, o := range taken {
		if plane.Overlap(o.points, s.points) {
			s.Other = o.Number
			return AtCutout
		}
	}
	return Cutout
}

package strength

import (
	"sync"
	"sync/atomic"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/sheet"
)

// metal is a plate as it is drawn, with the chords that its strength is read on. Chords hang on
// the drawing alone and are worked out once, when they are first asked for.
type metal struct {
	shape   *sheet.Shape
	across  func() []sheet.Chord // from outline to outline
	sides   func() []sides       // of each of them, what lies on either side, once it was asked for
	lattice func() []sheet.Chord // the shortest through each place of a lattice
	narrow  func() []sheet.Chord // across each ligament, and through each round hole
}

// sides are what lies on either side of a chord: on that of the outline's corners after its end A second.
type sides [2]atomic.Pointer[sheet.Parted]

// chordStep is how far apart the places are that chords start from, mm.
const chordStep = 6

// newMetal takes a part's drawing; floor is the height in its frame below which it is held.
func newMetal(part *model.Part, floor float64) *metal {
	s := &sheet.Shape{Outline: plane.Corners(part.Outline), Cutouts: part.Cutouts, Floor: floor}
	for _, h := range part.Holes {
		if h.Slot == "" {
			s.Rounds = append(s.Rounds, sheet.Round{At: h.At(), Radius: h.D / 2})
		}
	}
	for _, slot := range part.Slots {
		s.Slots = append(s.Slots, sheet.Slot{Line: slotLine(slot.Length(), slot.Along), Radius: slot.D / 2})
	}
	across := sync.OnceValue(func() []sheet.Chord { return s.Across(chordStep) })
	return &metal{s, across, sync.OnceValue(func() []sides { return make([]sides, len(across())) }),
		sync.OnceValue(func() []sheet.Chord { return s.Lattice(chordStep) }),
		sync.OnceValue(func() []sheet.Chord { return append(s.Ligaments(chordStep), s.AcrossRounds()...) })}
}

// slotLine takes a slot's middle line as points no further apart than 4 mm.
func slotLine(length float64, along func(mm float64) plane.Point) []plane.Point {
	n := max(1, int(length/4+1))
	var line []plane.Point
	for i := range n + 1 {
		line = append(line, along(length*float64(i)/float64(n)))
	}
	return line
}

// jut is by how much an outline must turn at a corner for it to jut into the metal, rad: less is an arc that is
// taken as chords.
const jut = 0.35

// corners are the corners that jut into the metal: of the outline where it turns inwards, of cut-outs where they
// turn outwards.
func (m *metal) corners() []plane.Point {
	var all []plane.Point
	ring := func(points []plane.Point, sign float64) {
		if area, _ := plane.Area(points); area < 0 {
			sign = -sign
		}
		n := len(points)
		for i, p := range points {
			a, b := p.Sub(points[(i+n-1)%n]), points[(i+1)%n].Sub(p)
			if turn := plane.Wrap(b.Angle() - a.Angle()); sign*turn > jut {
				all = append(all, p)
			}
		}
	}
	ring(m.shape.Outline, -1)
	for _, c := range m.shape.Cutouts {
		ring(c, 1)
	}
	return all
}

// aside is how far beside a row of bolts the chord lies that takes their holes out and them to one side, mm.
const aside = 0.01

// parted are the chords that part one set of places from another, those along the rows of either among them.
func (m *metal) parted(foot, head []plane.Point) []sheet.Parted {
	across, sides := m.across(), m.sides()
	var all []sheet.Parted
	q := m.shape.Parting(foot, head)
	for i := range across {
		after, ok := q.Sides(&across[i])
		if !ok {
			continue
		}
		side := &sides[i][0]
		if after {
			side = &sides[i][1]
		}
		p := side.Load()
		if p == nil {
			beyond := m.shape.Beyond(&across[i], after)
			p = &beyond
			side.Store(p)
		}
		all = append(all, *p)
	}
	for _, group := range [2][]plane.Point{foot, head} {
		for i, a := range group {
			for _, b := range group[i+1:] {
				for _, side := range [2]float64{-aside, aside} {
					if c, ok := m.shape.Row(a, b, side); ok {
						if p, ok := m.shape.Part(&c, foot, head); ok {
							all = append(all, p)
						}
					}
				}
			}
		}
	}
	return all
}

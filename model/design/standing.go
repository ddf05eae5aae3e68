package design

import (
	"cmp"
	"context"
	"math"
	"slices"

	"stanchion/holes/plane"
)

// standing searches the fewest holes with which the plate stands at all heights.
type standing struct {
	*frame
	ctx   context.Context
	found foot
	best  int
	loose bool
	left  int // moves that a loose search still tries
}

// search goes on to the next height; lo and hi are by how much the heights so far are off, mm.
func (s *standing) search(at foot, lo, hi float64) {
	l := len(at.shifts)
	if len(at.holes) >= s.best || s.ctx.Err() != nil {
		return
	}
	if l == len(s.wish.Heights) {
		s.found, s.best = foot{holes: slices.Clone(at.holes), shifts: slices.Clone(at.shifts), levels: slices.Clone(at.levels)}, len(at.holes)
		return
	}
	type step struct {
		move
		added []plane.Point
		off   float64
	}
	var steps []step
	want := s.wish.Heights[l] - s.wish.Heights[0]
	for _, d := range s.moves(at, want) {
		off := s.rise(d.shift) - want
		if s.loose {
			if s.left--; s.left < 0 {
				return
			}
		}
		if max(hi, off)-min(lo, off) > s.freedom() {
			continue
		}
		if added, ok := s.complete(at.holes, s.on(stance{Pose: plane.Pose{X: d.shift.X, Z: d.shift.Z}, place: d.place}), d.place); ok {
			steps = append(steps, step{d, added, off})
		}
	}
	far := func(st step) float64 { return math.Abs(st.off) }
	if s.loose {
		far = func(st step) float64 { return math.Abs(st.off) + math.Abs(st.shift.X)/2 }
	}
	slices.SortStableFunc(steps, func(a, b step) int {
		return cmp.Or(cmp.Compare(len(a.added), len(b.added)), cmp.Compare(far(a), far(b)))
	})
	for _, st := range steps[:min(len(steps), 6)] {
		s.search(foot{holes: append(slices.Clip(at.holes), st.added...), shifts: append(slices.Clip(at.shifts), st.shift),
			levels: append(slices.Clip(at.levels), st.place)},
			min(lo, st.off), max(hi, st.off))
	}
}

// freedom is by how much the heights of the plate may be off against each other, mm: what the head does not need of their tolerance.
func (f *frame) freedom() float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for i := range 9 {
		z := plane.Pose{Turn: f.wish.Low + (f.wish.High-f.wish.Low)*float64(i)/8}.Apply(f.quarter).Z
		low, high = min(low, z), max(high, z)
	}
	return 2*f.wish.HeightWithin - (high - low) - footFree
}

// move is one of the plate as it is drawn, to a place of the bracket.
type move struct {
	shift plane.Point // in the frame of the bracket at its first place
	place int
}

// moves lists how the plate may be moved for a height that is so much above the first: so that some of its holes come onto holes of the
// bracket, or just as far as is wanted; at any place of the bracket at which that is not turned.
func (s *standing) moves(at foot, want float64) (all []move) {
	for k := range s.places {
		p := &s.places[k]
		if math.Abs(p.Turn) > 1e-6 {
			continue
		}
		here := []plane.Point{{Z: want / math.Cos(s.lean())}} // along the bracket's rows
		for _, b := range p.free {
			for _, u := range at.holes {
				d := p.Apply(b).Sub(u)
				if math.Abs(s.rise(d)-want) <= 2*s.wish.HeightWithin && math.Abs(d.X) <= s.wish.BehindWithin+onto && apart(d, here, onto) {
					here = append(here, d)
				}
			}
		}
		if s.loose {
			here = append(here, s.around(want)...)
		}
		for _, d := range here {
			all = append(all, move{d, k})
		}
	}
	return all
}

// around lists moves that are off what is wanted by what its tolerances leave.
func (s *standing) around(want float64) (all []plane.Point) {
	const parts = 8
	for i := -parts; i <= parts; i++ {
		z := (want + s.freedom()*float64(i)/parts) / math.Cos(s.lean())
		for _, x := range []float64{0, -0.5, 0.5, -1, 1} {
			all = append(all, plane.Point{X: x * s.wish.BehindWithin, Z: z})
		}
	}
	return all
}

// complete returns the holes that the plate wants besides those that it has, so that enough bolts go in at a pose on its
// bracket.
func (f *frame) complete(have []plane.Point, pose plane.Pose, place int) (added []plane.Point, ok bool) {
	back, bracket := pose.Inverse(), f.places[place].free
	var in []plane.Point // in the bracket's frame
	for _, b := range bracket {
		if !apart(back.Apply(b), have, f.inLine()) && apart(b, in, f.footPairs) {
			in = append(in, b)
		}
	}
	for len(in) < f.wish.FootBolts {
		best, at := -1.0, plane.Point{}
		for _, b := range bracket {
			u := back.Apply(b)
			if !apart(b, in, f.footPairs) || !apart(u, have, f.footRoom) || !apart(u, added, f.footRoom) || !apart(u, f.kept.fronts, f.mixedRoom) || !apart(u, f.kept.rears, f.mixedRoom) {
				continue
			}
			far := 1.0
			for _, o := range in {
				far += math.Sqrt(b.Distance(o))
			}
			if far > best+1e-9 {
				best, at = far, b
			}
		}
		if best < 0 {
			return nil, false
		}
		in, added = append(in, at), append(added, back.Apply(at))
	}
	return added, true
}

package design

import (
	"cmp"
	"context"
	"math"
	"slices"

	"stanchion/holes/plane"
)

// keeping are the kept holes as a search has them, in its frame.
type keeping struct {
	at                  plane.Pose // of the plate's own frame in that of the search; only where holes are kept
	foot, fronts, rears []plane.Point
}

func (k *keeping) head() []plane.Point { return slices.Concat(k.fronts, k.rears) }

// mostKeptPlaces is how many places of a plate on the fixed part are searched further, where its kept holes allow several.
const mostKeptPlaces = 4

// keptFrames are the frames to search with holes that are kept: one for each place where the plate may stand at the first height, those in which the fewest
// holes are wanted at the foot and the fewest kept ones of the head are of no use first.
func (f *frame) keptFrames(ctx context.Context, of []*frame) ([]*frame, error) {
	if len(f.wish.Kept.Holes) == 0 {
		return of, nil
	}
	type option struct {
		*frame
		holes int
		off   float64 // mm, by which its front holes are off the first height there
		far   float64 // mm from where the plate is bolted now
	}
	var all []option
	for _, b := range of {
		for _, at := range b.keptPlaces() {
			g := *b
			g.kept = f.wish.Kept.placed(at)
			var err error
			if g.standing, err = g.keptUpright(ctx); err != nil {
				return nil, err
			}
			if len(g.standing) == 0 {
				continue
			}
			all = append(all, option{&g, g.drilled() + len(g.standing[0].holes) + g.idleHeads(), g.offFirst(), f.wish.Kept.far(at)})
		}
	}
	slices.SortStableFunc(all, func(a, b option) int {
		return cmp.Or(cmp.Compare(a.holes, b.holes), cmp.Compare(a.off, b.off), cmp.Compare(a.far, b.far))
	})
	var best []*frame
	for _, o := range all[:min(len(all), mostKeptPlaces)] {
		best = append(best, o.frame)
	}
	return best, nil
}

// placed puts the kept holes into a search's frame.
func (k *Kept) placed(at plane.Pose) keeping {
	p := keeping{at: at}
	for _, h := range k.Holes {
		q := at.Apply(h.At())
		switch h.Role {
		case AtFoot:
			p.foot = append(p.foot, q)
		case AtFront:
			p.fronts = append(p.fronts, q)
		default:
			p.rears = append(p.rears, q)
		}
	}
	return p
}

// far is how far a place is from where the plate is bolted now, mm; 0 where it is not.
func (k *Kept) far(at plane.Pose) float64 {
	far := math.Inf(1)
	for _, s := range k.Stands {
		far = min(far, math.Hypot(s.X-at.X, s.Z-at.Z))
	}
	if math.IsInf(far, 1) {
		return 0
	}
	return far
}

// keptPlaces lists where the plate may stand at the first height: with a kept hole of the foot in line with one of the fixed part; where none is kept, where the plate is
// bolted now, moved up or down as that height wants it.
func (f *frame) keptPlaces() (all []plane.Pose) {
	k := &f.wish.Kept
	add := func(p plane.Pose) {
		if !slices.ContainsFunc(all, func(o plane.Pose) bool { return math.Hypot(o.X-p.X, o.Z-p.Z) < rounded }) {
			all = append(all, p)
		}
	}
	turned := plane.Pose{Turn: k.Turn}
	bare := k.placed(turned)
	for _, u := range bare.foot {
		for _, b := range f.bracket {
			d := b.Sub(u)
			add(plane.Pose{X: d.X, Z: d.Z, Turn: k.Turn})
		}
	}
	if len(bare.foot) > 0 {
		return all
	}
	stands := k.Stands
	if len(stands) == 0 { // over the middle of the fixed part
		turned.X = middleOf(f.bracket).X - middleOf(bare.head()).X
		stands = []plane.Pose{turned}
	}
	for _, s := range stands {
		p := k.placed(s)
		lo, hi := plane.Box(f.frontsOf(p))
		off := f.wish.Heights[0] - f.heightOf(lo.Add(hi).Times(0.5), (f.wish.Low+f.wish.High)/2)
		add(s)
		s.Z += off / math.Cos(f.lean())
		add(s)
	}
	return all
}

// frontsOf are kept front holes, or where only rear ones are kept, where the front bolt is at the middle angle.
func (f *frame) frontsOf(p keeping) []plane.Point {
	if len(p.fronts) > 0 {
		return p.fronts
	}
	var all []plane.Point
	for _, q := range p.rears {
		all = append(all, q.Sub(f.rearOf(plane.Point{}, (f.wish.Low+f.wish.High)/2)))
	}
	return all
}

// keptUpright lists feet on which the plate stands with its kept holes where they are.
func (f *frame) keptUpright(ctx context.Context) ([]foot, error) {
	if len(f.kept.foot) == 0 {
		feet, err := f.upright(ctx)
		return slices.DeleteFunc(feet, func(t foot) bool {
			return slices.ContainsFunc(t.holes, func(h plane.Point) bool { return !apart(h, f.kept.head(), f.mixedRoom) })
		}), err
	}
	if added, ok := f.complete(f.kept.foot, plane.Pose{}, 0); ok {
		have := append(slices.Clip(f.kept.foot), added...)
		if t, ok := f.standOn(ctx, have, f.bolted(have, plane.Pose{}, 0), false); ok {
			return []foot{t}, nil
		}
	}
	return nil, ctx.Err()
}

// idleHeads counts the kept holes of the head that bring the wing to no height wanted on the first of the feet, whatever other hole is drilled for them.
func (f *frame) idleHeads() (n int) {
	const tries = 12 // angles
	serves := func(front func(angle float64) plane.Point) bool {
		for i := range tries + 1 {
			a := f.wish.Low + (f.wish.High-f.wish.Low)*float64(i)/tries
			for _, s := range f.standing[0].stands {
				for _, h := range f.wish.Heights {
					if math.Abs(f.heightOf(s.Apply(front(a)), a)-h) <= f.wish.HeightWithin {
						return true
					}
				}
			}
		}
		return false
	}
	for _, p := range f.kept.fronts {
		if !serves(func(float64) plane.Point { return p }) {
			n++
		}
	}
	for _, q := range f.kept.rears {
		if !serves(func(a float64) plane.Point { return q.Sub(f.rearOf(plane.Point{}, a)) }) {
			n++
		}
	}
	return n
}

// offFirst is by how much the kept front hole nearest to it is off the first height with the plate as it is placed, mm; 0 within the tolerance, or where none is kept.
func (f *frame) offFirst() float64 {
	least := math.Inf(1)
	for _, p := range f.kept.fronts {
		least = min(least, math.Abs(f.heightOf(p, (f.wish.Low+f.wish.High)/2)-f.wish.Heights[0]))
	}
	if math.IsInf(least, 1) || least <= f.wish.HeightWithin {
		return 0
	}
	return math.Round(least)
}

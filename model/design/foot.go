package design

import (
	"cmp"
	"context"
	"math"
	"slices"

	"stanchion/holes/plane"
)

// foot is how the plate stands on the fixed part: its holes there, and its poses.
type foot struct {
	holes  []plane.Point // in the plate's frame, whose origin is the fixed part's with the plate at its first height
	shifts []plane.Point // of the plate, upright as it is drawn, in the frame of the bracket at the first of its places: one per height
	tilts  []float64     // rad, by which it can be turned at every height; the first is 0
	levels []int         // at which of the bracket's places each of these is
	stands []stance      // all poses in which enough bolts go in, as far as they are looked for
	base   []plane.Point // of the bracket's holes, those that its bolts are in at the first height
	hang   float64       // mm, by which its lowest hole is below the fixed part's at the lowest height; 0 where it is not
	spread float64       // mm, how far apart its bolts are, up and down, where that is least
	top    float64       // mm, by which the highest bolt of the first height stands above the origin
}

// stance is one pose of the plate in the frame of its bracket at the first of its places.
type stance struct {
	plane.Pose
	level int // the height that it is for; -1 for any
	place int // of the bracket
}

// Tolerances and bounds of the search for a foot.
const (
	onto       = 0.06 // mm, how near holes must come together to count as one in line
	rounded    = 0.12 // mm, the same once holes are rounded to tenths
	footShift  = 15.0 // mm, by which the foot is moved fore and aft when the plate is tilted
	mostBases  = 160  // ways of bolting the plate at its first height that are tried, the widest first
	mostTilted = 16   // of the feet on which the plate stands upright, that are looked at further for tilting it
	mostTurns  = 24   // of the plate on a foot, that are looked at
	mostLoose  = 4000 // moves that a loose search tries on a base
	footFree   = 2.0  // mm of the heights' tolerance, all told, that is left to the head
)

// upright lists ways in which the plate can stand at all heights as it is drawn, the fewest holes first, then those that reach least below
// the fixed part, then the widest apart.
func (f *frame) upright(ctx context.Context) ([]foot, error) {
	var found []foot
	for _, loose := range []bool{false, true} {
		for _, base := range f.bases() {
			if t, ok := f.standOn(ctx, base, base, loose); ok {
				found = append(found, t)
			}
			if err := ctx.Err(); err != nil {
				return nil, err
			}
		}
		if len(found) > 0 {
			break
		}
	}
	sortFeet(found)
	return found, nil
}

// standOn finds the fewest further holes with which the plate stands at all heights as it is drawn, with some holes and the base that its bolts are in
// at the first height; not ok where there are none, or the context ended. A loose search also uses what the heights may be off, and the plate further to the front or rear.
func (f *frame) standOn(ctx context.Context, have, base []plane.Point, loose bool) (t foot, ok bool) {
	s := standing{frame: f, ctx: ctx, best: math.MaxInt, loose: loose, left: mostLoose}
	s.search(foot{holes: have, shifts: []plane.Point{{}}, levels: []int{0}}, 0, 0)
	if s.best == math.MaxInt || ctx.Err() != nil {
		return t, false
	}
	t = s.found
	t.tilts, t.base = []float64{0}, base
	for l, d := range t.shifts {
		t.stands = append(t.stands, stance{plane.Pose{X: d.X, Z: d.Z}, l, t.levels[l]})
	}
	t.measure(f)
	return t, true
}

func sortFeet(feet []foot) {
	slices.SortStableFunc(feet, func(a, b foot) int {
		return cmp.Or(cmp.Compare(len(a.holes), len(b.holes)), cmp.Compare(a.hang, b.hang), cmp.Compare(b.spread, a.spread), cmp.Compare(b.top, a.top))
	})
}

// tilted lists feet that also take the plate turned, made of the best of those that it stands on upright and of those that stand highest.
func (f *frame) tilted(ctx context.Context, upright []foot, turns []float64) ([]foot, error) {
	if len(turns) == 0 {
		return upright, nil
	}
	high := slices.Clone(upright)
	slices.SortStableFunc(high, func(a, b foot) int { return cmp.Compare(b.top-4*float64(len(b.holes)), a.top-4*float64(len(a.holes))) })
	var found []foot
	for _, u := range append(slices.Clone(upright[:min(len(upright), mostTilted)]), high[:min(len(high), mostTilted)]...) {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		t := foot{holes: slices.Clone(u.holes), shifts: u.shifts, levels: u.levels, base: u.base, tilts: []float64{0}, stands: slices.Clone(u.stands[:len(u.shifts)])}
		ok := true
		for _, turn := range turns {
			ok = ok && f.tilt(&t, t.base, turn)
		}
		if ok {
			t.measure(f)
			found = append(found, t)
		}
	}
	sortFeet(found)
	return found, nil
}

// bases lists the sets of holes of the bracket at its first place that the foot's bolts may be in at the first height: with room for
// a spanner at each, the widest apart first, by the least second moment about their middle.
func (f *frame) bases() [][]plane.Point {
	n, bracket := f.wish.FootBolts, f.places[0].free
	var all [][]plane.Point
	var grow func(set []plane.Point, from int)
	grow = func(set []plane.Point, from int) {
		if len(all) > 20_000 {
			return
		}
		if len(set) == n {
			all = append(all, slices.Clone(set))
			return
		}
		for i := from; i <= len(bracket)-(n-len(set)); i++ {
			if apart(bracket[i], set, f.footPairs) {
				grow(append(set, bracket[i]), i+1)
			}
		}
	}
	grow(nil, 0)
	slices.SortStableFunc(all, func(a, b []plane.Point) int {
		return cmp.Compare(math.Round(leastMoment(b)), math.Round(leastMoment(a)))
	})
	return all[:min(len(all), mostBases)]
}

// leastMoment is the second moment of points about their middle in the direction in which it is least, mm².
func leastMoment(set []plane.Point) float64 {
	m := middleOf(set)
	var xx, zz, xz float64
	for _, p := range set {
		d := p.Sub(m)
		xx, zz, xz = xx+d.X*d.X, zz+d.Z*d.Z, xz+d.X*d.Z
	}
	return (xx+zz)/2 - math.Hypot((xx-zz)/2, xz)
}

func middleOf(ps []plane.Point) (m plane.Point) {
	for _, p := range ps {
		m = m.Add(p.Times(1 / float64(len(ps))))
	}
	return m
}

// measure works out what else is of interest in a foot, and in which other poses the plate can stand.
func (t *foot) measure(f *frame) {
	t.spread, t.top, t.hang = math.Inf(1), math.Inf(-1), 0
	lowest, _ := plane.Box(f.bracket)
	for i, s := range t.stands {
		on := f.on(s)
		for _, u := range t.holes {
			t.hang = max(t.hang, lowest.Z-on.Apply(u).Z)
		}
		in := f.bolted(t.holes, on, s.place)
		lo, hi := plane.Box(in)
		t.spread = min(t.spread, hi.Z-lo.Z)
		if i == 0 {
			t.top = hi.Z
		}
	}
	turns := slices.Clone(t.tilts)
	for _, m := range f.usefulTurns() {
		for _, turn := range t.tilts {
			if len(turns) < mostTurns && fresh(turns, turn+m, alike) {
				turns = append(turns, turn+m)
			}
		}
	}
	front := f.frontAbove()
	for i, turn := range turns {
		at := t.stands[0].Pose // of the first height
		if i < len(t.tilts) {
			at = t.stands[i*len(t.shifts)].Pose
		}
		for k := range f.places {
			for _, b := range f.places[k].free {
				for _, u := range t.holes {
					d := b.Sub(plane.Pose{Turn: turn}.Apply(u))
					on := plane.Pose{X: d.X, Z: d.Z, Turn: turn}
					pose := f.places[k].Then(on)
					known := slices.ContainsFunc(t.stands, func(s stance) bool {
						return math.Abs(s.Turn-pose.Turn) < alike && math.Hypot(s.X-pose.X, s.Z-pose.Z) < 1
					})
					if known || !f.near(pose, at, front) || len(f.bolted(t.holes, on, k)) < f.wish.FootBolts {
						continue
					}
					t.stands = append(t.stands, stance{f.places[k].Then(f.settled(t.holes, on, k)), -1, k})
				}
			}
		}
	}
}

// near reports whether a pose of the plate leaves the wing fore and aft where it is at another; turned by the bracket it moves as far as it
// must, unless it was said where the wing is to be.
func (f *frame) near(pose, at plane.Pose, front plane.Point) bool {
	if math.Abs(pose.Turn-at.Turn) < alike {
		return math.Abs(pose.X-at.X) <= f.wish.BehindWithin+1
	}
	return !f.wish.Behind.Known() || math.Abs(pose.Apply(front).X-at.Apply(front).X) <= f.wish.BehindWithin+1
}

// frontAbove is about where the wing's front bolt is in the plate, above its origin.
func (f *frame) frontAbove() plane.Point {
	return plane.Point{Z: (f.wish.Heights[0] - f.heightOf(plane.Point{}, (f.wish.Low+f.wish.High)/2)) / math.Cos(f.lean())}
}

// bolted lists the holes of the bracket whose bolts go into the plate at a pose on it.
func (f *frame) bolted(have []plane.Point, pose plane.Pose, place int) (in []plane.Point) {
	back := pose.Inverse()
	for _, b := range f.places[place].free {
		if !apart(back.Apply(b), have, max(rounded, f.inLine())) && apart(b, in, f.footPairs) {
			in = append(in, b)
		}
	}
	return in
}

// apart reports whether a point is at least so far from all others, mm.
func apart(p plane.Point, others []plane.Point, least float64) bool {
	least = (least - 1e-9) * (least - 1e-9)
	for _, o := range others {
		if dx, dz := p.X-o.X, p.Z-o.Z; dx*dx+dz*dz < least {
			return false
		}
	}
	return true
}

// turns lists the different angles, rad, at which the plate can stand.
func (t *foot) turns() (all []float64) {
	for _, s := range t.stands {
		if fresh(all, s.Turn, alike) {
			all = append(all, s.Turn)
		}
	}
	return all
}

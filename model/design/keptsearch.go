package design

import (
	"math"
	"slices"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model/fastener"
)

// withKeptTilts lets feet be turned as far as their kept holes alone allow, at whatever height that is.
func (f *frame) withKeptTilts(feet []foot) []foot {
	if len(f.kept.foot) < f.wish.FootBolts {
		return feet
	}
	have := f.kept.foot
	at := plane.Point{X: middleOf(have).X, Z: (f.wish.Heights[0] - f.heightOf(plane.Point{}, (f.wish.Low+f.wish.High)/2)) / math.Cos(f.lean())}
	var found []plane.Pose
	for i, u := range have {
		for j, v := range have {
			for k, b := range f.bracket {
				for l, d := range f.bracket {
					if i == j || k == l || math.Abs(u.Distance(v)-b.Distance(d)) > 2*f.inLine() {
						continue
					}
					turn := plane.Wrap(d.Sub(b).Angle() - v.Sub(u).Angle())
					if math.Abs(turn) < alike || math.Abs(turn) > f.car.Joints[f.footJoint()].MaxTurn {
						continue
					}
					pose := plane.PoseFromPairs([]plane.Point{b, d}, []plane.Point{u, v})
					known := slices.ContainsFunc(found, func(o plane.Pose) bool {
						return math.Abs(o.Turn-turn) < alike && math.Hypot(o.X-pose.X, o.Z-pose.Z) < 1
					})
					if !known && math.Abs(pose.Apply(at).X-at.X) <= max(footShift, f.wish.BehindWithin) && len(f.bolted(have, pose, 0)) >= f.wish.FootBolts {
						found = append(found, f.settled(have, pose, 0))
					}
				}
			}
		}
	}
	if len(found) == 0 {
		return feet
	}
	feet = slices.Clone(feet)
	for i := range feet {
		t := &feet[i]
		t.stands, t.tilts = slices.Clone(t.stands), slices.Clone(t.tilts)
		for _, p := range found {
			t.stands = append(t.stands, stance{p, -1, 0})
			if !slices.ContainsFunc(t.tilts, func(x float64) bool { return math.Abs(x-p.Turn) < alike }) {
				t.tilts = append(t.tilts, p.Turn)
			}
		}
	}
	return feet
}

// inLine is how near holes must come together to count as one in line, mm: kept ones as they are drawn, rounded or not.
func (f *frame) inLine() float64 {
	if len(f.wish.Kept.Holes) > 0 {
		return keptInLine
	}
	return onto
}

// keptInLine leaves half of an M8 bolt's clearance in 8.4 mm to whoever drills.
const keptInLine = 0.2 // mm

// besideKept returns where further front holes may be, fore and aft, beside those of the head that are kept.
func (f *frame) besideKept() (lo, hi float64, ok bool) {
	fronts := f.frontsOf(f.kept)
	if len(fronts) == 0 {
		return 0, 0, false
	}
	a, b := plane.Box(fronts)
	wide := max(room, b.X-a.X)
	return (a.X + b.X - wide) / 2, (a.X + b.X + wide) / 2, true
}

// onto is a place for a front hole that makes a kept rear one of use, at a part of the way from the least to the largest angle.
func (f *frame) onto(rear plane.Point, part float64) plane.Point {
	return tenth(rear.Sub(f.rearOf(plane.Point{}, f.wish.Low+part*(f.wish.High-f.wish.Low))))
}

// ahead is the place for a front hole that makes two kept rear ones of use.
func (f *frame) ahead(a, b plane.Point) (plane.Point, bool) {
	half := a.Distance(b) / 2
	if half >= f.pitch || half == 0 {
		return plane.Point{}, false
	}
	across := b.Sub(a).Times(math.Sqrt(f.pitch*f.pitch-half*half) / (2 * half))
	mid, off := a.Add(b).Times(0.5), plane.Point{X: across.Z, Z: -across.X}
	if off.X > 0 {
		off = off.Times(-1)
	}
	return tenth(mid.Add(off)), true
}

// takeKept fits the frame's rules to the holes that are kept; the error is a *Fault.
func (f *frame) takeKept() error {
	least, most := f.headD, f.headD
	for _, h := range f.wish.Kept.Holes {
		j := f.car.Joints[f.footJoint()+min(int(h.Role), 1)]
		if !h.Takes(j.Shank) || math.IsNaN(h.X+h.Z) || math.IsInf(h.X+h.Z, 0) {
			return &Fault{KeptHoles}
		}
		if h.Role != AtFoot {
			least, most = min(least, h.D), max(most, h.D)
		} else {
			f.footRoom = max(f.footRoom, fastener.Spacing(h.D, fastener.AnyDirection).Min)
		}
	}
	f.headRoom = max(f.headRoom, fastener.Spacing(most, fastener.AnyDirection).Min)
	f.mixedRoom = max(f.footRoom, f.headRoom)
	f.keptSlack = (f.headD - least) / 2
	return nil
}

// tellKept names the kept holes of a proposal, and those of them that no setting wanted uses.
func (p *Proposal) tellKept(w *Wish) {
	for _, h := range w.Kept.Holes {
		p.Kept = append(p.Kept, h.ID)
	}
	if p.Kept == nil {
		return
	}
	idle := p.idle()
	p.Idle = slices.DeleteFunc(slices.Clone(p.Kept), func(id string) bool { return !slices.Contains(idle, id) })
}

// withoutIdle leaves out the foot's new holes that no setting wanted uses: those for a place of the plate that kept holes make needless.
func (p *pattern) withoutIdle(one *Proposal) (less pattern, fewer bool) {
	if len(one.Kept) == 0 {
		return *p, false
	}
	idle := one.idle()
	own := p.frame.kept.at
	less = *p
	less.foot.holes = slices.Clone(p.foot.holes[:len(p.frame.kept.foot)])
	for _, h := range p.foot.holes[len(p.frame.kept.foot):] {
		drilled := slices.IndexFunc(one.Plate().Holes, func(o holes.Hole) bool { return own.Apply(o.At()).Distance(h) < onto })
		if drilled < 0 || !slices.Contains(idle, one.Plate().Holes[drilled].ID) {
			less.foot.holes = append(less.foot.holes, h)
		}
	}
	return less, len(less.foot.holes) < len(p.foot.holes)
}

// idle names the holes of the plate that take no bolt in any setting wanted.
func (p *Proposal) idle() (all []string) {
	used := map[int]bool{}
	at := p.footJoint()
	for _, n := range p.wanted() {
		for _, q := range p.Table.Rows[n].Fits[at].Pairs {
			used[q.Upper] = true
		}
		for _, q := range p.Table.Rows[n].Fits[at+1].Pairs {
			used[q.Lower] = true
		}
	}
	for i, h := range p.Plate().Holes {
		if !used[i] {
			all = append(all, h.ID)
		}
	}
	return all
}

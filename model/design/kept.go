package design

import (
	"cmp"
	"math"
	"slices"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/fastener"
)

// Role is what a hole of the plate is for.
type Role int

// What holes are for.
const (
	AtFoot  Role = iota
	AtFront      // the wing's front bolt
	AtRear
)

// KeptHole is a hole of a plate that stays what it is.
type KeptHole struct {
	holes.Hole // in the plate's own frame
	Role       Role
}

// Kept are the holes of a plate that the search leaves as they are: name, place and diameter. It looks for the fewest further ones.
type Kept struct {
	Holes  []KeptHole
	Turn   float64      // rad, of the plate in the fixed part's frame where it stands upright
	Stands []plane.Pose // of the plate in that frame as it is bolted now, turned so: where it is put when none of its foot's holes is kept
}

// KeepFault is a hole that cannot be kept.
type KeepFault struct {
	Name string
	What KeepProblem
}

// KeepProblem says why.
type KeepProblem int

// Why a hole cannot be kept.
const (
	NoSuchHole KeepProblem = iota
	KeptSlot               // a slot has no one place
	NoRole                 // nothing says which joint it is for
)

func (f *KeepFault) Error() string { return "cannot keep hole " + f.Name }

// Keep returns the named holes of the plate of a table's car, all of them for no names. What a hole is for is what settings use it for most; one
// that none uses goes by its joint, and at the head by its side of the middle. The error is a *KeepFault, or a *Fault.
func Keep(t *model.Table, names []string) (k Kept, err error) {
	if len(t.Car.Parts) != 3 {
		return k, &Fault{NotThreeParts}
	}
	plate := &t.Car.Parts[1]
	roles := rolesOf(t)
	if names == nil {
		for _, h := range plate.Holes {
			if h.Slot == "" {
				names = append(names, h.ID)
			}
		}
	}
	for _, name := range names {
		n := slices.IndexFunc(plate.Holes, func(h holes.Hole) bool { return h.ID == name })
		switch {
		case n < 0 && slices.ContainsFunc(plate.Holes, func(h holes.Hole) bool { return h.Slot == name }), n >= 0 && plate.Holes[n].Slot != "":
			return Kept{}, &KeepFault{name, KeptSlot}
		case n < 0:
			return Kept{}, &KeepFault{name, NoSuchHole}
		case roles[n] < 0:
			return Kept{}, &KeepFault{name, NoRole}
		case slices.ContainsFunc(k.Holes, func(o KeptHole) bool { return o.ID == name }):
			continue
		}
		h := KeptHole{plate.Holes[n], roles[n]}
		h.Joint = t.Car.Joints[min(int(h.Role), 1)].Name
		k.Holes = append(k.Holes, h)
	}
	slices.SortStableFunc(k.Holes, func(a, b KeptHole) int { return cmp.Compare(a.Role, b.Role) })
	k.Turn, k.Stands = standsOf(t)
	return k, nil
}

// rolesOf says what each hole of the plate is for, -1 where nothing tells.
func rolesOf(t *model.Table) []Role {
	plate, wing := &t.Car.Parts[1], t.Car.Parts[2].Holes
	front := 0
	for i, h := range wing {
		if h.X < wing[front].X {
			front = i
		}
	}
	uses := make([][3]int, len(plate.Holes))
	for i := range t.Rows {
		for _, p := range t.Rows[i].Fits[0].Pairs {
			uses[p.Upper][AtFoot]++
		}
		for _, p := range t.Rows[i].Fits[1].Pairs {
			role := AtRear
			if p.Upper == front {
				role = AtFront
			}
			uses[p.Lower][role]++
		}
	}
	var head []plane.Point
	for i, h := range plate.Holes {
		if h.Joint == t.Car.Joints[1].Name || uses[i][AtFront]+uses[i][AtRear] > 0 {
			head = append(head, h.At())
		}
	}
	roles := make([]Role, len(plate.Holes))
	for i, h := range plate.Holes {
		u := uses[i]
		switch {
		case u[AtFoot] > 0 && u[AtFoot] >= max(u[AtFront], u[AtRear]):
			roles[i] = AtFoot
		case u[AtFront] > 0 && u[AtFront] >= u[AtRear]:
			roles[i] = AtFront
		case u[AtRear] > 0:
			roles[i] = AtRear
		case h.Joint == t.Car.Joints[0].Name:
			roles[i] = AtFoot
		case h.Joint == t.Car.Joints[1].Name && h.X < middleOf(head).X:
			roles[i] = AtFront
		case h.Joint == t.Car.Joints[1].Name:
			roles[i] = AtRear
		default:
			roles[i] = -1
		}
	}
	return roles
}

// standsOf returns the least turn of the plate in the fixed part's frame in any setting, and its poses there that are turned so.
func standsOf(t *model.Table) (turn float64, all []plane.Pose) {
	turn = math.Inf(1)
	for i := range t.Rows {
		if x := t.Rows[i].Fits[0].Pose.Turn; math.Abs(x) < math.Abs(turn)-1e-9 {
			turn = x
		}
	}
	if math.IsInf(turn, 0) {
		return 0, nil
	}
	if math.Abs(turn) < alike { // as it is drawn
		turn = 0
	}
	for i := range t.Rows {
		p := t.Rows[i].Fits[0].Pose
		known := slices.ContainsFunc(all, func(o plane.Pose) bool { return math.Hypot(o.X-p.X, o.Z-p.Z) < 1 })
		if math.Abs(p.Turn-turn) < alike && !known {
			all = append(all, p)
		}
	}
	return turn, all
}

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
func (f *frame) keptFrames(of []*frame) []*frame {
	if len(f.wish.Kept.Holes) == 0 {
		return of
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
			if g.standing = g.keptUpright(); len(g.standing) == 0 {
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
	return best
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
func (f *frame) keptUpright() []foot {
	if len(f.kept.foot) > 0 {
		added, ok := f.complete(f.kept.foot, plane.Pose{})
		if !ok {
			return nil
		}
		have := append(slices.Clip(f.kept.foot), added...)
		if t, ok := f.stand(have, f.bolted(have, plane.Pose{})); ok {
			return []foot{t}
		}
		return nil
	}
	return slices.DeleteFunc(f.upright(), func(t foot) bool {
		return slices.ContainsFunc(t.holes, func(h plane.Point) bool { return !apart(h, f.kept.head(), f.mixedRoom) })
	})
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
					if math.Abs(turn) < alike || math.Abs(turn) > f.car.Joints[0].MaxTurn {
						continue
					}
					pose := plane.PoseFromPairs([]plane.Point{b, d}, []plane.Point{u, v})
					known := slices.ContainsFunc(found, func(o plane.Pose) bool {
						return math.Abs(o.Turn-turn) < alike && math.Hypot(o.X-pose.X, o.Z-pose.Z) < 1
					})
					if !known && math.Abs(pose.Apply(at).X-at.X) <= max(footShift, f.wish.BehindWithin) && len(f.bolted(have, pose)) >= f.wish.FootBolts {
						found = append(found, f.settled(have, pose))
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
			t.stands = append(t.stands, stance{p, -1})
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
		j := f.car.Joints[min(int(h.Role), 1)]
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
	f.slack -= (f.headD - least) / 2
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
	for _, n := range p.wanted() {
		for _, q := range p.Table.Rows[n].Fits[0].Pairs {
			used[q.Upper] = true
		}
		for _, q := range p.Table.Rows[n].Fits[1].Pairs {
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

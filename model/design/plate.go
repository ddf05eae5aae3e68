package design

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/outline"
)

// pattern is a plate's holes, with the spacing of the wing's bolts that they are for.
type pattern struct {
	frame *frame
	foot  foot
	head  head
}

func (p pattern) holes() int { return p.frame.drilled() + len(p.foot.holes) + p.head.holes() }

// key tells patterns apart.
func (p *pattern) key() string {
	return fmt.Sprint(p.frame.pitch, p.frame.pair, p.frame.front, p.frame.bracket, p.foot.holes, p.head.fronts, p.head.rears)
}

// arm is how far the front bolt stands above the highest bolt of the foot, where that is most, mm.
func (p *pattern) arm() float64 {
	most := 0.0
	for _, s := range p.foot.stands {
		if s.level < 0 {
			continue
		}
		on := p.frame.on(s)
		_, top := plane.Box(p.frame.bolted(p.foot.holes, on, s.place))
		for _, q := range p.head.fronts {
			most = max(most, on.Apply(q).Z-top.Z)
		}
	}
	return most
}

// car is the car with the plate, its outline the hull of its holes with the usual distance from the edge.
func (p *pattern) car() *model.Car {
	f := p.frame
	next := *f.car
	next.Parts = slices.Clone(f.car.Parts)
	next.Joints = slices.Clone(f.car.Joints)
	at := f.footJoint()
	next.Joints[at].MinBolts = f.wish.FootBolts
	if f.fresh {
		next.Parts[at].Holes = nil
		for i, h := range f.bracket {
			next.Parts[at].Holes = append(next.Parts[at].Holes, holes.Hole{ID: strconv.Itoa(i + 1), X: h.X, Z: h.Z, D: f.footD, Joint: next.Joints[at].Name})
		}
	}
	plate := &next.Parts[at+1]
	plate.Slots, plate.Cutouts, plate.WeldLine = nil, nil, nil
	plate.Holes = p.plateHoles()
	plate.Outline = outline.Convex(around(plate.Holes))
	if f.manyWingHoles() {
		return &next // which stays as it is drilled
	}
	wing := &next.Parts[at+2]
	wing.Holes = slices.Clone(wing.Holes)
	rear := 0
	if wing.Holes[1].X > wing.Holes[0].X {
		rear = 1
	}
	wing.Holes[1-rear].Z = f.front.Z
	q := f.front.Add(f.along.Times(f.pitch))
	wing.Holes[rear].X, wing.Holes[rear].Z = q.X, q.Z
	return &next
}

// plateHoles are the plate's holes in its own frame, those that are kept as they are: of the foot, then front and rear ones.
func (p *pattern) plateHoles() (all []holes.Hole) {
	f := p.frame
	kept := f.wish.Kept.Holes
	origin := f.origin(p.foot.holes)
	own := plane.Pose{X: -origin.X, Z: -origin.Z}
	if len(kept) > 0 {
		own = f.kept.at.Inverse()
	}
	put := func(role Role, name string, places []plane.Point, d float64, joint string) {
		n := 0
		for _, h := range kept {
			if h.Role == role {
				all, places = append(all, h.Hole), places[1:]
			}
		}
		for _, at := range sorted(places) {
			at = hundredth(own.Apply(at))
			id := ""
			for taken := true; taken; {
				n++
				id = fmt.Sprint(name, n)
				taken = slices.ContainsFunc(kept, func(h KeptHole) bool { return h.ID == id })
			}
			all = append(all, holes.Hole{ID: id, X: at.X, Z: at.Z, D: d, Joint: joint})
		}
	}
	foot, head := f.car.Joints[f.footJoint()], f.car.Joints[f.footJoint()+1]
	put(AtFoot, "k", p.foot.holes, f.footD, foot.Name)
	put(AtFront, "F", p.head.fronts, f.headD, head.Name)
	put(AtRear, "R", p.head.rears, f.headD, head.Name)
	return all
}

// hundredth rounds a place to hundredths of a millimetre, which leaves places in inches what they are.
func hundredth(p plane.Point) plane.Point {
	return plane.Point{X: math.Round(p.X*100) / 100, Z: math.Round(p.Z*100) / 100}
}

// origin is where the plate's frame begins: at the lowest of its foremost holes of the foot.
func (f *frame) origin(foot []plane.Point) plane.Point {
	best := foot[0]
	for _, p := range foot[1:] {
		if p.X+p.Z < best.X+best.Z-1e-9 {
			best = p
		}
	}
	return best
}

// sorted orders places from below, and in a row from the front.
func sorted(ps []plane.Point) []plane.Point {
	ps = slices.Clone(ps)
	slices.SortFunc(ps, func(a, b plane.Point) int {
		if math.Abs(a.Z-b.Z) > 3 {
			return cmp.Compare(a.Z, b.Z)
		}
		return cmp.Compare(a.X, b.X)
	})
	return ps
}

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
	return fmt.Sprint(p.frame.pitch, p.frame.front, p.frame.bracket, p.foot.holes, p.head.fronts, p.head.rears)
}

// arm is how far the front bolt stands above the highest bolt of the foot, where that is most, mm.
func (p *pattern) arm() float64 {
	most := 0.0
	for _, s := range p.foot.stands {
		if s.level < 0 {
			continue
		}
		_, top := plane.Box(p.frame.bolted(p.foot.holes, s.Pose))
		for _, q := range p.head.fronts {
			most = max(most, s.Apply(q).Z-top.Z)
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
	next.Joints[0].MinBolts = f.wish.FootBolts
	if f.fresh {
		next.Parts[0].Holes = nil
		for i, h := range f.bracket {
			next.Parts[0].Holes = append(next.Parts[0].Holes, holes.Hole{ID: strconv.Itoa(i + 1), X: h.X, Z: h.Z, D: f.footD, Joint: next.Joints[0].Name})
		}
	}
	plate := &next.Parts[1]
	origin := f.origin(p.foot.holes)
	plate.Holes, plate.Slots, plate.Cutouts, plate.WeldLine = nil, nil, nil, nil
	put := func(name string, n int, at plane.Point, d float64, joint string) {
		at = hundredth(at.Sub(origin))
		plate.Holes = append(plate.Holes, holes.Hole{ID: fmt.Sprintf(name, n), X: at.X, Z: at.Z, D: d, Joint: joint})
	}
	for i, h := range sorted(p.foot.holes) {
		put("k%d", i+1, h, f.footD, next.Joints[0].Name)
	}
	for i, h := range sorted(p.head.fronts) {
		put("F%d", i+1, h, f.headD, next.Joints[1].Name)
	}
	for i, h := range sorted(p.head.rears) {
		put("R%d", i+1, h, f.headD, next.Joints[1].Name)
	}
	plate.Outline = outline.Convex(around(plate.Holes))
	wing := &next.Parts[2]
	wing.Holes = slices.Clone(wing.Holes)
	rear := 0
	if wing.Holes[1].X > wing.Holes[0].X {
		rear = 1
	}
	wing.Holes[1-rear].Z = f.front.Z
	at := f.front.Add(f.along.Times(f.pitch))
	wing.Holes[rear].X, wing.Holes[rear].Z = at.X, at.Z
	return &next
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

package strength

import (
	"sort"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/fastener"
	"stanchion/model/given"
)

// Change is a change that could be made to a mounting.
type Change int

// The changes.
const (
	LargerBolt Change = iota
	StrongerGrade
	ThickerPart
	WiderPart
)

// Help is a change that could be made, and what would then be the weakest.
type Help struct {
	Change  Change
	On      string  // the joint or part
	To      string  // bolt or grade
	MM      float64 // the thickness, or how much wider all round
	Weakest Check
}

// How far plates are made thicker and wider to see whether it helps, mm.
const (
	thicker = 2
	wider   = 5
)

// Helps computes what would help a setting's weakest link most: a larger or a
// stronger bolt, a thicker plate, more metal around it. Each is worked out in
// full, for the same setting; those that change nothing are left out. The best
// comes first.
func (f *Analysis) Helps(r Result) []Help {
	worst, ok := r.Governing()
	if !ok {
		return nil
	}
	var all []Help
	try := func(car *model.Car, h Help) {
		t := *f.Table
		t.Car = car
		g, err := FromTable(&t)
		if err != nil {
			return
		}
		res, err := g.Of(r.Row)
		if err != nil {
			return
		}
		if w, ok := res.Governing(); ok && w.Weight() < worst.Weight()-0.005 {
			h.Weakest = w
			all = append(all, h)
		}
	}
	for j, joint := range f.Car.Joints {
		if worst.Joint != joint.Name {
			continue
		}
		if next, ok := f.bolts[j].Next(); ok && f.bolts[j].sized {
			try(f.withBolt(j, next), Help{Change: LargerBolt, On: joint.Name, To: next.Name})
		}
		if g, ok := fastener.LookupGrade(joint.Grade); ok && g.Stronger != "" {
			car := clone(f.Car)
			car.Joints[j].Grade = g.Stronger
			try(car, Help{Change: StrongerGrade, On: joint.Name, To: car.Joints[j].Grade})
		}
	}
	for i, p := range f.Car.Parts {
		if p.Name != worst.Part {
			continue
		}
		if t, ok := p.Thickness.Get(); ok {
			car := clone(f.Car)
			car.Parts[i].Thickness = given.Is(t + thicker)
			try(car, Help{Change: ThickerPart, On: p.Name, MM: t + thicker})
		}
		if p.Outline != nil {
			car := clone(f.Car)
			car.Parts[i].Outline = grown(p.Outline, wider)
			try(car, Help{Change: WiderPart, On: p.Name, MM: wider})
		}
	}
	sort.SliceStable(all, func(a, b int) bool { return all[a].Weakest.Utilisation() < all[b].Weakest.Utilisation() })
	return all
}

// clone copies what Helps changes.
func clone(c *model.Car) *model.Car {
	d := *c
	d.Parts = append([]model.Part(nil), c.Parts...)
	d.Joints = append([]model.Joint(nil), c.Joints...)
	return &d
}

// withBolt returns the car with another size of bolt at a joint, and its holes
// wider by as much.
func (f *Analysis) withBolt(j int, size fastener.Size) *model.Car {
	c := clone(f.Car)
	joint := &c.Joints[j]
	more := size.D - joint.Shank
	joint.Bolt, joint.Shank = size.Name, size.D
	for _, i := range [2]int{j, j + 1} {
		p := &c.Parts[i]
		p.Holes = append([]holes.Hole(nil), p.Holes...)
		for k := range p.Holes {
			if h := &p.Holes[k]; h.Joint == "" || h.Joint == joint.Name {
				h.D += more
			}
		}
	}
	return c
}

// grown returns an outline whose edges lie further out, by mitred corners.
func grown(outline []plane.Point, by float64) []plane.Point {
	n := len(outline)
	sign := 1.0
	if area, _ := plane.Area(outline); area < 0 {
		sign = -1
	}
	normal := func(a, b plane.Point) plane.Point {
		l := b.Distance(a)
		if l == 0 {
			return plane.Point{}
		}
		return plane.Point{X: sign * (b.Z - a.Z) / l, Z: -sign * (b.X - a.X) / l}
	}
	out := make([]plane.Point, n)
	for i, p := range outline {
		u, v := normal(outline[(i+n-1)%n], p), normal(p, outline[(i+1)%n])
		sum := plane.Point{X: u.X + v.X, Z: u.Z + v.Z}
		// by along each normal: sum scaled to 2·by/|sum|², limited at sharp corners.
		k := 2 * by / max(sum.X*sum.X+sum.Z*sum.Z, 0.5)
		out[i] = plane.Point{X: p.X + k*sum.X, Z: p.Z + k*sum.Z}
	}
	return out
}

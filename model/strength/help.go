package strength

import (
	"context"
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

// Thicknesses that sheet and plate are sold in, mm: metric ones, and those of inch gauges and fractions.
// Common practice, no source.
var (
	metricStock = []float64{1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30}
	inchStock   = []float64{0.040, 0.050, 0.063, 0.080, 0.090, 0.100, 0.125, 0.160, 0.190, 0.250, 0.3125, 0.375, 0.5, 0.625, 0.75, 1}
)

// wider are the steps in which a plate is made wider all round, mm.
var wider = []float64{5, 10}

// helpFrom is how much of its strength a setting uses from which help is looked for: below it there is
// enough in hand. Common practice, no source.
const helpFrom = 0.8

// mostSteps is how many stock sizes up are tried until one is enough.
const mostSteps = 3

// thicker lists the stock thicknesses above one, mm.
func thicker(t float64, inches bool) []float64 {
	var all []float64
	stock, size := metricStock, 1.0
	if inches {
		stock, size = inchStock, inch
	}
	for _, s := range stock {
		if s*size > t*1.02 && len(all) < mostSteps {
			all = append(all, s*size)
		}
	}
	return all
}

const inch = 25.4 // mm

// Helps computes what would help a setting's weakest link most, where it uses 80 % of its strength or more: a larger or a
// stronger bolt, a thicker plate, more metal around it. Each is worked out in
// full, for the same setting, in sizes that are sold, going up until one is enough or the
// third is not; those that change nothing are left out. The best comes first. A done
// context ends it with what was found.
func (f *Analysis) Helps(ctx context.Context, r Result) []Help {
	worst, ok := r.Governing()
	if !ok || worst.Utilisation() < helpFrom {
		return nil
	}
	var all []Help
	// try reports whether a change is enough by itself.
	try := func(car *model.Car, h Help) bool {
		w, ok := f.with(ctx, car, r)
		if !ok || w.Weight() >= worst.Weight()-0.005 {
			return false
		}
		h.Weakest = w
		if n := len(all); n > 0 && all[n-1].Change == h.Change && all[n-1].On == h.On {
			all = all[:n-1] // the smaller one is not enough
		}
		all = append(all, h)
		return w.Utilisation() <= 1
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
			for _, t := range thicker(t, f.Car.Units.Length == "in") {
				car := clone(f.Car)
				car.Parts[i].Thickness = given.Is(t)
				if try(car, Help{Change: ThickerPart, On: p.Name, MM: t}) {
					break
				}
			}
		}
		if p.Outline != nil {
			for _, by := range wider {
				car := clone(f.Car)
				car.Parts[i].Outline = grown(p.Outline, by)
				if try(car, Help{Change: WiderPart, On: p.Name, MM: by}) {
					break
				}
			}
		}
	}
	sort.SliceStable(all, func(a, b int) bool { return all[a].Weakest.Utilisation() < all[b].Weakest.Utilisation() })
	return all
}

// with returns the weakest link of a setting on a changed car, worked out as r was; ok is false where
// less of it could be checked.
func (f *Analysis) with(ctx context.Context, car *model.Car, r Result) (Check, bool) {
	t := *f.Table
	t.Car = car
	g, err := FromTable(&t)
	if err != nil {
		return Check{}, false
	}
	var res Result
	if r.Solved != nil {
		res, err = g.Solve(ctx, r.Row)
	} else {
		res, err = g.Of(r.Row)
	}
	if err != nil || len(res.Open) > len(r.Open) {
		return Check{}, false
	}
	return res.Governing()
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

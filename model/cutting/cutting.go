// Package cutting answers: what has to be cut and drilled for a car's plates, from how much sheet, in which order, and how are the
// wing's mounts to be ordered? Lengths are in mm, masses in kg.
package cutting

import (
	"cmp"
	"math"
	"slices"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/strength"
)

// Plate is one kind of plate to be cut.
type Plate struct {
	Part     *model.Part
	Count    int
	Blank    Sheet // for one
	Pair     Sheet // for two together; zero where Count is not 2
	Mass     float64
	MassOK   bool    // its outline, thickness and material are known
	Waste    float64 // part of the sheet for all of them that is left over
	Drilling []Drilled
}

// Drilled is a hole in the order of drilling, from the lower left corner of the plate's own box as it is drawn.
type Drilled struct {
	holes.Hole
	FromEdge plane.Point // mm behind the foremost and above the lowest point of the outline
	Pin      bool        // drilled first: both plates are then bolted together through it
}

// Mounts are the wing's holes as they are to be ordered: behind the leading edge along the chord, and above the chord line.
type Mounts struct {
	Holes []holes.Hole
	Apart float64 // mm, of the first and the last
	Bolt  string
}

// List lists the plates of a car that have an outline, the fixed part left out unless it is asked for, and the mounts. gap is what a cutter
// takes between two parts and at the rim, mm.
func List(c *model.Car, gap float64, fixed bool) (plates []Plate, mounts Mounts) {
	first := 1
	if fixed {
		first = 0
	}
	for i := first; i < len(c.Parts)-1; i++ {
		part := c.Parts[i].AsDrawn()
		if part.Outline == nil {
			continue
		}
		p := Plate{Part: &part, Count: int(c.Mounting.Uprights.Or(2)), Blank: One(part.Outline, gap), Drilling: order(&part)}
		p.Mass, p.MassOK = strength.PlateMass(&part)
		area, _ := part.Area()
		sheet := float64(p.Count) * p.Blank.Area()
		if p.Count == 2 {
			p.Pair = Pair(part.Outline, gap)
			sheet = min(sheet, p.Pair.Area())
		}
		p.Waste = 1 - float64(p.Count)*area/sheet
		plates = append(plates, p)
	}
	wing := c.Parts[len(c.Parts)-1]
	mounts.Holes = slices.Clone(wing.Holes)
	slices.SortFunc(mounts.Holes, func(a, b holes.Hole) int { return cmp.Compare(a.X, b.X) })
	if n := len(mounts.Holes); n > 0 {
		mounts.Apart = mounts.Holes[0].At().Distance(mounts.Holes[n-1].At())
	}
	mounts.Bolt = c.Joints[len(c.Joints)-1].Bolt
	return plates, mounts
}

// order puts a plate's round holes in the order of drilling: first the two that are farthest apart, through which the second plate is bolted under the first, then
// always the nearest. Slots are milled after it.
func order(p *model.Part) (all []Drilled) {
	lo, _ := plane.Box(p.Outline)
	var left []holes.Hole
	for _, h := range p.Holes {
		if h.Slot == "" {
			left = append(left, h)
		}
	}
	take := func(i int, pin bool) {
		all = append(all, Drilled{left[i], left[i].At().Sub(lo), pin})
		left = slices.Delete(left, i, i+1)
	}
	if len(left) >= 2 {
		a, b, far := 0, 1, -1.0
		for i := range left {
			for k := range left[:i] {
				if d := left[i].At().Distance(left[k].At()); d > far+1e-9 {
					a, b, far = k, i, d
				}
			}
		}
		take(b, true) // the later one first, so that a stays where it is
		take(a, true)
		slices.Reverse(all)
	}
	for len(left) > 0 {
		best, near := 0, math.Inf(1)
		for i, h := range left {
			if len(all) > 0 {
				if d := h.At().Distance(all[len(all)-1].At()); d < near-1e-9 {
					best, near = i, d
				}
			}
		}
		take(best, false)
	}
	return all
}

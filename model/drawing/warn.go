package drawing

import (
	"fmt"
	"math"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/units"
)

// maxWarnings is how many faults of a part's holes are named.
const maxWarnings = 6

// places are points along a hole's middle line: its centre, or those of a slot at most 0.5 mm apart.
func (r row) places() []plane.Point {
	if r.slot == nil {
		return []plane.Point{r.at}
	}
	long := r.slot.Length()
	n := max(1, int(math.Ceil(long/0.5)))
	var all []plane.Point
	for i := range n + 1 {
		all = append(all, r.slot.Along(long*float64(i)/float64(n)))
	}
	return all
}

// Warnings says what is wrong with a part's holes as they would be cut: those that overlap, and those that break
// through an edge of the part. Without an outline nothing is said of edges.
func Warnings(p model.Part, fresh []holes.Hole, u units.System) []string {
	var all []string
	rows := holeRows(p, fresh)
	for i, r := range rows {
		for _, o := range rows[i+1:] {
			if r.at.Distance(o.at) > r.reach()+o.reach() {
				continue
			}
			least := math.Inf(1)
			for _, a := range r.places() {
				for _, b := range o.places() {
					least = min(least, a.Distance(b))
				}
			}
			if over := (r.d+o.d)/2 - least; over > 1e-6 {
				all = append(all, fmt.Sprintf("holes %s and %s overlap by %s", r.id, o.id, u.Fine(over)))
			}
		}
		if p.Outline == nil {
			continue
		}
		for _, a := range r.places() {
			if mm, metal := p.EdgeDistance(a); !metal || mm < r.d/2-1e-6 {
				all = append(all, fmt.Sprintf("hole %s breaks through the part's edge", r.id))
				break
			}
		}
	}
	if n := len(all); n > maxWarnings {
		all = append(all[:maxWarnings:maxWarnings], fmt.Sprintf("and %d more of this kind", n-maxWarnings))
	}
	return all
}

// reach is how far the hole's edge is from its place at most, mm.
func (r row) reach() float64 {
	far := r.d / 2
	for _, p := range r.places() {
		far = max(far, p.Distance(r.at)+r.d/2)
	}
	return far
}

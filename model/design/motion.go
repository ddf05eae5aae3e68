package design

import (
	"cmp"
	"math"
	"slices"

	"stanchion/holes/plane"
)

// motion is a turn of the fixed part's holes that brings some of them onto others, as those of an arc have: a plate that is bolted to some of
// them can then be bolted to others at another angle.
type motion struct {
	plane.Pose     // from where a plate stands to where it stands then
	onto       int // holes that come onto others
}

// motionsOf lists the motions of the fixed part's holes by which the foot may turn, the angles that count as one left out.
func (f *frame) motionsOf() (all []motion) {
	most := f.car.Joints[f.footJoint()].MaxTurn
	for i, a := range f.bracket {
		for k, b := range f.bracket {
			if i == k {
				continue
			}
			for m, p := range f.bracket {
				for n, q := range f.bracket {
					if m == n || i == m && k == n || math.Abs(a.Distance(b)-p.Distance(q)) > 4*f.slack {
						continue
					}
					turn := plane.Wrap(q.Sub(p).Angle() - b.Sub(a).Angle())
					if math.Abs(turn) < alike || math.Abs(turn) > most {
						continue
					}
					pose := plane.PoseFromPairs([]plane.Point{p, q}, []plane.Point{a, b})
					if slices.ContainsFunc(all, func(o motion) bool {
						return math.Abs(o.Turn-pose.Turn) < alike && math.Hypot(o.X-pose.X, o.Z-pose.Z) < 1
					}) {
						continue
					}
					one := motion{pose, 0}
					for _, u := range f.bracket {
						if !apart(pose.Apply(u), f.bracket, 2*f.slack) {
							one.onto++
						}
					}
					all = append(all, one)
				}
			}
		}
	}
	slices.SortStableFunc(all, func(a, b motion) int {
		return cmp.Or(cmp.Compare(b.onto, a.onto), cmp.Compare(math.Abs(a.Turn), math.Abs(b.Turn)))
	})
	return all
}

// turns is how many different angles, besides the one it is at, a plate with so many holes in common can have on the fixed part.
func (f *frame) turns(onto int) int { return len(f.turnsOf(onto)) }

// turnsOf lists them, rad, the smallest first.
func (f *frame) turnsOf(onto int) (all []float64) {
	for _, m := range f.motions {
		if m.onto >= onto && fresh(all, m.Turn, alike) {
			all = append(all, m.Turn)
		}
	}
	slices.SortFunc(all, func(a, b float64) int { return cmp.Compare(math.Abs(a), math.Abs(b)) })
	return all
}

// usefulTurns lists those by which a plate with two holes in common can turn, and which are no wider than the angles wanted.
func (f *frame) usefulTurns() []float64 {
	w := &f.wish
	return slices.DeleteFunc(f.turnsOf(2), func(t float64) bool { return math.Abs(t) > w.High-w.Low+w.Step+2*w.AngleWithin })
}

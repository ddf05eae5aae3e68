package design

import (
	"math"
	"slices"

	"stanchion/holes/plane"
)

// tilt gives the plate a further angle at every height: the fewest holes for it. A turn moves the wing, which is far above the foot, fore and
// aft; of the places with as few holes it takes the one that moves it least. Its height is kept.
func (f *frame) tilt(t *foot, base []plane.Point, turn float64) bool {
	middle := middleOf(base)
	front := (f.wish.Heights[0] - f.heightOf(plane.Point{}, (f.wish.Low+f.wish.High)/2)) / math.Cos(f.lean())
	keeps := turn * (front - middle.Z) // mm, of the foot to the rear, with which the wing stays
	lo, hi := min(-footShift, keeps-footShift), max(footShift, keeps+footShift)
	if f.wish.Behind.Known() {
		lo, hi = keeps-f.wish.BehindWithin, keeps+f.wish.BehindWithin
	}
	var best []plane.Point
	var poses []stance
	off := 0.0
	for dx := lo; dx <= hi+1e-9; dx += 2.5 {
		for dz := -1.0; dz <= 1; dz++ {
			about := plane.Pose{X: dx, Z: dz}.Then(plane.About(middle, turn))
			have, stands, ok := slices.Clone(t.holes), []stance{}, true
			for l, d := range t.shifts {
				pose := plane.Pose{X: d.X, Z: d.Z}.Then(about)
				added, can := f.complete(have, pose)
				if ok = can; !ok {
					break
				}
				have, stands = append(have, added...), append(stands, stance{pose, l})
			}
			if ok && (best == nil || len(have) < len(best) || len(have) == len(best) && math.Abs(dx-keeps) < off) {
				best, poses, off = have, stands, math.Abs(dx-keeps)
			}
		}
	}
	if best == nil {
		return false
	}
	for i := len(t.holes); i < len(best); i++ {
		best[i] = tenth(best[i])
	}
	t.holes, t.tilts = best, append(t.tilts, turn)
	for _, s := range poses {
		s.Pose = f.settled(best, s.Pose)
		t.stands = append(t.stands, s)
	}
	return true
}

// settled is the pose that the plate takes with its bolts in, near a given one: rounded holes turn it a little.
func (f *frame) settled(have []plane.Point, near plane.Pose) plane.Pose {
	back := near.Inverse()
	var lower, upper []plane.Point
	for _, b := range f.bracket {
		for _, u := range have {
			if u.Distance(back.Apply(b)) < max(rounded, f.inLine()) && apart(b, lower, f.footPairs) {
				lower, upper = append(lower, b), append(upper, u)
			}
		}
	}
	return plane.PoseFromPairs(lower, upper)
}

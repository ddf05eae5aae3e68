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
	keeps := turn * (f.frontAbove().Z - middle.Z) // mm, of the foot to the rear, with which the wing stays
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
				s := stance{plane.Pose{X: d.X, Z: d.Z}.Then(about), l, t.levels[l]}
				added, can := f.complete(have, f.on(s), s.place)
				if ok = can; !ok {
					break
				}
				have, stands = append(have, added...), append(stands, s)
			}
			if ok && (best == nil || len(have) < len(best) || len(have) == len(best) && math.Abs(dx-keeps) < off) {
				best, poses, off = have, stands, math.Abs(dx-keeps)
			}
		}
	}
	if have, stands, ok := f.byMotions(t, turn); ok && (best == nil || len(have) < len(best)) {
		best, poses = have, stands
	}
	if best == nil {
		return false
	}
	for i := len(t.holes); i < len(best); i++ {
		best[i] = tenth(best[i])
	}
	t.holes, t.tilts = best, append(t.tilts, turn)
	for _, s := range poses {
		s.Pose = f.places[s.place].Then(f.settled(best, f.on(s), s.place))
		t.stands = append(t.stands, s)
	}
	return true
}

// byMotions turns the plate at every height by a motion of the bracket's holes, so that some of its own are at others of them.
func (f *frame) byMotions(t *foot, turn float64) (have []plane.Point, stands []stance, ok bool) {
	have = slices.Clone(t.holes)
	front := f.frontAbove()
	for l := range t.shifts {
		up := t.stands[l]
		var best stance
		fewest := math.MaxInt
		var added []plane.Point
		for _, m := range f.motions {
			if math.Abs(m.Turn-turn) > alike {
				continue
			}
			on := m.Then(f.on(up))
			s := stance{f.places[up.place].Then(on), l, up.place}
			if more, can := f.complete(have, on, s.place); can && len(more) < fewest && f.near(s.Pose, up.Pose, front) {
				best, fewest, added = s, len(more), more
			}
		}
		if fewest == math.MaxInt {
			return nil, nil, false
		}
		have, stands = append(have, added...), append(stands, best)
	}
	return have, stands, true
}

// settled is the pose on its bracket that the plate takes with its bolts in, near a given one: rounded holes turn it a little.
func (f *frame) settled(have []plane.Point, near plane.Pose, place int) plane.Pose {
	back := near.Inverse()
	var lower, upper []plane.Point
	for _, b := range f.places[place].free {
		for _, u := range have {
			if u.Distance(back.Apply(b)) < max(rounded, f.inLine()) && apart(b, lower, f.footPairs) {
				lower, upper = append(lower, b), append(upper, u)
			}
		}
	}
	return plane.PoseFromPairs(lower, upper)
}

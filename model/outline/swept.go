package outline

import (
	"math"

	"stanchion/holes/plane"
)

// Swept returns what a plate keeps out of that holds a section from above: the section in each pose, so many mm away.
func Swept(section []plane.Point, poses []plane.Pose, away float64) (all []KeepOut) {
	section = thinned(plane.Corners(section))
	for _, pose := range poses {
		all = append(all, KeepOut{pose.ApplyAll(section), away + thin})
	}
	return all
}

// Below returns what lies below a section in each pose, from its leading to its trailing edge and depth mm down, square to the chord, and beyond its ends
// so many mm away; nothing where that is no more than the distance kept anyway.
func Below(section []plane.Point, poses []plane.Pose, depth, away float64) (all []KeepOut) {
	if depth <= away {
		return nil
	}
	lower := lowerSide(section)
	for _, p := range lower[:len(lower):len(lower)] {
		lower = append(lower, p.Add(plane.Point{Z: away - depth}))
	}
	hull := thinned(plane.Hull(lower))
	for _, pose := range poses {
		all = append(all, KeepOut{pose.ApplyAll(hull), away + thin})
	}
	return all
}

// lowerSide lists the points of a section on the side away from +z, from its foremost to its rearmost point.
func lowerSide(section []plane.Point) []plane.Point {
	n := len(section)
	nose, tail := 0, 0
	for i, p := range section {
		if p.X < section[nose].X {
			nose = i
		}
		if p.X > section[tail].X {
			tail = i
		}
	}
	along := func(step int) (side []plane.Point, mean float64) {
		for i := nose; ; i = (i + step + n) % n {
			side = append(side, section[i])
			mean += section[i].Z
			if i == tail {
				return side, mean / float64(len(side))
			}
		}
	}
	one, a := along(1)
	other, b := along(-1)
	if b < a {
		return other
	}
	return one
}

// Wall is a keep-out that no plate passes behind a place, as far as ways are looked for.
func Wall(at plane.Point) KeepOut {
	const far, thick = 4 * detour, 1.0
	return KeepOut{Polygon: []plane.Point{at, at.Add(plane.Point{X: far, Z: -thick / 2}), at.Add(plane.Point{X: far, Z: thick / 2})}}
}

// Raise returns by how many mm a section must move down in its own frame until all holes above it clear it by a distance each, in every pose; ok is
// false where most is not enough.
func Raise(holes []plane.Point, clear []float64, section []plane.Point, poses []plane.Pose, most float64) (mm float64, ok bool) {
	for _, pose := range poses {
		back := pose.Inverse()
		for i, h := range holes {
			q := back.Apply(h)
			for {
				at := q.Add(plane.Point{Z: mm})
				d, in := plane.EdgeDistance(section, at)
				if !in && at.Z > 0 && d >= clear[i] {
					break
				}
				if mm++; mm > most {
					return math.Inf(1), false
				}
			}
		}
	}
	return mm, true
}

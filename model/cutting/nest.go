package cutting

import (
	"math"

	"stanchion/holes/plane"
)

// Sheet is the rectangle that plates are cut from, and how they lie on it.
type Sheet struct {
	Width, Height float64       // mm, with the gap all around
	At            []plane.Pose  // of each plate's own frame on the sheet, from its lower left corner
	Lying         []plane.Point // the outline of the last plate as it lies
}

// Area is the area of the sheet, mm².
func (s Sheet) Area() float64 { return s.Width * s.Height }

// How finely plates are turned and moved when they are laid on a sheet.
const (
	turnStep  = 15 * plane.Deg
	offsets   = 8   // of one plate against the other, either way; as many again about the best of them
	nearer    = 8.0 // mm, by which one is moved towards the other until they are too near
	bisection = 14
)

// One is the least rectangle that one plate is cut from, turned in steps of 15° and along each of its edges, with a gap all around, mm.
func One(outline []plane.Point, gap float64) Sheet {
	best := Sheet{Width: math.Inf(1), Height: 1}
	for _, turn := range turns(outline) {
		if s := around([]plane.Pose{{Turn: turn}}, outline, gap); s.Area() < best.Area() {
			best = s
		}
	}
	return best
}

// Pair lays two plates of one outline on the least rectangle that is found: the second one turned like the first or end for end, moved along and across
// until they are a gap apart, mm. It is never more than two of One side by side.
func Pair(outline []plane.Point, gap float64) Sheet {
	best := Sheet{Width: math.Inf(1), Height: 1}
	var turn, end, part float64 // of the best
	for _, t := range turns(outline) {
		for _, e := range []float64{0, math.Pi} {
			for i := -offsets; i <= offsets; i++ {
				if s, ok := beside(outline, gap, t, e, float64(i)/offsets, best.Area()); ok {
					best, turn, end, part = s, t, e, float64(i)/offsets
				}
			}
		}
	}
	about := part
	for i := -offsets; i <= offsets; i++ {
		if s, ok := beside(outline, gap, turn, end, about+float64(i)/offsets/offsets, best.Area()); ok {
			best = s
		}
	}
	return best
}

// beside lays a second plate to the right of one that is turned, turned by end more and raised by a part of its height, as near as goes. ok is
// false unless the sheet is smaller than an area, mm².
func beside(outline []plane.Point, gap, turn, end, part, area float64) (Sheet, bool) {
	first := plane.Pose{Turn: turn}
	a, b := first.ApplyAll(outline), plane.Pose{Turn: turn + end}.ApplyAll(outline)
	lo, hi := plane.Box(a)
	lo2, hi2 := plane.Box(b)
	high, wide := hi.Z-lo.Z, hi.X-lo.X
	if (high*(1+math.Abs(part))+2*gap)*(wide+2*gap) >= area {
		return Sheet{}, false
	}
	up := lo.Z - lo2.Z + part*high
	clear := func(x float64) bool {
		return plane.Distance(a, plane.Pose{X: x, Z: up}.ApplyAll(b)).Distance >= gap
	}
	near := hi.X + gap - lo2.X
	least := near - (hi2.X - lo2.X) - wide - 2*gap
	far := near
	for far = near - nearer; far >= least && clear(far); far -= nearer {
		near = far
	}
	for range bisection {
		if mid := (near + far) / 2; clear(mid) {
			near = mid
		} else {
			far = mid
		}
	}
	s := around([]plane.Pose{first, {X: near, Z: up, Turn: turn + end}}, outline, gap)
	return s, s.Area() < area-1e-6
}

// around is the sheet of plates that lie somewhere.
func around(at []plane.Pose, outline []plane.Point, gap float64) Sheet {
	var all []plane.Point
	for _, p := range at {
		all = append(all, p.ApplyAll(outline)...)
	}
	lo, hi := plane.Box(all)
	s := Sheet{Width: hi.X - lo.X + 2*gap, Height: hi.Z - lo.Z + 2*gap}
	for _, p := range at {
		s.At = append(s.At, plane.Pose{X: p.X - lo.X + gap, Z: p.Z - lo.Z + gap, Turn: p.Turn})
	}
	s.Lying = s.At[len(s.At)-1].ApplyAll(outline)
	return s
}

// turns lists the turns that are tried, rad: those that lay an edge of the outline's hull level, and others in between.
func turns(outline []plane.Point) (all []float64) {
	for t := 0.0; t < math.Pi-1e-9; t += turnStep {
		all = append(all, t)
	}
	n := 0
	for a, b := range plane.Edges(plane.Hull(outline)) {
		if n++; n <= 40 && a.Distance(b) > 20 {
			all = append(all, -b.Sub(a).Angle())
		}
	}
	return all
}

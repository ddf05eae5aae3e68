package outline

import (
	"cmp"
	"slices"

	"stanchion/holes/plane"
)

// tight draws a closed string tight: in stays within it, out outside. The string is a polygon that does not cross itself,
// counter-clockwise, and parts the two to begin with. Each bend that has nothing in its corner is cut off; in a corner
// that has, the string lies around what is in it. What comes out bends to the left at points of in only, and to the right at points of
// out only: the shortest of all outlines that can be moved into each other without passing over a point.
func tight(ring, in, out []plane.Point) []plane.Point {
	in, out = byX(in), byX(out)
	at, idle := 0, 0
	for moves := 50 * (len(ring) + len(in) + len(out)); idle < len(ring) && len(ring) > 3 && moves > 0; moves-- {
		n := len(ring)
		at %= n
		a, b, c := ring[(at+n-1)%n], ring[at], ring[(at+1)%n]
		turn := cross(b.Sub(a), c.Sub(b))
		pins := in
		if turn < 0 {
			pins = out
		}
		chain := around(a, b, c, turn, pins)
		if slices.Contains(chain, b) || straddled(ring, at, chain, turn) {
			at++
			idle++
			continue
		}
		ring = append(append(append(make([]plane.Point, 0, n+len(chain)), ring[:at]...), chain...), ring[at+1:]...)
		at = max(0, at-1)
		idle = 0
	}
	return ring
}

// onto is how near to a side of a corner a point is that counts as in it, mm, and off how far from the side across it must be.
const onto, off = 1e-6, 1e-7

// within reports whether a point lies in the corner from a over b to c: not beyond its sides, and clear of the side from a to c.
func within(p, a, b, c plane.Point, sign float64) bool {
	ab, bc, ac := b.Sub(a), c.Sub(b), c.Sub(a)
	return sign*cross(ab, p.Sub(a)) >= -onto*ab.Length() && sign*cross(bc, p.Sub(b)) >= -onto*bc.Length() &&
		sign*cross(ac, p.Sub(a)) < -off*ac.Length()
}

// byX orders points from the front to the rear.
func byX(ps []plane.Point) []plane.Point {
	return slices.SortedFunc(slices.Values(ps), func(a, b plane.Point) int { return cmp.Compare(a.X, b.X) })
}

// around returns how a string from a to c lies around the points in the corner at b, without its ends. The points are ordered by x.
func around(a, b, c plane.Point, turn float64, pins []plane.Point) (chain []plane.Point) {
	sign := 1.0
	if turn < 0 {
		sign = -1
	}
	var held []plane.Point
	lo, hi := plane.Box([]plane.Point{a, b, c})
	first, _ := slices.BinarySearchFunc(pins, lo.X-onto, func(p plane.Point, x float64) int { return cmp.Compare(p.X, x) })
	for _, p := range pins[first:] {
		if p.X > hi.X+onto {
			break
		}
		if p.Z < lo.Z-onto || p.Z > hi.Z+onto || p == a || p == c {
			continue
		}
		if within(p, a, b, c, sign) {
			held = append(held, p)
		}
	}
	if len(held) == 0 {
		return nil
	}
	hull := plane.Hull(append(held, a, c))
	if sign < 0 {
		slices.Reverse(hull)
	}
	from, to := slices.Index(hull, a), slices.Index(hull, c)
	if from < 0 || to < 0 { // straight but for rounding: leave the corner as it is
		return []plane.Point{b}
	}
	for i := (from + 1) % len(hull); i != to; i = (i + 1) % len(hull) {
		chain = append(chain, hull[i])
	}
	return chain
}

// straddled reports whether another part of the string lies in the corner that would be cut off.
func straddled(ring []plane.Point, at int, chain []plane.Point, turn float64) bool {
	n := len(ring)
	a, b, c := ring[(at+n-1)%n], ring[at], ring[(at+1)%n]
	sign := 1.0
	if turn < 0 {
		sign = -1
	}
	lo, hi := plane.Box([]plane.Point{a, b, c})
	for k := range n - 3 {
		p := ring[(at+2+k)%n]
		if p.X < lo.X || p.X > hi.X || p.Z < lo.Z || p.Z > hi.Z || p == a || p == b || p == c || !within(p, a, b, c, sign) {
			continue
		}
		from := a
		for _, q := range append(chain[:len(chain):len(chain)], c) {
			if way := q.Sub(from); sign*cross(way, p.Sub(from)) < -onto*way.Length() {
				return true // on the side of b
			}
			from = q
		}
	}
	return false
}

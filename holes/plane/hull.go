package plane

import "sort"

// Hull returns the corners of the convex hull of points, counter-clockwise
// from the leftmost. Fewer than three points come back as they are.
// Source: A. M. Andrew, Information Processing Letters 9 (1979) 216-219, the
// monotone chain.
func Hull(points []Point) []Point {
	ps := append([]Point(nil), points...)
	if len(ps) < 3 {
		return ps
	}
	sort.Slice(ps, func(a, b int) bool {
		return ps[a].X < ps[b].X || ps[a].X == ps[b].X && ps[a].Z < ps[b].Z
	})
	hull := make([]Point, 0, len(ps)+1)
	add := func(p Point, floor int) {
		for len(hull) >= floor+2 && turnLeft(hull[len(hull)-2], hull[len(hull)-1], p) <= 0 {
			hull = hull[:len(hull)-1]
		}
		hull = append(hull, p)
	}
	for _, p := range ps {
		add(p, 0)
	}
	floor := len(hull) - 1
	for i := len(ps) - 2; i >= 0; i-- {
		add(ps[i], floor)
	}
	return hull[:len(hull)-1]
}

// turnLeft is positive when the way from a over b to c turns left.
func turnLeft(a, b, c Point) float64 {
	return (b.X-a.X)*(c.Z-a.Z) - (b.Z-a.Z)*(c.X-a.X)
}

package deck

import (
	"math"
	"slices"
)

// Point is a place in the side view: m to the rear of the ground point below the rear axle,
// m up from the ground.
type Point struct{ X, Z float64 }

// upperSide returns the upper outline that a line drawn in the side view shows from above,
// from front to rear: the highest z at each x. Steps are two points at one x. The line may
// be closed, run either way, and turn back on itself.
func upperSide(line []Point) []Point {
	xs := make([]float64, 0, 2*len(line))
	for _, p := range line {
		xs = append(xs, p.X)
	}
	for i := 1; i < len(line); i++ {
		for k := 1; k < i; k++ {
			if x, ok := crossing(line[k-1], line[k], line[i-1], line[i]); ok {
				xs = append(xs, x)
			}
		}
	}
	slices.Sort(xs)
	xs = slices.CompactFunc(xs, func(a, b float64) bool { return math.Abs(b-a) < 1e-6 })
	var all []Point
	for i := 1; i < len(xs); i++ {
		a, b := xs[i-1], xs[i]
		// Between two such x no two pieces cross, so the highest at the middle is the highest.
		best, za, zb := math.Inf(-1), 0.0, 0.0
		for k := 1; k < len(line); k++ {
			p, q := line[k-1], line[k]
			if p.X > q.X {
				p, q = q, p
			}
			mid := (a + b) / 2
			if q.X-p.X < 1e-9 || p.X > mid || q.X < mid {
				continue
			}
			z := func(x float64) float64 { return p.Z + (q.Z-p.Z)*(x-p.X)/(q.X-p.X) }
			if z(mid) > best {
				best, za, zb = z(mid), z(a), z(b)
			}
		}
		if math.IsInf(best, 0) {
			continue
		}
		if n := len(all); n == 0 || all[n-1].X != a || math.Abs(all[n-1].Z-za) > 1e-9 {
			all = append(all, Point{a, za})
		}
		all = append(all, Point{b, zb})
	}
	return all
}

// crossing returns the x at which the pieces a-b and c-d cross.
func crossing(a, b, c, d Point) (float64, bool) {
	det := (b.X-a.X)*(d.Z-c.Z) - (b.Z-a.Z)*(d.X-c.X)
	if math.Abs(det) < 1e-12 {
		return 0, false
	}
	s := ((c.X-a.X)*(d.Z-c.Z) - (c.Z-a.Z)*(d.X-c.X)) / det
	t := ((c.X-a.X)*(b.Z-a.Z) - (c.Z-a.Z)*(b.X-a.X)) / det
	return a.X + s*(b.X-a.X), s > 0 && s < 1 && t > 0 && t < 1
}

// simplified leaves out points that lie within tol of the line through those that it keeps:
// D. Douglas and T. Peucker, Cartographica 10 (1973) 112-122.
func simplified(line []Point, tol float64) []Point {
	if len(line) < 3 {
		return line
	}
	a, b := line[0], line[len(line)-1]
	length := math.Hypot(b.X-a.X, b.Z-a.Z)
	far, at := 0.0, 0
	for i, p := range line[1 : len(line)-1] {
		if d := math.Abs((b.X-a.X)*(p.Z-a.Z)-(b.Z-a.Z)*(p.X-a.X)) / max(length, 1e-9); d > far {
			far, at = d, i+1
		}
	}
	if far <= tol {
		return []Point{a, b}
	}
	return append(simplified(line[:at+1], tol), simplified(line[at:], tol)[1:]...)
}

// heightAt returns the height of a line that runs from front to rear at x, the larger one
// at a step, and whether the line reaches there.
func heightAt(line []Point, x float64) (z float64, ok bool) {
	z = math.Inf(-1)
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		if x < a.X || x > b.X {
			continue
		}
		ok = true
		if b.X-a.X < 1e-9 {
			z = max(z, a.Z, b.Z)
			continue
		}
		z = max(z, a.Z+(b.Z-a.Z)*(x-a.X)/(b.X-a.X))
	}
	return z, ok
}

package plane

import (
	"math"
)

// turningPoint is how close a turning point comes to an edge.
type turningPoint struct {
	distance  float64
	arc, edge Point   // on the point's way, and on the edge
	turn      float64 // rad, in the sense of the turn asked for
}

// arc returns the least distance of a point that turns about a centre by turn rad
// from an edge. The candidates are the way's two ends, the edge's two ends, the
// place where the way runs along the edge, and those where it crosses it; one of
// them is least, and of equal ones the least turn counts.
func arc(centre, start Point, turn float64, a, b Point) turningPoint {
	r := centre.Distance(start)
	from := math.Atan2(start.Z-centre.Z, start.X-centre.X)
	best := turningPoint{distance: math.Inf(1)}
	take := func(d float64, at, edge Point, by float64) {
		if d < best.distance || d == best.distance && math.Abs(by) < math.Abs(best.turn) {
			best = turningPoint{d, at, edge, by}
		}
	}
	place := func(by float64) Point {
		sin, cos := math.Sincos(from + by)
		return Point{X: centre.X + r*cos, Z: centre.Z + r*sin}
	}
	for _, by := range [2]float64{0, turn} {
		p := place(by)
		if by == 0 {
			p = start
		}
		d, at := ToSegment(p, a, b)
		take(d, p, at, by)
	}
	if r == 0 {
		return best
	}
	// towards tries the point of the way in the direction of a place.
	towards := func(p Point) {
		by, ok := within(math.Atan2(p.Z-centre.Z, p.X-centre.X)-from, turn)
		if !ok {
			return
		}
		at := place(by)
		d, edge := ToSegment(at, a, b)
		take(d, at, edge, by)
	}
	towards(a)
	towards(b)
	wx, wz := b.X-a.X, b.Z-a.Z
	l := math.Hypot(wx, wz)
	if l == 0 {
		return best
	}
	wx, wz = wx/l, wz/l
	s := (centre.X-a.X)*wx + (centre.Z-a.Z)*wz // along the edge, of the foot of the centre
	foot := Point{X: a.X + s*wx, Z: a.Z + s*wz}
	h := centre.Distance(foot)
	switch {
	case h == 0 && r >= h: // the edge's line goes through the centre
		towards(Point{X: centre.X - wz, Z: centre.Z + wx})
		towards(Point{X: centre.X + wz, Z: centre.Z - wx})
	case h > 0:
		towards(foot)
	}
	if r >= h {
		half := math.Sqrt(r*r - h*h)
		for _, k := range [2]float64{s - half, s + half} {
			if k < 0 || k > l {
				continue
			}
			at := Point{X: a.X + k*wx, Z: a.Z + k*wz}
			if by, ok := within(math.Atan2(at.Z-centre.Z, at.X-centre.X)-from, turn); ok {
				take(0, at, at, by)
			}
		}
	}
	return best
}

// within brings an angle into the way from 0 to turn, and reports whether it is
// on it.
func within(angle, turn float64) (float64, bool) {
	angle = math.Mod(angle, 2*math.Pi)
	if turn >= 0 && angle < 0 {
		angle += 2 * math.Pi
	}
	if turn < 0 && angle > 0 {
		angle -= 2 * math.Pi
	}
	return angle, math.Abs(angle) <= math.Abs(turn)
}

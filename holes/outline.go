package holes

import "math"

// EdgeDistance returns the distance in mm from a point to the nearest edge of
// an outline, and whether the point lies inside of it.
func EdgeDistance(outline []Point, p Point) (mm float64, inside bool) {
	mm = math.Inf(1)
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		mm = min(mm, segmentDistance(a, b, p))
		// A ray to the rear crosses the edge.
		if (a.Z > p.Z) != (b.Z > p.Z) && p.X < a.X+(p.Z-a.Z)/(b.Z-a.Z)*(b.X-a.X) {
			inside = !inside
		}
	}
	return mm, inside
}

// segmentDistance returns the distance from p to the straight line from a to b.
func segmentDistance(a, b, p Point) float64 {
	way := b.sub(a)
	t := 0.0
	if l := way.X*way.X + way.Z*way.Z; l > 0 {
		t = min(1, max(0, ((p.X-a.X)*way.X+(p.Z-a.Z)*way.Z)/l))
	}
	return p.distance(a.add(way.scale(t)))
}

package plane

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
	way := b.Sub(a)
	t := 0.0
	if l := way.X*way.X + way.Z*way.Z; l > 0 {
		t = min(1, max(0, ((p.X-a.X)*way.X+(p.Z-a.Z)*way.Z)/l))
	}
	return p.Distance(a.Add(way.Times(t)))
}

// Area returns the area in an outline, mm², positive when its corners run
// counter-clockwise, and the middle of it; that is the first corner where there is no
// area.
func Area(outline []Point) (mm2 float64, middle Point) {
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		cross := a.X*b.Z - b.X*a.Z
		mm2 += cross / 2
		middle.X += (a.X + b.X) * cross / 6
		middle.Z += (a.Z + b.Z) * cross / 6
	}
	if mm2 == 0 {
		if len(outline) > 0 {
			middle = outline[0]
		}
		return 0, middle
	}
	return mm2, middle.Times(1 / mm2)
}

// Arc returns the circle of the arc from a to b with a bulge, the tangent of a quarter
// of its turn, positive counter-clockwise and not 0: the way in which DXF writes arcs.
func Arc(a, b Point, bulge float64) (centre Point, radius float64) {
	// The centre lies square to the chord's middle, by (1 - bulge²)/(4 bulge) chords to
	// its left.
	k := (1 - bulge*bulge) / (4 * bulge)
	centre = Point{(a.X+b.X)/2 - k*(b.Z-a.Z), (a.Z+b.Z)/2 + k*(b.X-a.X)}
	return centre, a.Distance(centre)
}

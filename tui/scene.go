package tui

import (
	"math"

	"stanchion/holes/plane"
	"stanchion/tui/widgets"
)

// at returns the dot of a place on the car.
func (s *scene) at(p plane.Point) (x, y float64) {
	return (p.X - s.x0) / s.scale, (s.z1 - p.Z) / s.scale
}

// cellAt returns the cell of a place on the car.
func (s *scene) cellAt(p plane.Point) (x, y int) {
	dx, dy := s.at(p)
	return int(math.Floor(dx)) / 2, int(math.Floor(dy)) / 4
}

func (s *scene) stroke(a, b plane.Point, k widgets.Ink, gap int) {
	x0, y0 := s.at(a)
	x1, y1 := s.at(b)
	s.Line(x0, y0, x1, y1, k, gap)
}

func (s *scene) polygon(pose plane.Pose, points []plane.Point, k widgets.Ink, gap int) {
	for i, p := range points {
		s.stroke(pose.Apply(p), pose.Apply(points[(i+1)%len(points)]), k, gap)
	}
}

// solid fills a polygon but for the openings in it, and outlines all where areas cannot be told
// by colour.
func (s *scene) solid(pose plane.Pose, points []plane.Point, k widgets.Ink, openings ...[]plane.Point) {
	s.area(pose, points, k, openings...)
	if s.Plain() {
		for _, polygon := range append([][]plane.Point{points}, openings...) {
			s.polygon(pose, polygon, k, 1)
		}
	}
}

// area fills a polygon but for the openings in it.
func (s *scene) area(pose plane.Pose, points []plane.Point, k widgets.Ink, openings ...[]plane.Point) {
	rings := make([]widgets.Ring, 0, 1+len(openings))
	for _, polygon := range append([][]plane.Point{points}, openings...) {
		r := widgets.Ring{Xs: make([]float64, len(polygon)), Ys: make([]float64, len(polygon))}
		for i, p := range polygon {
			r.Xs[i], r.Ys[i] = s.at(pose.Apply(p))
		}
		rings = append(rings, r)
	}
	s.FillRings(rings, k)
}

// circle draws a circle of a radius in mm.
func (s *scene) circle(centre plane.Point, radius float64, k widgets.Ink) {
	s.polygon(plane.Pose{}, s.round(centre, radius), k, 1)
}

// disc fills a circle.
func (s *scene) disc(centre plane.Point, radius float64, k widgets.Ink) {
	s.solid(plane.Pose{}, s.round(centre, radius), k)
}

// round is a circle as a polygon, as fine as can be seen.
func (s *scene) round(centre plane.Point, radius float64) []plane.Point {
	n := int(min(400, max(12, 8*radius/s.scale)))
	points := make([]plane.Point, n)
	for i := range n {
		a := 2 * math.Pi * float64(i) / float64(n)
		points[i] = plane.Point{X: centre.X + radius*math.Cos(a), Z: centre.Z + radius*math.Sin(a)}
	}
	return points
}

// text writes beside a place on the car if there is room for it, within the picture.
func (s *scene) text(p plane.Point, text string, k widgets.Ink) bool {
	x, y := s.cellAt(p)
	return s.textIn(x, y, text, k)
}

func (s *scene) textIn(x, y int, text string, k widgets.Ink) bool {
	n := len([]rune(text))
	x = min(max(x, 0), s.W-n)
	if y == s.H { // on the lower edge
		y--
	}
	if !s.Free(x, y, n) {
		return false
	}
	s.Label(x, y, text, k)
	return true
}

package tui

import (
	"fmt"
	"math"

	"stanchion/holes/plane"
	"stanchion/tui/widgets"
)

// drawnWheel is the radius of the rear wheel in the picture, mm. It decides
// nothing. Common practice, no source: road tyres are 600 to 660 mm across.
const drawnWheel = 315

// sight is how much of the car the side view shows.
type sight int

const (
	seeBoth sight = iota // the whole rear, small, beside the uprights
	seeWhole
	seeUprights
)

var sightNames = [...]string{"side view", "side view: the whole rear", "side view: the uprights"}

// scene draws the car's rear from the side, to scale, onto a canvas.
type scene struct {
	*widgets.Canvas
	m      Model
	near   bool    // the uprights alone
	x0, z1 float64 // mm at the left and upper edge
	scale  float64 // mm a dot, the same both ways
}

// sideView draws the pane.
func (m Model) sideView(w, h int) []string {
	if m.row() == nil {
		return widgets.NewCanvas(w, h, inkStyles).Lines()
	}
	switch {
	case m.sight == seeUprights:
		return m.drawScene(w, h, true)
	case m.sight == seeWhole || w < 34:
		return m.drawScene(w, h, false)
	}
	small := min(w*2/5, 2*h)
	whole, near := m.drawScene(small, h, false), m.drawScene(w-small-1, h, true)
	for i := range whole {
		whole[i] += " " + near[i]
	}
	return whole
}

// drawScene draws one picture. Its scale is the largest at which everything
// that any setting can reach is in it, so that it does not jump about.
func (m Model) drawScene(w, h int, near bool) []string {
	c := widgets.NewCanvas(w, h, inkStyles)
	if w < 8 || h < 4 {
		return c.Lines()
	}
	r := m.row()
	s := &scene{Canvas: c, m: m, near: near}
	s.frame()
	if !near {
		s.car()
	}
	s.roof()
	s.body()
	s.parts(r)
	if k := m.keptRow(); k != nil && k != r {
		s.wing(k, inkKept, 2)
	}
	s.wing(r, inkWing, 1)
	s.Label(0, h-1, s.ruler(), inkCar)
	return c.Lines()
}

// frame chooses the part of the side view that is shown.
func (s *scene) frame() {
	lo, hi := plane.Point{X: math.Inf(1), Z: math.Inf(1)}, plane.Point{X: math.Inf(-1), Z: math.Inf(-1)}
	take := func(p plane.Point) {
		lo.X, lo.Z = min(lo.X, p.X), min(lo.Z, p.Z)
		hi.X, hi.Z = max(hi.X, p.X), max(hi.Z, p.Z)
	}
	for i := range s.m.table.Rows {
		r := &s.m.table.Rows[i]
		take(plane.Point{X: r.Rear, Z: r.Top})
		take(r.Pose.Apply(plane.Point{}))
	}
	for _, p := range s.partPoses(s.m.row()) {
		for _, u := range p.outline {
			take(p.pose.Apply(u))
		}
	}
	margin := 25.0
	if !s.near {
		take(plane.Point{X: -drawnWheel - 60, Z: 0})
		take(plane.Point{X: 0, Z: s.m.car.RoofHeight})
		margin = 40
	}
	width, height := hi.X-lo.X+2*margin, hi.Z-lo.Z+2*margin
	s.scale = max(width/float64(2*s.W), height/float64(4*s.H))
	s.x0 = (lo.X+hi.X)/2 - s.scale*float64(s.W)
	s.z1 = (lo.Z+hi.Z)/2 + s.scale*float64(2*s.H)
}

// at returns the dot of a place on the car.
func (s *scene) at(p plane.Point) (x, y float64) {
	return (p.X - s.x0) / s.scale, (s.z1 - p.Z) / s.scale
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

// circle draws a circle of a radius in mm; one too small for the scale is a
// block of dots, so that holes stay visible.
func (s *scene) circle(centre plane.Point, radius float64, k widgets.Ink) {
	if radius < 1.2*s.scale {
		x, y := s.at(centre)
		s.Dot(int(x), int(y), k)
		if s.near {
			s.Dot(int(x)+1, int(y), k)
			s.Dot(int(x), int(y)+1, k)
			s.Dot(int(x)+1, int(y)+1, k)
		}
		return
	}
	n := int(min(400, 8*radius/s.scale))
	for i := range n {
		a := 2 * math.Pi * float64(i) / float64(n)
		x, y := s.at(plane.Point{X: centre.X + radius*math.Cos(a), Z: centre.Z + radius*math.Sin(a)})
		s.Dot(int(math.Round(x)), int(math.Round(y)), k)
	}
}

// textAt writes beside a place on the car.
func (s *scene) textAt(p plane.Point, text string, k widgets.Ink) {
	x, y := s.at(p)
	s.Label(int(x)/2, int(y)/4, text, k)
}

// car draws ground and rear wheel.
func (s *scene) car() {
	left, right := s.x0, s.x0+2*float64(s.W)*s.scale
	s.stroke(plane.Point{X: left}, plane.Point{X: right}, inkCar, 1)
	s.circle(plane.Point{Z: drawnWheel}, drawnWheel, inkCar)
	s.circle(plane.Point{Z: drawnWheel}, drawnWheel*0.62, inkCar)
	s.textAt(plane.Point{X: -0.35 * drawnWheel, Z: drawnWheel}, "wheel", inkCar)
}

// roof draws the height of the roof as a broken line.
func (s *scene) roof() {
	z := s.m.car.RoofHeight
	left, right := s.x0, s.x0+2*float64(s.W)*s.scale
	s.stroke(plane.Point{X: left, Z: z}, plane.Point{X: right, Z: z}, inkCar, 4)
	name := "roof"
	if s.W > 30 {
		name += " " + s.m.units.Length(z)
	}
	s.textAt(plane.Point{X: left + 2*s.scale, Z: z}, name, inkCar)
}

// body draws the body's side profile, and the lid where it stands.
func (s *scene) body() {
	around := s.m.car.Surroundings()
	s.polygon(plane.Pose{}, around.Body, inkCar, 2)
	if around.Lid.Outline != nil {
		s.polygon(plane.Pose{}, around.Lid.Opened(math.Copysign(s.m.lid, around.Lid.Open)), inkBracket, 1)
	}
}

// ruler says how large the picture is.
func (s *scene) ruler() string {
	cell := 2 * s.scale
	unit := s.m.units.LengthSize()
	for _, length := range []float64{1, 2, 5, 10, 20, 50, 100, 200, 500, 1000} {
		if n := int(math.Round(length * unit / cell)); n >= 3 && length*unit >= 20 {
			bar := "├"
			for range n - 2 {
				bar += "─"
			}
			return fmt.Sprintf("%s┤ %.0f %s", bar, length, s.m.units.LengthUnit())
		}
	}
	return ""
}

package tui

import (
	"fmt"
	"math"

	"github.com/charmbracelet/x/ansi"

	"stanchion/holes"
	"stanchion/model"
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
	*canvas
	m      Model
	near   bool    // the uprights alone
	x0, z1 float64 // mm at the left and upper edge
	scale  float64 // mm a dot, the same both ways
}

// sideView draws the pane.
func (m Model) sideView(w, h int) []string {
	if m.row() == nil {
		return newCanvas(w, h).lines()
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
	c := newCanvas(w, h)
	if w < 8 || h < 4 {
		return c.lines()
	}
	r := m.row()
	s := &scene{canvas: c, m: m, near: near}
	s.frame()
	if !near {
		s.car()
	}
	s.roof()
	s.parts(r)
	if k := m.keptRow(); k != nil && k != r {
		s.wing(k, inkKept, 2)
	}
	s.wing(r, inkWing, 1)
	s.label(0, h-1, s.ruler(), inkCar)
	return c.lines()
}

// frame chooses the part of the side view that is shown.
func (s *scene) frame() {
	lo, hi := holes.Point{X: math.Inf(1), Z: math.Inf(1)}, holes.Point{X: math.Inf(-1), Z: math.Inf(-1)}
	take := func(p holes.Point) {
		lo.X, lo.Z = min(lo.X, p.X), min(lo.Z, p.Z)
		hi.X, hi.Z = max(hi.X, p.X), max(hi.Z, p.Z)
	}
	for i := range s.m.table.Rows {
		r := &s.m.table.Rows[i]
		take(holes.Point{X: r.Rear, Z: r.Top})
		take(r.Pose.Apply(holes.Point{}))
	}
	for _, p := range s.partPoses(s.m.row()) {
		for _, u := range p.outline {
			take(p.pose.Apply(u))
		}
	}
	margin := 25.0
	if !s.near {
		take(holes.Point{X: -drawnWheel - 60, Z: 0})
		take(holes.Point{X: 0, Z: s.m.car.RoofHeight})
		margin = 40
	}
	width, height := hi.X-lo.X+2*margin, hi.Z-lo.Z+2*margin
	s.scale = max(width/float64(2*s.w), height/float64(4*s.h))
	s.x0 = (lo.X+hi.X)/2 - s.scale*float64(s.w)
	s.z1 = (lo.Z+hi.Z)/2 + s.scale*float64(2*s.h)
}

// at returns the dot of a place on the car.
func (s *scene) at(p holes.Point) (x, y float64) {
	return (p.X - s.x0) / s.scale, (s.z1 - p.Z) / s.scale
}

func (s *scene) stroke(a, b holes.Point, k ink, gap int) {
	x0, y0 := s.at(a)
	x1, y1 := s.at(b)
	s.line(x0, y0, x1, y1, k, gap)
}

func (s *scene) polygon(pose holes.Pose, points []holes.Point, k ink, gap int) {
	for i, p := range points {
		s.stroke(pose.Apply(p), pose.Apply(points[(i+1)%len(points)]), k, gap)
	}
}

// circle draws a circle of a radius in mm; one too small for the scale is a
// block of dots, so that holes stay visible.
func (s *scene) circle(centre holes.Point, radius float64, k ink) {
	if radius < 1.2*s.scale {
		x, y := s.at(centre)
		s.dot(int(x), int(y), k)
		if s.near {
			s.dot(int(x)+1, int(y), k)
			s.dot(int(x), int(y)+1, k)
			s.dot(int(x)+1, int(y)+1, k)
		}
		return
	}
	n := int(min(400, 8*radius/s.scale))
	for i := range n {
		a := 2 * math.Pi * float64(i) / float64(n)
		x, y := s.at(holes.Point{X: centre.X + radius*math.Cos(a), Z: centre.Z + radius*math.Sin(a)})
		s.dot(int(math.Round(x)), int(math.Round(y)), k)
	}
}

// text writes beside a place on the car.
func (s *scene) textAt(p holes.Point, text string, k ink) {
	x, y := s.at(p)
	s.label(int(x)/2, int(y)/4, text, k)
}

// car draws ground and rear wheel.
func (s *scene) car() {
	left, right := s.x0, s.x0+2*float64(s.w)*s.scale
	s.stroke(holes.Point{X: left}, holes.Point{X: right}, inkCar, 1)
	s.circle(holes.Point{Z: drawnWheel}, drawnWheel, inkCar)
	s.circle(holes.Point{Z: drawnWheel}, drawnWheel*0.62, inkCar)
	s.textAt(holes.Point{X: -0.35 * drawnWheel, Z: drawnWheel}, "wheel", inkCar)
}

// roof draws the height of the roof as a broken line.
func (s *scene) roof() {
	z := s.m.car.RoofHeight
	left, right := s.x0, s.x0+2*float64(s.w)*s.scale
	s.stroke(holes.Point{X: left, Z: z}, holes.Point{X: right, Z: z}, inkCar, 4)
	name := "roof"
	if s.w > 30 {
		name += " " + s.m.units.Length(z)
	}
	s.textAt(holes.Point{X: left + 2*s.scale, Z: z}, name, inkCar)
}

// posed is a part where it lies on the car.
type posed struct {
	part    model.Part
	pose    holes.Pose
	outline []holes.Point
}

// partPoses returns every part but the wing with its pose and an outline: its
// own, or one around its holes.
func (s *scene) partPoses(r *model.Row) []posed {
	c := s.m.car
	var all []posed
	pose := c.Ground()
	for i, p := range c.Parts[:len(c.Parts)-1] {
		if i > 0 {
			pose = pose.Then(r.Fits[i-1].Pose)
		}
		outline := p.Outline
		if outline == nil {
			outline = aroundHoles(p)
		}
		all = append(all, posed{p, pose, outline})
	}
	return all
}

// aroundHoles returns an outline 15 mm around the holes of a part.
func aroundHoles(p model.Part) []holes.Point {
	var points []holes.Point
	for _, h := range p.Holes {
		for _, d := range [4][2]float64{{-15, -15}, {15, -15}, {15, 15}, {-15, 15}} {
			points = append(points, holes.Point{X: h.X + d[0], Z: h.Z + d[1]})
		}
	}
	return holes.Hull(points)
}

// parts draws bracket and upright with their holes, and the bolts in them.
func (s *scene) parts(r *model.Row) {
	all := s.partPoses(r)
	for i, p := range all {
		k := inkUpright
		if i == 0 && len(all) > 1 {
			k = inkBracket
		}
		s.polygon(p.pose, p.outline, k, 1)
		for _, h := range p.part.Holes {
			if h.Slot == "" {
				s.circle(p.pose.Apply(h.At()), h.D/2, k)
			}
		}
		for _, slot := range p.part.Slots {
			s.slot(p.pose, slot, k)
		}
	}
	s.trialHole(all)
	for j, f := range r.Fits {
		for _, q := range f.Pairs {
			h := all[j].part.Holes[q.Lower]
			at := all[j].pose.Apply(h.At())
			s.bolt(at)
			if s.near && s.scale < namesUpTo {
				s.name(at, h.ID, all[j])
			}
		}
	}
}

// slot draws the two sides and the round ends of a slot.
func (s *scene) slot(pose holes.Pose, slot holes.Slot, k ink) {
	const parts = 12
	s.circle(pose.Apply(slot.Along(0)), slot.D/2, k)
	s.circle(pose.Apply(slot.Along(slot.Length())), slot.D/2, k)
	for i := range parts {
		a := slot.Along(slot.Length() * float64(i) / parts)
		b := slot.Along(slot.Length() * float64(i+1) / parts)
		l := math.Hypot(b.X-a.X, b.Z-a.Z)
		off := holes.Point{X: -(b.Z - a.Z) / l * slot.D / 2, Z: (b.X - a.X) / l * slot.D / 2}
		for _, sign := range [2]float64{1, -1} {
			s.stroke(pose.Apply(holes.Point{X: a.X + sign*off.X, Z: a.Z + sign*off.Z}), pose.Apply(holes.Point{X: b.X + sign*off.X, Z: b.Z + sign*off.Z}), k, 1)
		}
	}
}

// trialHole draws the hole that is being placed, as a ring with its name.
func (s *scene) trialHole(all []posed) {
	d := s.m.drill
	if d == nil || d.hole.Part >= len(all) {
		return
	}
	p := all[d.hole.Part]
	at := p.pose.Apply(d.hole.At())
	s.circle(at, max(d.hole.D/2+4, 2.2*s.scale), inkKept)
	if s.near {
		s.name(at, d.hole.ID, p)
	}
}

// namesUpTo is the scale, mm a dot, up to which bolts have the names of their
// holes beside them: beyond it there is no room.
const namesUpTo = 13

// name writes a hole's name outside of its part, on the side that is nearer.
func (s *scene) name(at holes.Point, id string, p posed) {
	left, right := math.Inf(1), math.Inf(-1)
	for _, u := range p.outline {
		q := p.pose.Apply(u)
		left, right = min(left, q.X), max(right, q.X)
	}
	x, y := s.at(holes.Point{X: right + 2*s.scale, Z: at.Z})
	col := int(x)/2 + 1
	if at.X-left < right-at.X {
		x, y = s.at(holes.Point{X: left - 2*s.scale, Z: at.Z})
		col = int(x)/2 - ansi.StringWidth(id)
	}
	s.label(col, int(y)/4, id, inkBolt)
}

// bolt marks a hole that has a bolt: a filled disc, larger than the hole.
func (s *scene) bolt(at holes.Point) {
	x, y := s.at(at)
	r := max(1, 6/s.scale)
	for dy := -math.Ceil(r); dy <= r; dy++ {
		for dx := -math.Ceil(r); dx <= r; dx++ {
			if dx*dx+dy*dy <= r*r {
				s.dot(int(math.Round(x+dx)), int(math.Round(y+dy)), inkBolt)
			}
		}
	}
}

// wing draws section, chord line and end plate of a setting.
func (s *scene) wing(r *model.Row, k ink, gap int) {
	w := s.m.car.Wing
	outline, _ := w.Outline()
	s.polygon(r.Pose, w.PlateOutline(), inkCar, 3)
	s.polygon(r.Pose, outline, k, gap)
	s.stroke(r.Pose.Apply(holes.Point{}), r.Pose.Apply(holes.Point{X: w.Chord}), k, 2)
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

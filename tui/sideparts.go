package tui

import (
	"math"

	"github.com/charmbracelet/x/ansi"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/tui/widgets"
)

// posed is a part where it lies on the car.
type posed struct {
	part    model.Part
	pose    plane.Pose
	outline []plane.Point
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
func aroundHoles(p model.Part) []plane.Point {
	var points []plane.Point
	for _, h := range p.Holes {
		for _, d := range [4][2]float64{{-15, -15}, {15, -15}, {15, 15}, {-15, 15}} {
			points = append(points, plane.Point{X: h.X + d[0], Z: h.Z + d[1]})
		}
	}
	return plane.Hull(points)
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
func (s *scene) slot(pose plane.Pose, slot holes.Slot, k widgets.Ink) {
	const parts = 12
	s.circle(pose.Apply(slot.Along(0)), slot.D/2, k)
	s.circle(pose.Apply(slot.Along(slot.Length())), slot.D/2, k)
	for i := range parts {
		a := slot.Along(slot.Length() * float64(i) / parts)
		b := slot.Along(slot.Length() * float64(i+1) / parts)
		l := b.Distance(a)
		off := plane.Point{X: -(b.Z - a.Z) / l * slot.D / 2, Z: (b.X - a.X) / l * slot.D / 2}
		for _, sign := range [2]float64{1, -1} {
			s.stroke(pose.Apply(plane.Point{X: a.X + sign*off.X, Z: a.Z + sign*off.Z}),
				pose.Apply(plane.Point{X: b.X + sign*off.X, Z: b.Z + sign*off.Z}), k, 1)
		}
	}
}

// trialHole draws the hole that is being placed, as a ring with its name.
func (s *scene) trialHole(all []posed) {
	d, ok := in[drillMode](s.m)
	if !ok || d.hole.Part >= len(all) {
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
func (s *scene) name(at plane.Point, id string, p posed) {
	lo, hi := plane.Box(p.pose.ApplyAll(p.outline))
	left, right := lo.X, hi.X
	x, y := s.at(plane.Point{X: right + 2*s.scale, Z: at.Z})
	col := int(x)/2 + 1
	if at.X-left < right-at.X {
		x, y = s.at(plane.Point{X: left - 2*s.scale, Z: at.Z})
		col = int(x)/2 - ansi.StringWidth(id)
	}
	s.Label(col, int(y)/4, id, inkBolt)
}

// bolt marks a hole that has a bolt: a filled disc, larger than the hole.
func (s *scene) bolt(at plane.Point) {
	x, y := s.at(at)
	r := max(1, 6/s.scale)
	for dy := -math.Ceil(r); dy <= r; dy++ {
		for dx := -math.Ceil(r); dx <= r; dx++ {
			if dx*dx+dy*dy <= r*r {
				s.Dot(int(math.Round(x+dx)), int(math.Round(y+dy)), inkBolt)
			}
		}
	}
}

// wing draws section, chord line and end plate of a setting.
func (s *scene) wing(r *model.Row, k widgets.Ink, gap int) {
	w := s.m.car.Wing
	outline, _ := w.Outline()
	s.polygon(r.Pose, w.PlateOutline(), inkCar, 3)
	s.polygon(r.Pose, outline, k, gap)
	s.stroke(r.Pose.Apply(plane.Point{}), r.Pose.Apply(plane.Point{X: w.Chord}), k, 2)
}

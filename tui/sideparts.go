package tui

import (
	"math"

	"github.com/charmbracelet/x/ansi"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/strength"
	"stanchion/model/words"
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

// parts draws bracket and upright: areas with their outlines and cut-outs, and slots.
func (s *scene) parts(r *model.Row) {
	for i, p := range s.partPoses(r) {
		k := inkUpright
		if i == 0 && len(s.m.car.Parts) > 2 {
			k = inkBracket
		}
		s.solid(p.pose, p.outline, k, p.part.Cutouts...)
		for _, slot := range p.part.Slots {
			s.slot(p.pose, slot, k)
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

// wing draws the section as it is, filled, and in a large picture the end plate.
func (s *scene) wing(r *model.Row) {
	w := s.m.car.Wing
	outline, _ := w.Outline()
	switch {
	case s.sight == seeWhole && s.scale > 8: // too small for the section: wing and end plate are one shape
		s.solid(r.Pose, w.PlateOutline(), inkWing)
	case s.sight != seeJoint || s.W > 56:
		s.polygon(r.Pose, w.PlateOutline(), inkCar, 2)
	}
	s.area(r.Pose, outline, inkWing)
}

// ghost draws the outline of the wing in another setting, dotted.
func (s *scene) ghost(r *model.Row) {
	outline, _ := s.m.car.Wing.Outline()
	s.polygon(r.Pose, outline, inkKept, 2)
}

// spots marks where the plates are most heavily loaded, and where the setting comes nearest to body or lid.
func (s *scene) spots(r *model.Row) {
	if res, why := s.m.strengthOf(); why == "" {
		if used, ok := res.Used(); ok && !math.IsNaN(used.Utilisation()) && mayBeSaid(s.m.frame, res, s.m.table.Speed) {
			if p, ok := s.placeOf(r, used); ok {
				s.spot(p, words.UsedPercent(used.Utilisation())+" used", inkBolt)
			}
		}
	}
	if g := r.Gap; g.To != "" && (s.sight != seeJoint || g.Distance == 0 || g.Distance < s.m.car.Limits.Gap.Or(0)) {
		text := "gap " + s.m.units.LengthFigure(g.Distance)
		if g.Distance == 0 {
			text = "TOUCHES"
		}
		s.spot(g.A, text, inkLimit)
	}
}

// spot writes a text with an arrow at a place that is in the picture.
func (s *scene) spot(p plane.Point, text string, k widgets.Ink) {
	x, y := s.cellAt(p)
	if x < 0 || x >= s.W || y < 0 || y >= s.H {
		return
	}
	right, left := "◂ "+text, text+" ▸"
	n := ansi.StringWidth(right)
	for _, off := range [3]int{0, 1, -1} {
		switch {
		case s.Free(x+2, y+off, n) && x+2+n <= s.W:
			s.Label(x+2, y+off, right, k)
			return
		case s.Free(x-1-n, y+off, n):
			s.Label(x-1-n, y+off, left, k)
			return
		}
	}
}

// placeOf finds where on the car a check is: at a hole, in the middle of a cut through a plate, or so many mm
// along a part from the middle of its lower bolts towards its upper ones.
func (s *scene) placeOf(r *model.Row, c strength.Check) (plane.Point, bool) {
	all, station := s.partPoses(r), c.Station
	hole := func(p posed) (plane.Point, bool) {
		for _, h := range p.part.Holes {
			if h.ID == c.At {
				return p.pose.Apply(h.At()), true
			}
		}
		return plane.Point{}, false
	}
	if c.Joint == model.ChassisJoint && len(s.m.car.Chassis.Bolt) > 0 {
		return hole(all[0])
	}
	for j := range r.Fits {
		if c.Joint != "" && s.m.car.Joints[j].Name == c.Joint {
			if at, ok := hole(all[j]); ok {
				return at, true
			}
		}
	}
	for i, p := range all {
		if p.part.Name != c.Part {
			continue
		}
		if at, ok := hole(p); ok {
			return at, true
		}
		if c.Line[0] != c.Line[1] {
			return p.pose.Apply(c.Line[0].Add(c.Line[1]).Times(0.5)), true
		}
		if math.IsNaN(station) || i >= len(r.Fits) {
			return plane.Point{}, false
		}
		upper := middleOf(p, r.Fits[i].Pairs, true)
		lower := p.pose.Apply(plane.Point{Z: p.part.Held.Or(0)}) // where the car holds it
		if i > 0 {
			lower = middleOf(p, r.Fits[i-1].Pairs, false)
		}
		length := upper.Distance(lower)
		if length == 0 {
			return lower, true
		}
		return lower.Add(upper.Sub(lower).Times(min(max(station/length, 0), 1))), true
	}
	return plane.Point{}, false
}

// middleOf is the middle of a part's bolts of one joint, on the car.
func middleOf(p posed, pairs []holes.Pair, lower bool) plane.Point {
	sum := plane.Point{}
	for _, q := range pairs {
		i := q.Upper
		if lower {
			i = q.Lower
		}
		sum = sum.Add(p.part.Holes[i].At().Times(1 / float64(len(pairs))))
	}
	return p.pose.Apply(sum)
}

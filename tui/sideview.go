package tui

import (
	"fmt"
	"math"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/units"
	"stanchion/tui/widgets"
)

// drawnWheel is the radius of the rear wheel in the picture, mm. It decides
// nothing. Common practice, no source: road tyres are 600 to 660 mm across.
const drawnWheel = 315

// sight is how much of the car a side view shows.
type sight int

const (
	seeJoint sight = iota // the joint that is being changed, close
	seeWhole              // the whole rear
	seeParts              // all uprights, from the ground to the wing
	sightCount
)

// scene draws the car's rear from the side, to scale, onto a canvas.
type scene struct {
	*widgets.Canvas
	m      Model
	sight  sight
	joint  int     // that a close view shows
	x0, z1 float64 // mm at the left and upper edge
	scale  float64 // mm a dot, the same both ways
}

// sightName says what a picture shows.
func (m Model) sightName(s sight, joint int) string {
	switch s {
	case seeWhole:
		return "whole rear"
	case seeParts:
		return "uprights"
	}
	name := m.car.Joints[joint].Name
	if k := m.ghost(); k != nil && joint == len(m.car.Joints)-1 {
		_, what := m.reference()
		return name + " · dotted: " + what
	}
	return name
}

// ghost is the setting that is drawn dotted beside the one that is shown: the kept one, or what is on
// the car; nil for none.
func (m Model) ghost() *model.Row {
	if r, _ := m.reference(); r != nil && m.row() != nil && r.ID != m.row().ID {
		return r
	}
	return nil
}

// focusJoint is the joint that close views show: the one that was changed last.
func (m Model) focusJoint() int {
	if d, ok := m.drilling(); ok {
		return min(d.hole.Part, len(m.car.Joints)-1)
	}
	return min(m.focus, len(m.car.Joints)-1)
}

// sideView draws one picture. Its scale is the largest at which everything that any setting of
// the lower joints' way can reach is in it, so that it does not jump about.
func (m Model) sideView(see sight, joint int) func(w, h int) []string {
	return func(w, h int) []string {
		c := widgets.NewCanvas(w, h, looks, m.glyphs)
		if w < 8 || h < 4 || m.row() == nil {
			return c.Lines()
		}
		s := &scene{Canvas: c, m: m, sight: see, joint: joint}
		s.draw(m.row())
		return c.Lines()
	}
}

// draw puts what matters less first: names win over lines, lines over areas.
func (s *scene) draw(r *model.Row) {
	s.frame(r)
	s.body()
	if s.sight == seeWhole {
		s.car()
	}
	s.parts(r)
	s.limits()
	if k := s.m.ghost(); k != nil {
		s.ghost(k)
	}
	s.wing(r)
	s.holes(r)
	s.angle(r)
	s.spots(r)
	s.lidText()
	if s.sight != seeWhole || s.W > 30 {
		s.ruler()
	}
}

// frame chooses the part of the side view that is shown.
func (s *scene) frame(r *model.Row) {
	lo, hi := plane.Point{X: math.Inf(1), Z: math.Inf(1)}, plane.Point{X: math.Inf(-1), Z: math.Inf(-1)}
	take := func(p plane.Point) {
		lo.X, lo.Z = min(lo.X, p.X), min(lo.Z, p.Z)
		hi.X, hi.Z = max(hi.X, p.X), max(hi.Z, p.Z)
	}
	margin := 25.0
	switch s.sight {
	case seeJoint:
		s.takeJoint(r, take)
		margin = 18
	default:
		for i := range s.m.table.Rows {
			r := &s.m.table.Rows[i]
			take(plane.Point{X: r.Rear, Z: r.Top})
			take(r.Pose.Apply(plane.Point{}))
		}
		for _, p := range s.partPoses(r) {
			for _, u := range p.outline {
				take(p.pose.Apply(u))
			}
		}
		if s.sight == seeWhole {
			take(plane.Point{X: -drawnWheel - 60, Z: 0})
			take(plane.Point{X: 0, Z: s.m.car.RoofHeight})
			margin = 40
		}
	}
	width, height := hi.X-lo.X+2*margin, hi.Z-lo.Z+2*margin
	s.scale = max(width/float64(2*s.W), height/float64(4*s.H))
	s.x0 = (lo.X+hi.X)/2 - s.scale*float64(s.W)
	s.z1 = (lo.Z+hi.Z)/2 + s.scale*float64(2*s.H)
}

// takeJoint takes what a close view of a joint must show: the holes that its bolts can go through, and
// of the wing's joint the wing at every angle that it can have with the joints below as they are.
func (s *scene) takeJoint(r *model.Row, take func(plane.Point)) {
	parts := s.partPoses(r)
	pose := parts[s.joint].pose
	for _, h := range parts[s.joint].part.Holes {
		if h.Joint == "" || h.Joint == s.m.car.Joints[s.joint].Name {
			take(pose.Apply(h.At()))
		}
	}
	if d, ok := s.m.drilling(); ok && d.hole.Part == s.joint {
		take(pose.Apply(d.hole.At()))
	}
	if s.joint < len(s.m.car.Joints)-1 || s.m.grid == nil {
		upper := parts[s.joint+1]
		for _, h := range upper.part.Holes {
			if h.Joint == "" || h.Joint == s.m.car.Joints[s.joint].Name {
				take(upper.pose.Apply(h.At()))
			}
		}
		return
	}
	chord := s.m.car.Wing.Chord
	thick := chord / 8
	for _, c := range s.m.grid.Columns {
		for _, f := range [2]plane.Pose{c.Fits[0].Pose, c.Fits[len(c.Fits)-1].Pose} {
			wing := pose.Then(f)
			for _, u := range [4]plane.Point{{X: 0}, {X: chord}, {X: chord / 3, Z: -thick}, {X: chord / 3, Z: thick / 2}} {
				take(wing.Apply(u))
			}
		}
	}
}

// car draws ground and rear wheel.
func (s *scene) car() {
	left, right := s.x0, s.x0+2*float64(s.W)*s.scale
	s.stroke(plane.Point{X: left}, plane.Point{X: right}, inkCar, 1)
	s.disc(plane.Point{Z: drawnWheel}, drawnWheel, inkTyre)
	s.disc(plane.Point{Z: drawnWheel}, drawnWheel*0.62, inkCar)
	s.text(plane.Point{X: -4 * s.scale, Z: drawnWheel}, "wheel", inkCar)
	z := s.m.car.RoofHeight
	if s.m.car.Body == nil { // the roof is all that is known of the body
		s.stroke(plane.Point{X: left, Z: z}, plane.Point{X: right, Z: z}, inkCar, 4)
		s.text(plane.Point{X: left, Z: z}, "roof", inkCar)
	}
}

// body draws the body's side profile, and the lid where it stands.
func (s *scene) body() {
	around := s.m.car.Surroundings()
	if around.Body != nil {
		s.solid(plane.Pose{}, around.Body, inkCar)
	}
	if around.Lid.Outline != nil {
		lid := around.Lid.Opened(math.Copysign(s.m.lid, around.Lid.Open))
		s.solid(plane.Pose{}, lid, inkBracket)
	}
}

// lidText says how far the lid is drawn open, and how far it opens with the setting.
func (s *scene) lidText() {
	around := s.m.car.Surroundings()
	if around.Lid.Outline == nil || s.m.row() == nil {
		return
	}
	text := "lid shut"
	if s.m.lid > 0 {
		text = "lid " + units.Fixed(s.m.lid/plane.Deg, 0) + "° open"
	}
	if o := s.m.row().Gap.Lid; o.Stop != "" && s.W > 36 {
		text += ", opens to " + units.Fixed(math.Floor(o.To/plane.Deg), 0) + "°"
	}
	lid := around.Lid.Opened(math.Copysign(s.m.lid, around.Lid.Open))
	middle := plane.Point{}
	for _, p := range lid {
		middle = middle.Add(p.Times(1 / float64(len(lid))))
	}
	x, y := s.cellAt(middle)
	if x >= 0 && x < s.W && y >= 0 && y < s.H {
		_ = s.textIn(x-len(text)/2, y+1, text, inkCar) || s.textIn(x-len(text)/2, y-1, text, inkCar)
	}
}

// limits draws the limits of top and rear as lines with their names.
func (s *scene) limits() {
	left, right := s.x0, s.x0+2*float64(s.W)*s.scale
	bottom := s.z1 - 4*float64(s.H)*s.scale
	u := s.m.units
	if s.H < 8 {
		return // there is no room for names
	}
	if top, ok := s.m.car.Limits.Top.Get(); ok {
		s.stroke(plane.Point{X: left, Z: top}, plane.Point{X: right, Z: top}, inkLimit, 2)
		if x, y := s.cellAt(plane.Point{X: left, Z: top}); y >= 0 && y < s.H {
			s.textIn(x, y, "top limit "+u.LengthFigure(top), inkLimit)
		} else if y < 0 {
			s.textIn(0, 0, "top limit "+u.LengthFigure(top)+" ↑", inkLimit)
		}
	}
	if rear, ok := s.m.car.Limits.Rear.Get(); ok {
		s.stroke(plane.Point{X: rear, Z: bottom}, plane.Point{X: rear, Z: s.z1}, inkLimit, 2)
		text := "rear limit " + u.LengthFigure(rear)
		if x, _ := s.cellAt(plane.Point{X: rear, Z: bottom}); x >= s.W {
			s.textIn(s.W-len([]rune(text))-2, s.H-1, text+" →", inkLimit)
		} else {
			s.textIn(x-len(text)-1, s.H-2, text, inkLimit)
		}
	}
}

// angle draws the level line through the trailing edge's side of the wing, the chord line, and writes the
// angle between them.
func (s *scene) angle(r *model.Row) {
	if s.sight != seeJoint || s.joint < len(s.m.car.Joints)-1 {
		return
	}
	chord := s.m.car.Wing.Chord
	nose, tail := r.Pose.Apply(plane.Point{}), r.Pose.Apply(plane.Point{X: chord})
	reach := 12 * s.scale
	level := plane.Point{X: tail.X + reach, Z: nose.Z}
	s.stroke(nose, level, inkAngle, 3)
	on := tail.Add(tail.Sub(nose).Times(reach / chord))
	s.stroke(tail, on, inkAngle, 3)
	text := units.Fixed(r.Angle/plane.Deg, 1) + "°"
	x, y := s.cellAt(plane.Point{X: tail.X + reach, Z: (nose.Z + on.Z) / 2})
	x = min(x+1, s.W-len([]rune(text)))
	for _, off := range [5]int{0, 1, -1, 2, -2} {
		if s.Free(x, y+off, len([]rune(text))) {
			s.Label(x, y+off, text, inkAngle)
			break
		}
	}
	lx, ly := s.cellAt(level)
	s.textIn(min(lx+1, s.W-6), ly, "level", inkCar)
}

// ruler says how large the picture is.
func (s *scene) ruler() {
	cell := 2 * s.scale
	unit := s.m.units.LengthSize()
	for _, length := range []float64{1, 2, 5, 10, 20, 50, 100, 200, 500, 1000} {
		if n := int(math.Round(length * unit / cell)); n >= 4 && length*unit >= 10 {
			bar := "├"
			for range n - 2 {
				bar += "─"
			}
			s.textIn(0, s.H-1, fmt.Sprintf("%s┤ %.0f %s", bar, length, s.m.units.LengthUnit()), inkCar)
			return
		}
	}
}

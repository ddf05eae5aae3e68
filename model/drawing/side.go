package drawing

import (
	"fmt"
	"math"
	"time"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/figures"
	"stanchion/model/units"
	"stanchion/model/words"
)

// How wide and high the picture of a setting is at most with its dimensions, mm: with two joints and the text below it makes one
// sheet of A4 or Letter.
const (
	sideWidth  = 178.0
	sideHeight = 105.0
)

// scales are what pictures that are not at their own size are drawn at, 1 to each.
var scales = []float64{1, 2, 5, 10, 15, 20, 25, 50}

// scaleFor is the first of some scales at which a size in mm fits into room mm.
func scaleFor(scales []float64, w, h, roomW, roomH float64) float64 {
	for _, s := range scales {
		if w/s <= roomW && h/s <= roomH {
			return s
		}
	}
	return scales[len(scales)-1]
}

// Side draws one setting from the side to scale: body and shut lid, parts with their
// holes and bolts, wing and end plate, with its height, top and angle, and how to
// bolt it in words. from, when it is not nil, is the setting that it comes from: its wing is drawn as a thin
// line, and what changes is said.
func Side(t *model.Table, r, from *model.Row, date time.Time, u units.System) *Drawing {
	d, s := sidePicture(t, r, from, u, sideWidth, sideHeight)
	d.Blocks = []Block{{picture: details(t, r)}, d.sayBelow(t, r, from, s, date)}
	return d
}

// sidePicture is the picture of Side alone, at most so many mm wide and high with its dimensions, and its scale, 1 to s.
func sidePicture(t *model.Table, r, from *model.Row, u units.System, wide, high float64) (d *Drawing, s float64) {
	c := t.Car
	d = &Drawing{Title: visible(c.Name + ": setting " + t.Name(r.Setting)), units: u}
	var box Drawing
	around := c.Surroundings()
	body, lid := around.Body, around.Lid.Outline
	poses := c.PartPoses(r.Setting)
	section, known := c.Wing.Outline()
	box.take(plane.Point{X: -350}, plane.Point{X: 350})
	box.take(r.Pose.ApplyAll(section)...)
	box.take(r.Pose.ApplyAll(c.Wing.PlateOutline())...)
	if from != nil {
		box.take(from.Pose.ApplyAll(section)...)
	}
	box.take(body...)
	for i, p := range c.Parts[:len(c.Parts)-1] {
		box.take(poses[i].ApplyAll(p.Outline)...)
		for _, h := range p.Holes {
			box.take(poses[i].Apply(h.At()))
		}
	}
	s = scaleFor(scales, box.hi.X-box.lo.X+200, box.hi.Z-box.lo.Z, wide-32, high)
	at := func(p plane.Point) plane.Point { return plane.Point{X: p.X / s, Z: p.Z / s} }
	shape := func(points []plane.Point, pen Pen) {
		var q []plane.Point
		for _, p := range points {
			q = append(q, at(p))
		}
		d.path(Path{Points: q, Closed: true, Pen: pen})
	}
	shape(body, Faint)
	shape(lid, Faint)
	d.line(at(plane.Point{X: box.lo.X - 100}), at(plane.Point{X: box.hi.X + 100}), Faint)
	d.circle(at(plane.Point{Z: 315}), 315/s, Faint)
	for i, p := range c.Parts[:len(c.Parts)-1] {
		for _, r := range p.Rings() {
			shape(poses[i].ApplyAll(r), Outline)
		}
		for _, h := range p.Holes {
			if h.Slot == "" {
				d.circle(at(poses[i].Apply(h.At())), h.D/2/s, Hole)
			}
		}
		for _, slot := range p.Slots {
			edge := slotPath(slot, Hole)
			for k, q := range edge.Points {
				edge.Points[k] = at(poses[i].Apply(q))
			}
			d.path(edge)
		}
	}
	for j, f := range r.Fits {
		for _, q := range f.Pairs {
			h := c.Parts[j].Holes[q.Lower]
			k := at(poses[j].Apply(h.At()))
			d.Circles = append(d.Circles, Circle{Centre: k, Radius: 8 / s, Filled: true, Pen: Bold})
		}
	}
	if from != nil {
		shape(from.Pose.ApplyAll(section), Centre)
	}
	shape(r.Pose.ApplyAll(c.Wing.PlateOutline()), Faint)
	shape(r.Pose.ApplyAll(section), Bold)
	d.settingDimensions(r, at, box.hi)
	d.angle(t, r, at)
	var k ink
	k.add(d)
	d.beside(&k, at(plane.Point{Z: 315}), 1, textSize, Faint, "rear wheel, not measured")
	nose := r.Pose.Apply(plane.Point{})
	if from != nil {
		d.beside(&k, at(from.Pose.Apply(plane.Point{})), 2, textSize, Note, "from "+t.Name(from.Setting))
	}
	if !known {
		d.beside(&k, at(nose), 2, textSize, Note, standInShort)
	}
	return d, s
}

// angle draws the wing's chord line against the level through its nose, both drawn out behind it, with the angle between.
func (d *Drawing) angle(t *model.Table, r *model.Row, at func(plane.Point) plane.Point) {
	const out = 1.9 // chords
	chord := t.Car.Wing.Chord
	nose, tail := r.Pose.Apply(plane.Point{}), r.Pose.Apply(plane.Point{X: chord * out})
	d.line(at(nose), at(tail), Centre)
	d.line(at(nose), at(nose.Add(plane.Point{X: chord * out})), Centre)
	arc := func(angle float64) plane.Point {
		return at(nose.Add(plane.Pose{Turn: angle}.Apply(plane.Point{X: chord * (out - 0.15)})))
	}
	if math.Abs(r.Angle) > 0.2*plane.Deg {
		d.path(Path{Points: []plane.Point{arc(0), arc(r.Angle)}, Bulges: []float64{math.Tan(r.Angle / 4), 0}, Pen: Dimension})
	}
	var k ink
	k.add(d)
	d.beside(&k, arc(r.Angle/2), 1.2, textSize, Dimension, units.Fixed(r.Angle/plane.Deg, 1)+"°")
}

// settingDimensions draws how high the wing is, behind the car.
func (d *Drawing) settingDimensions(r *model.Row, at func(plane.Point) plane.Point, hi plane.Point) {
	x := hi.X
	for i, m := range []struct {
		what string
		z, x float64
	}{{"quarter chord", r.Height, r.X}, {"top", r.Top, r.Rear}} {
		foot, head := at(plane.Point{X: x}), at(plane.Point{X: x, Z: m.z})
		off := 12 + 14*float64(i)
		foot.X, head.X = foot.X+off, head.X+off
		d.line(foot, head, Dimension)
		d.line(at(plane.Point{X: m.x, Z: m.z}), plane.Point{X: head.X + 2, Z: head.Z}, Dimension)
		d.line(plane.Point{X: foot.X - 1.5, Z: foot.Z - 1.5}, plane.Point{X: foot.X + 1.5, Z: foot.Z + 1.5}, Dimension)
		d.line(plane.Point{X: head.X - 1.5, Z: head.Z - 1.5}, plane.Point{X: head.X + 1.5, Z: head.Z + 1.5}, Dimension)
		text := m.what + " " + d.units.Length(m.z)
		if textWidth(text, textSize) > head.Z-foot.Z-2 { // in a small picture
			text = d.units.Length(m.z)
		}
		d.write(Text{At: plane.Point{X: head.X - 1, Z: (foot.Z + head.Z) / 2}, Size: textSize, Anchor: 1, Up: true, Pen: Dimension, Text: text})
	}
}

// sayBelow writes the setting's figures and bolts, to stand below the picture.
func (d *Drawing) sayBelow(t *model.Table, r, from *model.Row, scale float64, date time.Time) Block {
	var b Block
	say := func(size float64, format string, args ...any) { b.say(size, sideWidth, fmt.Sprintf(format, args...)) }
	say(3.5, "%s, setting %s", t.Car.Name, t.Name(r.Setting))
	say(textSize, "scale 1:%.0f; front is left; %s, by stanchion", scale, date.Format("2006-01-02"))
	if _, known := t.Car.Wing.Outline(); !known {
		say(textSize, "%s", standInSide)
	}
	for _, l := range words.BoltLines(t.Car, r.Setting) {
		say(textSize, "%s", l)
	}
	say(textSize*0.9, "id in files: %s", r.ID)
	figure := func(k figures.Key) string { return words.LongFigure(t, r, figures.Get(k), d.units) }
	say(textSize, "chord line at %s to the ground; at %s downforce %s, drag %s, front share %s",
		figure(figures.GroundAngle), d.units.Speed(t.Speed), figure(figures.Downforce), figure(figures.Drag), figure(figures.FrontShare))
	if from != nil {
		for _, l := range words.Changes(t, from, r, d.units) {
			say(textSize, "%s", l)
		}
	}
	if r.Gap.Known() {
		say(textSize, "clearance: %s", words.Gap(r.Gap, d.units))
	}
	for _, o := range words.Outside(r, d.units) {
		say(textSize, "OUTSIDE: %s", o)
	}
	for _, a := range t.Car.Assumed {
		say(textSize*0.9, "assumed: %s: %s", a.What, a.Value)
	}
	say(textSize, "An estimate for choosing a setting, not approval of the wing or its mounting.")
	return b
}

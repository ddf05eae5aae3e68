package drawing

import (
	"fmt"
	"math"
	"strconv"
	"time"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/figures"
	"stanchion/model/units"
	"stanchion/model/words"
)

// scales are what pictures that are not at their own size are drawn at, 1 to each.
var scales = []float64{1, 2, 5, 10, 20, 50}

// scaleFor is the first scale at which a size in mm fits into room mm.
func scaleFor(w, h, roomW, roomH float64) float64 {
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
	c := t.Car
	d := &Drawing{Title: visible(c.Name + ": setting " + t.Name(r.Setting)), units: u}
	var box Drawing
	around := c.Surroundings()
	body, lid := around.Body, around.Lid.Outline
	poses := c.PartPoses(r.Setting)
	section, _ := c.Wing.Outline()
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
	s := scaleFor(box.hi.X-box.lo.X, box.hi.Z-box.lo.Z, 170, 150)
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
	d.text(at(plane.Point{Z: 315}), textSize, 1, Faint, "rear wheel, not measured")
	for i, p := range c.Parts[:len(c.Parts)-1] {
		for _, r := range p.Rings() {
			shape(poses[i].ApplyAll(r), Outline)
		}
		for _, h := range p.Holes {
			d.circle(at(poses[i].Apply(h.At())), h.D/2/s, Hole)
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
		nose := at(from.Pose.Apply(plane.Point{}))
		d.text(plane.Point{X: nose.X - 2, Z: nose.Z}, textSize, 2, Note, "from "+t.Name(from.Setting))
	}
	shape(r.Pose.ApplyAll(c.Wing.PlateOutline()), Faint)
	shape(r.Pose.ApplyAll(section), Bold)
	d.line(at(r.Pose.Apply(plane.Point{})), at(r.Pose.Apply(plane.Point{X: c.Wing.Chord})), Centre)
	d.settingDimensions(r, at, box.hi)
	d.sayBelow(t, r, from, s, date)
	return d
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
		d.write(Text{At: plane.Point{X: head.X - 1, Z: (foot.Z + head.Z) / 2}, Size: textSize, Anchor: 1, Up: true, Pen: Dimension,
			Text: m.what + " " + d.units.Length(m.z)})
	}
}

// sayBelow writes the setting's figures and bolts below the picture.
func (d *Drawing) sayBelow(t *model.Table, r, from *model.Row, scale float64, date time.Time) {
	lo, _ := d.Bounds()
	z := lo.Z - 8
	say := func(size float64, format string, args ...any) {
		d.text(plane.Point{X: lo.X, Z: z}, size, 0, Note, fmt.Sprintf(format, args...))
		z -= 1.6 * size
	}
	say(3.5, "%s, setting %s", t.Car.Name, t.Name(r.Setting))
	say(textSize, "scale 1:%.0f; front is left; %s, by stanchion", scale, date.Format("2006-01-02"))
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
}

// Map draws all settings over angle and height, with a mark for those that are
// within the limits, and one that is chosen, and lists them.
func Map(t *model.Table, chosen string, date time.Time, u units.System) *Drawing {
	d := &Drawing{Title: visible(t.Car.Name + ": settings"), units: u}
	const w, h = 150.0, 100.0
	lo, hi := plane.Point{X: math.Inf(1), Z: math.Inf(1)}, plane.Point{X: math.Inf(-1), Z: math.Inf(-1)}
	for i := range t.Rows {
		r := &t.Rows[i]
		lo = plane.Point{X: min(lo.X, r.Angle/plane.Deg), Z: min(lo.Z, r.Height)}
		hi = plane.Point{X: max(hi.X, r.Angle/plane.Deg), Z: max(hi.Z, r.Height)}
	}
	if len(t.Rows) == 0 {
		lo, hi = plane.Point{}, plane.Point{X: 1, Z: 1}
	}
	spanX, spanZ := max(hi.X-lo.X, 1), max(hi.Z-lo.Z, 10)
	at := func(angle, height float64) plane.Point {
		return plane.Point{X: 8 + (angle-lo.X)/spanX*(w-16), Z: 8 + (height-lo.Z)/spanZ*(h-16)}
	}
	d.axes(lo, plane.Point{X: lo.X + spanX, Z: lo.Z + spanZ}, w, h, at)
	numbered := len(t.Rows) <= 80
	within := 0
	for i := range t.Rows {
		r := &t.Rows[i]
		p := at(r.Angle/plane.Deg, r.Height)
		if r.Within() {
			within++
			d.Circles = append(d.Circles, Circle{Centre: p, Radius: 1.1, Filled: true, Pen: Outline})
		} else {
			d.line(plane.Point{X: p.X - 1.1, Z: p.Z - 1.1}, plane.Point{X: p.X + 1.1, Z: p.Z + 1.1}, Hole)
			d.line(plane.Point{X: p.X - 1.1, Z: p.Z + 1.1}, plane.Point{X: p.X + 1.1, Z: p.Z - 1.1}, Hole)
		}
		if r.ID == chosen {
			d.circle(p, 2.4, Bold)
		}
		if numbered {
			d.text(plane.Point{X: p.X + 1.4, Z: p.Z + 0.8}, 2, 0, Dimension, fmt.Sprint(i+1))
		}
	}
	d.legend(t, within, numbered, date)
	return d
}

// axes draws the frame of a map of w by h mm, with angles in degrees and heights in mm between lo
// and hi; at is where they lie on it.
func (d *Drawing) axes(lo, hi plane.Point, w, h float64, at func(angle, height float64) plane.Point) {
	d.path(Path{Points: []plane.Point{{}, {X: w}, {X: w, Z: h}, {Z: h}}, Closed: true, Pen: Faint})
	for _, v := range ticks(lo.X, hi.X) {
		x := at(v, lo.Z).X
		d.line(plane.Point{X: x}, plane.Point{X: x, Z: -2}, Dimension)
		d.text(plane.Point{X: x, Z: -5.5}, textSize, 1, Dimension, units.Fixed(v, 1)+"°")
	}
	unit := d.units.LengthSize()
	for _, v := range ticks(lo.Z/unit, hi.Z/unit) {
		z := at(lo.X, v*unit).Z
		d.line(plane.Point{Z: z}, plane.Point{X: -2, Z: z}, Dimension)
		d.text(plane.Point{X: -3, Z: z - 1}, textSize, 2, Dimension, strconv.FormatFloat(v, 'f', -1, 64))
	}
	d.text(plane.Point{X: w / 2, Z: -10}, textSize, 1, Dimension, "angle to level ground")
	d.text(plane.Point{Z: h + 2}, textSize, 0, Dimension, "height, "+d.units.LengthUnit())
}

// legend writes what a map shows below it, with the settings when their marks are numbered.
func (d *Drawing) legend(t *model.Table, within int, numbered bool, date time.Time) {
	u := d.units
	z := -18.0
	say := func(size float64, format string, args ...any) {
		d.text(plane.Point{Z: z}, size, 0, Note, fmt.Sprintf(format, args...))
		z -= 1.6 * size
	}
	say(3.5, "%s: %d settings, %d within all limits, at %s", t.Car.Name, len(t.Rows), within, d.units.Speed(t.Speed))
	say(textSize, "dots are within all limits, crosses are not; %s, by stanchion", date.Format("2006-01-02"))
	if numbered {
		say(textSize, "no.  height  angle  downforce  front share  setting")
		for i := range t.Rows {
			r := &t.Rows[i]
			say(textSize*0.9, "%d.  %s  %s°  %s %s  %s %%  %s", i+1, u.Length(r.Height), units.Fixed(r.Angle/plane.Deg, 1),
				u.ForceFigure(r.Downforce), u.ForceUnit(), units.Fixed(100*r.Share, 1), t.Name(r.Setting))
		}
	}
	for _, a := range t.Car.Assumed {
		say(textSize*0.9, "assumed: %s: %s", a.What, a.Value)
	}
	say(textSize, "Estimates for choosing a setting, not approval of the wing or its mounting.")
}

// ticks are round values from lo to hi, about six of them.
func ticks(lo, hi float64) []float64 {
	step := math.Pow(10, math.Floor(math.Log10((hi-lo)/6)))
	for _, m := range []float64{1, 2, 5, 10} {
		if (hi-lo)/(step*m) <= 7 {
			step *= m
			break
		}
	}
	var all []float64
	for v := math.Ceil(lo/step-1e-9) * step; v <= hi+1e-9; v += step {
		all = append(all, v+0)
	}
	return all
}

package drawing

import (
	"fmt"
	"math"
	"sort"
	"time"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/units"
)

// Part draws a part of a car at its own size: outline, cut-outs, holes with centre marks and
// ids, dimensions from datum lines, and a table of the holes. New holes are drawn
// apart from those of the file. The date stands in the title. Table and title lie
// where the drawing then takes fewer pages.
func Part(c *model.Car, index int, fresh []holes.Hole, date time.Time, u units.System) *Drawing {
	beside, below := part(c, index, fresh, date, u, false), part(c, index, fresh, date, u, true)
	pages := func(d *Drawing) int { l := d.Layout(Papers[0]); return l.Across * l.Down }
	if pages(below) < pages(beside) {
		return below
	}
	return beside
}

func part(c *model.Car, index int, fresh []holes.Hole, date time.Time, u units.System, under bool) *Drawing {
	p := c.Parts[index].AsDrawn()
	d := &Drawing{Title: visible(c.Name + ": " + p.Name), units: u}
	if p.Outline != nil {
		for _, r := range p.Rings() {
			d.path(Path{Points: r, Closed: true, Pen: Outline})
		}
	} else if index == len(c.Parts)-1 {
		section, _ := c.Wing.Outline()
		d.path(Path{Points: section, Closed: true, Pen: Faint})
		d.line(plane.Point{}, plane.Point{X: c.Wing.Chord}, Faint)
	}
	rows := holeRows(p, fresh)
	for _, r := range rows {
		d.hole(r)
	}
	origin := datum(p, rows)
	d.origin()
	d.dimensions(rows, origin)
	lo, hi := d.Bounds()
	at := plane.Point{X: hi.X + 12, Z: hi.Z}
	if under {
		at = plane.Point{X: lo.X, Z: lo.Z - 6}
	}
	end := d.table(p, rows, origin, at)
	title := plane.Point{X: at.X, Z: min(end-8, lo.Z+40)}
	if under {
		title = plane.Point{X: at.X, Z: end - 8}
	}
	d.title(c, p, len(fresh), date, title)
	return d
}

// row is a hole or slot as the drawing and the table have it.
type row struct {
	id    string
	at    plane.Point
	d     float64
	slot  *holes.Slot
	joint string
	fresh bool
}

// holeRows lists a part's round holes, slots and new holes.
func holeRows(p model.Part, fresh []holes.Hole) []row {
	var all []row
	for _, h := range p.Holes {
		if h.Slot == "" {
			all = append(all, row{h.ID, h.At(), h.D, nil, h.Joint, false})
		}
	}
	for i := range p.Slots {
		s := &p.Slots[i]
		all = append(all, row{s.ID, s.At(), s.D, s, s.Joint, false})
	}
	for _, h := range fresh {
		all = append(all, row{h.ID, h.At(), h.D, nil, h.Joint, true})
	}
	return all
}

// datum is the corner that dimensions count from: the front and the lower edge of
// the outline, or the first hole.
func datum(p model.Part, rows []row) plane.Point {
	if len(p.Outline) == 0 {
		if len(rows) > 0 {
			return rows[0].at
		}
		return plane.Point{}
	}
	o := p.Outline[0]
	for _, u := range p.Outline {
		o = plane.Point{X: min(o.X, u.X), Z: min(o.Z, u.Z)}
	}
	return o
}

// hole draws one hole or slot with its centre marks and id.
func (d *Drawing) hole(r row) {
	pen := Hole
	if r.fresh {
		pen = NewHole
	}
	cross := func(at plane.Point) {
		l := r.d/2 + 2
		d.line(plane.Point{X: at.X - l, Z: at.Z}, plane.Point{X: at.X + l, Z: at.Z}, Centre)
		d.line(plane.Point{X: at.X, Z: at.Z - l}, plane.Point{X: at.X, Z: at.Z + l}, Centre)
	}
	cross(r.at)
	if r.slot != nil {
		d.path(slotPath(*r.slot, pen))
		cross(r.slot.Along(r.slot.Length()))
	} else {
		d.circle(r.at, r.d/2, pen)
		if r.fresh { // a second ring, so that it is told without colour
			d.Circles = append(d.Circles, Circle{Centre: r.at, Radius: r.d/2 + 1.5, Pen: Dimension})
		}
	}
	d.text(plane.Point{X: r.at.X + r.d/2 + 0.6, Z: r.at.Z + r.d/2 - 0.6}, 2.5, 0, Note, r.id)
}

// slotPath is the edge of a slot: two sides and two half circles.
func slotPath(s holes.Slot, pen Pen) Path {
	r, a, b := s.D/2, s.Along(0), s.Along(s.Length())
	if s.Turn == 0 {
		l := b.Distance(a)
		n := plane.Point{X: -(b.Z - a.Z) / l * r, Z: (b.X - a.X) / l * r}
		return Path{Closed: true, Pen: pen, Bulges: []float64{0, 1, 0, 1}, Points: []plane.Point{
			{X: a.X - n.X, Z: a.Z - n.Z}, {X: b.X - n.X, Z: b.Z - n.Z}, {X: b.X + n.X, Z: b.Z + n.Z}, {X: a.X + n.X, Z: a.Z + n.Z}}}
	}
	if s.Turn < 0 { // drawn the way that turns counter-clockwise
		a, b = b, a
	}
	side := math.Tan(math.Abs(s.Turn) / 4)
	out := func(p plane.Point, by float64) plane.Point {
		l := p.Distance(s.Centre)
		return plane.Point{X: p.X + (p.X-s.Centre.X)/l*by, Z: p.Z + (p.Z-s.Centre.Z)/l*by}
	}
	return Path{Closed: true, Pen: pen, Bulges: []float64{side, 1, -side, 1},
		Points: []plane.Point{out(a, r), out(b, r), out(b, -r), out(a, -r)}}
}

// origin marks the part's own origin.
func (d *Drawing) origin() {
	d.line(plane.Point{X: -3}, plane.Point{X: 3}, Dimension)
	d.line(plane.Point{Z: -3}, plane.Point{Z: 3}, Dimension)
}

// Layout of dimensions, mm.
const (
	textSize  = 2.5
	textSpace = 3.4 // between two texts side by side
)

// dimensions draws how far each hole is from the datum lines, with its name: x below
// the part, z in front of it. Nothing is drawn across the part but the two lines, so
// that no other line runs through a hole. Texts that would touch are moved apart.
func (d *Drawing) dimensions(rows []row, o plane.Point) {
	lo, hi := d.Bounds()
	base, side := lo.Z-4, lo.X-4
	d.line(plane.Point{X: o.X, Z: base - 8}, plane.Point{X: o.X, Z: hi.Z}, Faint)
	d.line(plane.Point{X: side - 8, Z: o.Z}, plane.Point{X: hi.X, Z: o.Z}, Faint)
	lines := func(of func(plane.Point) float64, zero float64, draw func(at, where float64, text string)) {
		names := map[float64]string{0: ""}
		place := map[float64]float64{0: zero}
		mark := func(u plane.Point, name string) {
			v := math.Round((of(u)-zero)*100) / 100
			if old := names[v]; old != "" {
				name = old + ", " + name
			}
			names[v], place[v] = name, of(u)
		}
		for _, r := range rows {
			mark(r.at, r.id)
			if r.slot != nil {
				mark(r.slot.Along(r.slot.Length()), r.id)
			}
		}
		var values []float64
		for v := range place {
			values = append(values, v)
		}
		sort.Float64s(values)
		for i, w := range spread(values, textSpace) {
			v := values[i]
			name := names[v]
			if n := []rune(name); len(n) > 16 {
				name = string(n[:15]) + "…"
			}
			if name != "" {
				name += ": "
			}
			draw(place[v], w+zero, name+d.units.DimensionFigure(v))
		}
	}
	lines(func(u plane.Point) float64 { return u.X }, o.X, func(at, where float64, text string) {
		d.line(plane.Point{X: at, Z: base}, plane.Point{X: at, Z: base - 4}, Dimension)
		d.line(plane.Point{X: at, Z: base - 4}, plane.Point{X: where, Z: base - 8}, Dimension)
		d.write(Text{At: plane.Point{X: where + textSize/3, Z: base - 9}, Size: textSize, Anchor: 2, Up: true, Text: text, Pen: Dimension})
	})
	lines(func(u plane.Point) float64 { return u.Z }, o.Z, func(at, where float64, text string) {
		d.line(plane.Point{X: side, Z: at}, plane.Point{X: side - 4, Z: at}, Dimension)
		d.line(plane.Point{X: side - 4, Z: at}, plane.Point{X: side - 8, Z: where}, Dimension)
		d.text(plane.Point{X: side - 9, Z: where - textSize/3}, textSize, 2, Dimension, text)
	})
}

// spread moves ascending values apart to at least a space, each as little as it
// takes.
func spread(values []float64, space float64) []float64 {
	out := append([]float64(nil), values...)
	for range 200 {
		moved := false
		for i := 1; i < len(out); i++ {
			if gap := out[i] - out[i-1]; gap < space-1e-6 {
				out[i-1] -= (space - gap) / 2
				out[i] += (space - gap) / 2
				moved = true
			}
		}
		if !moved {
			break
		}
	}
	return out
}

// table lists the holes, from a corner down, and returns where it ends.
func (d *Drawing) table(p model.Part, rows []row, o, at plane.Point) float64 {
	columns := []float64{0, 34, 50, 62}
	z := at.Z - 3
	line := func(cells ...string) {
		for i, c := range cells {
			if i < 4 {
				d.text(plane.Point{X: at.X + columns[i], Z: z}, textSize, min(i, 1)*2, Note, c)
			} else {
				d.text(plane.Point{X: at.X + 65, Z: z}, textSize, 0, Note, c)
			}
		}
		z -= 4
	}
	line("hole", "x", "z", "dia.", "")
	unit, fine := d.units.LengthUnit(), d.units.FineFigure
	line("", unit, unit, unit, "")
	for _, r := range rows {
		note := r.joint
		if r.slot != nil {
			end := r.slot.Along(r.slot.Length())
			note = fmt.Sprintf("slot to %s, %s", fine(end.X-o.X), fine(end.Z-o.Z))
			if r.slot.Turn != 0 {
				note += fmt.Sprintf(", arc of %.1f°, radius %s about %s, %s", math.Abs(r.slot.Turn)/plane.Deg,
					fine(r.at.Distance(r.slot.Centre)), fine(r.slot.Centre.X-o.X), fine(r.slot.Centre.Z-o.Z))
			}
		}
		if r.fresh {
			note = "NEW, not in the car file"
		}
		line(r.id, fine(r.at.X-o.X), fine(r.at.Z-o.Z), fine(r.d), note)
	}
	from := "x to the rear, z up, from the two thin lines: they touch the part at its foremost and its lowest point"
	if p.Outline == nil {
		from = "x to the rear, z up, from the first hole; the file has no outline"
	}
	line(from)
	line(fmt.Sprintf("the part's own origin, the small cross, is at %s, %s there", fine(-o.X), fine(-o.Z)))
	return z
}

// title says what is drawn.
func (d *Drawing) title(c *model.Car, p model.Part, fresh int, date time.Time, at plane.Point) {
	z := at.Z
	say := func(size float64, format string, args ...any) {
		d.text(plane.Point{X: at.X, Z: z}, size, 0, Note, fmt.Sprintf(format, args...))
		z -= 1.6 * size
	}
	say(4, "%s", p.Name)
	say(3, "%s", c.Name)
	if t, ok := p.Thickness.Get(); ok {
		say(textSize, "%s %s", d.units.Dimension(t), p.Material)
	}
	if n := len(p.Cutouts); n > 0 {
		say(textSize, "%s, drawn to size; the car file has the corners", units.Count(n, "cut-out"))
	}
	say(textSize, "scale 1:1, all in %s; front is left", d.units.LengthUnit())
	say(textSize, "%s, by stanchion", date.Format("2006-01-02"))
	if fresh > 0 {
		say(textSize, "new, not in the car file: broken line, double ring")
	}
	say(textSize, "Measure both 100 mm bars before drilling.")
	say(textSize, "Centre-punch and drill a template first.")
	say(textSize, "An estimate for planning, not approval.")
}

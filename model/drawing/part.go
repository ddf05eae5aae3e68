package drawing

import (
	"math"
	"time"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/units"
)

// Wanted is how a part is to be drawn.
type Wanted struct {
	Fresh    []holes.Hole // drawn apart from those of the file
	Date     time.Time    // in the title
	Units    units.System
	Decimals bool // inches as decimals everywhere
	plywood  bool // it is the template itself
}

// Part draws a part of a car at its own size: outline, cut-outs, holes with centre marks and
// ids, dimensions from datum lines, and a table of the holes. New holes are drawn
// apart from those of the file. The date stands in the title.
func Part(c *model.Car, index int, fresh []holes.Hole, date time.Time, u units.System) *Drawing {
	return Wanted{Fresh: fresh, Date: date, Units: u}.Part(c, index)
}

// Part draws a part as it is wanted.
func (w Wanted) Part(c *model.Car, index int) *Drawing {
	p := c.Parts[index].AsDrawn()
	d := &Drawing{Title: visible(c.Name + ": " + p.Name), units: w.Units, decimals: w.Decimals, Turns: true}
	standIn := false
	if p.Outline != nil {
		for _, r := range p.Rings() {
			d.path(Path{Points: r, Closed: true, Pen: Outline})
		}
	} else if index == len(c.Parts)-1 {
		section, known := c.Wing.Outline()
		standIn = !known
		d.path(Path{Points: section, Closed: true, Pen: Faint})
		d.line(plane.Point{}, plane.Point{X: c.Wing.Chord}, Faint)
	}
	rows := holeRows(p, w.Fresh)
	for _, r := range rows {
		d.hole(r)
	}
	origin := datum(p, rows)
	d.origin()
	d.dimensions(rows, origin)
	if p.Outline == nil {
		lo, hi := d.Bounds()
		d.ways(lo.Add(hi).Times(0.5))
	} else {
		d.ways(origin)
	}
	var k ink
	k.add(d)
	for _, r := range rows {
		d.beside(&k, r.at, r.d/2+0.7, textSize, Note, r.id)
	}
	if standIn {
		d.beside(&k, plane.Point{X: c.Wing.Chord / 2}, 0.5, textSize, Note, standInShort)
	}
	d.Blocks = []Block{d.table(p, rows, origin), d.title(c, p, w, standIn)}
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
		if s.Length() < samePlace { // one as long as nothing is a hole
			all = append(all, row{s.ID, s.At(), s.D, nil, s.Joint, false})
			continue
		}
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

// hole draws one hole or slot with its centre marks.
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
			d.circle(r.at, r.d/2+1.5, Dimension)
		}
	}
}

// ways marks which way the car's front is, and which is up, since a part may lie turned on paper: as near to a place
// as there is room outside of the part, or above it.
func (d *Drawing) ways(o plane.Point) {
	const long, room = 8.0, 1.0
	lo, hi := d.Bounds()
	front := textWidth("front", textSize)
	var k ink
	k.add(d)
	at := plane.Point{X: lo.X + front + long + 2, Z: hi.Z + 5}
	size := func(o plane.Point) box {
		return box{plane.Point{X: o.X - long - 1 - front - room, Z: o.Z - 2}, plane.Point{X: o.X + 3, Z: o.Z + long + 1 + textSize + room}}
	}
	nearest := math.Inf(1)
	for z := lo.Z + 2.0; z < hi.Z; z += 2 {
		for x := lo.X + long + front + 3; x < hi.X; x += 2 {
			p := plane.Point{X: x, Z: z}
			b := size(p)
			if off := p.Distance(o); off < nearest && (box{lo, hi}).holds(b) && k.free(b) && !d.within(b) {
				at, nearest = p, off
			}
		}
	}
	for _, w := range []plane.Point{{X: -1}, {Z: 1}} {
		tip := at.Add(w.Times(long))
		side := plane.Point{X: -w.Z, Z: w.X}
		d.line(at, tip, Dimension)
		for _, s := range []float64{0.8, -0.8} {
			d.line(tip, tip.Sub(w.Times(2.5)).Add(side.Times(s)), Dimension)
		}
	}
	d.text(plane.Point{X: at.X - long - 1, Z: at.Z - 0.9}, textSize, 2, Dimension, "front")
	d.text(plane.Point{X: at.X, Z: at.Z + long + 1}, textSize, 1, Dimension, "up")
}

// within reports whether a box lies inside of an outline.
func (d *Drawing) within(b box) bool {
	for _, p := range d.Paths {
		if p.Closed && p.Bulges == nil && plane.Inside(p.Points, b.lo) {
			return true
		}
	}
	return false
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

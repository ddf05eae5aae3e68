package guide

import (
	"math"
	"strconv"

	"stanchion/holes/plane"
	"stanchion/model/pattern"
	"stanchion/model/units"
)

// part draws one part: its holes as far as they are told, and the go that is being told.
func (d *drawing) part() {
	part, g := d.now.part-1, d.now.group
	all := d.a.holesOf(part, d.u)
	told := false
	for _, h := range all {
		told = told || h.group == g
		if d.far(h, g) {
			continue
		}
		d.hole(Disc{At: h.At(), D: h.D, Name: h.ID, Now: h.group == g && g > 0})
		if h.slot != nil {
			points := []plane.Point{}
			for i := range 13 {
				points = append(points, h.slot.Along(h.slot.Length()*float64(i)/12))
			}
			d.line(false, points...)
			d.hole(Disc{At: points[12], D: h.D, Now: h.group == g})
		}
	}
	if g == 0 {
		if len(all) == 0 {
			d.Guessed = true
			for _, p := range (pattern.Grid{Rows: 3, Columns: 2, Up: 80, Along: 60}).Points() {
				d.hole(Disc{At: p, D: 8.4, Faint: true})
			}
		}
		return
	}
	d.goes(part, g, all, told)
}

// far reports whether a hole is left out of the picture, so that the others are seen larger: one of
// another joint than the go that is told, unless a place is asked for from there.
func (d *drawing) far(h spot, g int) bool {
	joint := d.a.joint(d.now.part-1, g)
	return g > 0 && joint != "" && h.group != g && h.Joint != joint && d.now.Mark != MarkPlace && d.now.kind != aChoice && d.now.kind != somePlaces
}

// goes draws the go that is being told, as is usual where it is not answered yet, with its measures.
func (d *drawing) goes(part, g int, all []spot, told bool) {
	k := func(what string) string { return key(part+1, g, what) }
	diameter := d.a.diameter(part, d.u)
	span := func(what string, usual float64) float64 {
		if x, err := readSpan(d.a[k(what)], diameter, d.u); err == nil {
			return x
		}
		d.Guessed = true
		return usual
	}
	count := func(what string, usual int) []int {
		rows, err := whichRows(d.a[k(what)], maxRows)
		if err != nil {
			d.Guessed = true
			rows, _ = whichRows(strconv.Itoa(usual), maxRows)
		}
		return rows
	}
	base := plane.Point{}
	if len(all) > 0 {
		base = all[0].At()
	}
	at := func(what string, usual plane.Point) plane.Point {
		if len(all) == 0 || all[0].group == g {
			return plane.Point{}
		}
		for _, h := range all {
			if h.ID == d.a[k(what)] {
				return h.At()
			}
		}
		p, err := readPlace(d.a[k(what)], diameter, d.u)
		if err != nil {
			d.Guessed = true
			p = usual
		}
		p = base.Add(p)
		if d.now.Mark == MarkPlace {
			d.measure(MarkPlace, k(what), base, p)
		}
		return p
	}
	faint := func(p plane.Point) {
		if !told {
			d.hole(Disc{At: p, D: diameter, Faint: true})
		}
	}
	switch d.a[k("how")] {
	case byRows:
		rows, columns := count("rows", 4), count("columns", 2)
		up, along := span("up", 40*float64(len(rows)-1)), span("along", 60*float64(len(columns)-1))
		from := at("at", pt(0, 250))
		for _, z := range rowPlaces(rows, up) {
			for _, x := range rowPlaces(columns, along) {
				faint(from.Add(pt(x, z)))
			}
		}
		left, below := from.Add(pt(-25, 0)), from.Add(pt(0, -25))
		d.measure(MarkUp, k("up"), left, left.Add(pt(0, up)))
		d.measure(MarkAlong, k("along"), below, below.Add(pt(along, 0)))
	case byArc, byArcSlot:
		p := at("pivot", pt(0, 300))
		radius := span("radius", 120)
		list, err := arcAngles(d.a[k("angles")], radius, diameter, d.u)
		if err != nil {
			list = []float64{0, 5, 10}
			d.Guessed = true
		}
		for i := range list {
			list[i] *= plane.Deg
		}
		faint(p)
		arc := pattern.Arc(p, radius, list)
		for _, q := range arc {
			faint(q)
		}
		d.measure(MarkRadius, k("radius"), p, arc[0])
		last := arc[len(arc)-1]
		if d.now.Mark == MarkAngles {
			d.line(true, p, p.Add(pt(radius*1.15, 0)))
			d.measure(MarkAngles, k("angles"), p, last)
		}
	case bySlot:
		from, long, turn := at("at", pt(0, 250)), span("long", 40), 90.0
		if x, err := units.Angles.Parse(d.a[k("turn")], "deg"); err == nil && d.a[k("turn")] != "" {
			turn = x / plane.Deg
		}
		sin, cos := math.Sincos(turn * plane.Deg)
		to := from.Add(pt(long*cos, long*sin))
		faint(from)
		faint(to)
		d.measure(MarkSlot, k("long"), from.Add(pt(-20*sin, 20*cos)), to.Add(pt(-20*sin, 20*cos)))
	default:
		if len(all) == 0 { // nothing is known of it: three holes and a distance
			d.Guessed = true
			for _, p := range []plane.Point{pt(0, 0), pt(60, 0), pt(10, 70)} {
				d.hole(Disc{At: p, D: diameter, Faint: true})
			}
		}
	}
}

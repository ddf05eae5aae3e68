package drawing

import (
	"fmt"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
)

// How large the picture of a joint is at most, mm, and what is shown around its holes, mm on the car.
const (
	detailWidth  = 84.0
	detailHeight = 68.0
	detailAround = 22.0
	detailName   = 2.2 // size of the names of holes
)

// detailScales are what a joint is drawn at, 1 to each.
var detailScales = []float64{1, 1.5, 2, 2.5, 3, 4, 5, 7.5, 10, 20}

// details draws each joint of a setting larger, two beside one another, with the names of its holes.
func details(t *model.Table, r *model.Row) *Drawing {
	all := &Drawing{}
	z, low := 0.0, 0.0
	for j := range r.Fits {
		d := detail(t, r, j, detailWidth, detailHeight)
		lo, hi := d.Bounds()
		x := 0.0
		if j%2 == 1 {
			x = detailWidth + 8
		} else if j > 0 {
			z = low - 5
		}
		all.add(d, plane.Pose{X: x - lo.X, Z: z - hi.Z})
		low = min(low, z-(hi.Z-lo.Z))
	}
	return all
}

// detail draws a joint as it stands on the car: both parts around its holes, all holes that take its bolts in some setting with
// their names, and the bolts of this one filled, at most so many mm wide and high. At a bolt both names stand, the lower part's first.
func detail(t *model.Table, r *model.Row, j int, wide, high float64) *Drawing {
	c := t.Car
	poses := c.PartPoses(r.Setting)
	lower, upper := usedHoles(t, j)
	parts := [2]*model.Part{&c.Parts[j], &c.Parts[j+1]}
	var around Drawing
	for i, used := range []map[int]bool{lower, upper} {
		for k := range used {
			around.take(poses[j+i].Apply(parts[i].Holes[k].At()))
		}
	}
	view := boxAround(detailAround, around.lo, around.hi)
	size := view.hi.Sub(view.lo)
	s := scaleFor(detailScales, size.X, size.Z, wide, high)
	at := func(p plane.Point) plane.Point { return p.Sub(view.lo).Times(1 / s) }
	d := &Drawing{}
	frame := box{hi: size.Times(1 / s)}
	d.path(Path{Points: frame.corners(), Closed: true, Pen: Faint})
	for i, p := range parts {
		rings := p.Rings()
		pen := [2]Pen{Hole, Outline}[i]
		if rings == nil && j+1+i == len(c.Parts) {
			section, _ := c.Wing.Outline()
			rings, pen = [][]plane.Point{section}, Bold
		}
		for _, ring := range rings {
			for a, b := range plane.Edges(poses[j+i].ApplyAll(ring)) {
				d.clipped([2]plane.Point{at(a), at(b)}, frame, pen)
			}
		}
	}
	bolted := d.bolts(r.Fits[j].Pairs, parts, poses[j:], s, at)
	names := map[int]map[string]bool{0: {}, 1: {}}
	var labels []placedName
	for _, b := range bolted {
		labels = append(labels, placedName{b.at, b.r, b.names[0] + " + " + b.names[1], Bold})
		names[0][b.names[0]], names[1][b.names[1]] = true, true
	}
	for i, used := range []map[int]bool{lower, upper} {
		for k, h := range parts[i].Holes {
			if !used[k] || h.Slot != "" || names[i][h.ID] {
				continue
			}
			p := at(poses[j+i].Apply(h.At()))
			d.circle(p, h.D/2/s, [2]Pen{Hole, Centre}[i])
			labels = append(labels, placedName{p, h.D / 2 / s, h.ID, [2]Pen{Note, Dimension}[i]})
		}
		for _, slot := range parts[i].Slots {
			pen := [2]Pen{Hole, Centre}[i]
			for _, l := range slotPath(slot, pen).flat() {
				d.clipped([2]plane.Point{at(poses[j+i].Apply(l[0])), at(poses[j+i].Apply(l[1]))}, frame, pen)
			}
			p := at(poses[j+i].Apply(slot.At()))
			if !bolts(names[i], slot.ID) && frame.holds(boxAround(0, p)) {
				labels = append(labels, placedName{p, slot.D / 2 / s, slot.ID, [2]Pen{Note, Dimension}[i]})
			}
		}
	}
	var k ink
	k.add(d)
	for _, l := range labels {
		d.beside(&k, l.at, l.off+0.5, detailName, l.pen, l.text)
	}
	d.text(plane.Point{X: 0, Z: frame.hi.Z + 1.2}, textSize, 0, Note, fmt.Sprintf("%s: %s and %s, 1:%g, bolts filled", c.Joints[j].Name, parts[0].Name, parts[1].Name, s))
	return d
}

// placedName is a name that is to stand beside a place, off mm away.
type placedName struct {
	at   plane.Point
	off  float64
	text string
	pen  Pen
}

// usedHoles are the holes of both parts of a joint that take a bolt in some setting, by their index.
func usedHoles(t *model.Table, j int) (lower, upper map[int]bool) {
	lower, upper = map[int]bool{}, map[int]bool{}
	for i := range t.Rows {
		for _, q := range t.Rows[i].Fits[j].Pairs {
			lower[q.Lower], upper[q.Upper] = true, true
		}
	}
	return lower, upper
}

// bolt is a bolt as it is drawn: where, how wide, and which hole of either part it is in.
type bolt struct {
	at    plane.Point
	r     float64
	names [2]string
}

// bolts draws the bolts of a fit as filled circles.
func (d *Drawing) bolts(pairs []holes.Pair, parts [2]*model.Part, poses []plane.Pose, s float64, at func(plane.Point) plane.Point) (all []bolt) {
	for _, q := range pairs {
		l, u := parts[0].Holes[q.Lower], parts[1].Holes[q.Upper]
		b := bolt{at(poses[0].Apply(l.At())), min(l.D, u.D) / 2 / s, [2]string{l.ID, u.ID}}
		d.ring(Circle{Centre: b.at, Radius: b.r, Filled: true, Pen: Bold})
		all = append(all, b)
	}
	return all
}

// bolts reports whether a place along a slot is among names: "S@4".
func bolts(names map[string]bool, slot string) bool {
	for n := range names {
		if len(n) > len(slot) && n[:len(slot)+1] == slot+"@" || n == slot {
			return true
		}
	}
	return false
}

// clipped draws the part of a line that lies in a frame.
func (d *Drawing) clipped(l [2]plane.Point, frame box, pen Pen) {
	from, to, in := frame.clip(l)
	if !in {
		return
	}
	way := l[1].Sub(l[0])
	d.line(l[0].Add(way.Times(from)), l[0].Add(way.Times(to)), pen)
}

package drawing

import (
	"math"

	"stanchion/holes/plane"
)

// ink is where a drawing's lines and texts are, so that what is put beside them stands clear.
type ink struct {
	lines [][2]plane.Point
	texts [][]plane.Point // corners
}

func (k *ink) add(d *Drawing) {
	for _, p := range d.Paths {
		k.lines = append(k.lines, p.flat()...)
	}
	for _, c := range d.Circles {
		k.lines = append(k.lines, flatArc(c.Centre, c.Radius, 0, 2*math.Pi)...)
	}
	for _, t := range d.Texts {
		k.texts = append(k.texts, t.corners())
	}
}

// box is an upright rectangle.
type box struct{ lo, hi plane.Point }

// boxAround is the box around points, grown on every side.
func boxAround(by float64, ps ...plane.Point) box {
	lo, hi := plane.Box(ps)
	return box{plane.Point{X: lo.X - by, Z: lo.Z - by}, plane.Point{X: hi.X + by, Z: hi.Z + by}}
}

func (b box) meets(o box) bool {
	return b.lo.X < o.hi.X && o.lo.X < b.hi.X && b.lo.Z < o.hi.Z && o.lo.Z < b.hi.Z
}

func (b box) holds(o box) bool {
	return b.lo.X <= o.lo.X && o.hi.X <= b.hi.X && b.lo.Z <= o.lo.Z && o.hi.Z <= b.hi.Z
}

// crossed reports whether a line passes through the box. By clipping, Liang and Barsky (1984).
func (b box) crossed(l [2]plane.Point) bool {
	_, _, in := b.clip(l)
	return in
}

// clip returns the part of a line that lies within the box, as parts of its length.
func (b box) clip(l [2]plane.Point) (from, to float64, in bool) {
	from, to = 0, 1
	d := l[1].Sub(l[0])
	for _, e := range [][2]float64{{-d.X, l[0].X - b.lo.X}, {d.X, b.hi.X - l[0].X}, {-d.Z, l[0].Z - b.lo.Z}, {d.Z, b.hi.Z - l[0].Z}} {
		switch {
		case e[0] == 0 && e[1] <= 0:
			return 0, 0, false
		case e[0] < 0:
			from = max(from, e[1]/e[0])
		case e[0] > 0:
			to = min(to, e[1]/e[0])
		}
	}
	return from, to, from < to
}

// free reports whether nothing lies in the box.
func (k *ink) free(b box) bool { return k.freeOfTexts(b) && k.freeOfLines(b) }

func (k *ink) freeOfTexts(b box) bool {
	for _, t := range k.texts {
		if b.meets(boxAround(0, t...)) {
			return false
		}
	}
	return true
}

func (k *ink) freeOfLines(b box) bool {
	for _, l := range k.lines {
		if b.crossed(l) {
			return false
		}
	}
	return true
}

// beside writes a text by a place, off mm away from it or further, where it touches nothing; to the upper right
// where there is no such place. A thin line leads from the place to a text that is not next to it.
func (d *Drawing) beside(k *ink, at plane.Point, off, size float64, pen Pen, text string) {
	const clear, near = 0.35, 1.0
	text = visible(text)
	w, cap := textWidth(text, size), 0.73*size
	leader := func(b box) (l [2]plane.Point, far bool) {
		to := plane.Point{X: min(max(at.X, b.lo.X), b.hi.X), Z: min(max(at.Z, b.lo.Z), b.hi.Z)}
		way := to.Sub(at)
		if way.Length() < off+near {
			return l, false
		}
		return [2]plane.Point{at.Add(way.Times(off / way.Length())), to.Sub(way.Times(clear / way.Length()))}, true
	}
	spot, ok := placeAround(at, off, w, cap, 8, func(b box) bool {
		if !k.free(boxAround(clear, Text{At: b.lo, Size: size, Text: text}.corners()...)) {
			return false
		}
		l, far := leader(b)
		return !far || k.passes(l)
	})
	t := Text{At: spot, Size: size, Text: text, Pen: pen}
	if l, far := leader(box{spot, spot.Add(plane.Point{X: w, Z: cap})}); ok && far {
		d.line(l[0], l[1], Faint)
		k.lines = append(k.lines, l)
	}
	d.write(t)
	k.texts = append(k.texts, t.corners())
}

// passes reports whether a line crosses no text.
func (k *ink) passes(l [2]plane.Point) bool {
	for _, t := range k.texts {
		if boxAround(0.2, t...).crossed(l) {
			return false
		}
	}
	return true
}

// placeAround looks for a free place for a box of w by h mm beside a point, off mm away from it or further in so many rings, and
// returns its lower left corner; to the upper right where there is none.
func placeAround(at plane.Point, off, w, h float64, rings int, free func(box) bool) (corner plane.Point, ok bool) {
	var first plane.Point
	for ring := range rings {
		r := off + float64(ring)*2
		for i, q := range []float64{1, 3, -1, -3, 0, 4, 2, -2} { // eighths of a turn: the upper right first
			s, c := math.Sincos(q * math.Pi / 4)
			p := plane.Point{X: at.X + r*c, Z: at.Z + r*s} // the nearest corner or side of the box
			switch {
			case c < -0.1:
				p.X -= w
			case c < 0.1:
				p.X -= w / 2
			}
			switch {
			case s < -0.1:
				p.Z -= h
			case s < 0.1:
				p.Z -= h / 2
			}
			if ring == 0 && i == 0 {
				first = p
			}
			if free(box{p, p.Add(plane.Point{X: w, Z: h})}) {
				return p, true
			}
		}
	}
	return first, false
}

// raster is a sheet in cells of some mm, with the sums that tell at once whether a rectangle is free.
type raster struct {
	cell float64
	w, h int
	sum  []int32 // of the cells to the left and below, (w+1) by (h+1)
}

// newRaster marks what is inked within w by h mm from the origin; solid rings are filled.
func newRaster(w, h float64, k *ink, solid [][]plane.Point) *raster {
	const cell = 2.0
	r := &raster{cell: cell, w: int(math.Ceil(w / cell)), h: int(math.Ceil(h / cell))}
	used := make([]bool, r.w*r.h)
	mark := func(p plane.Point) {
		x, z := int(math.Floor(p.X/cell)), int(math.Floor(p.Z/cell))
		if x >= 0 && z >= 0 && x < r.w && z < r.h {
			used[z*r.w+x] = true
		}
	}
	line := func(l [2]plane.Point) {
		n := max(1, int(math.Ceil(l[0].Distance(l[1])/(cell/4))))
		for i := range n + 1 {
			mark(l[0].Add(l[1].Sub(l[0]).Times(float64(i) / float64(n))))
		}
	}
	for _, l := range k.lines {
		line(l)
	}
	for _, t := range k.texts {
		for a, b := range plane.Edges(t) {
			line([2]plane.Point{a, b})
		}
		line([2]plane.Point{t[0], t[2]})
	}
	for _, ring := range solid {
		lo, hi := plane.Box(ring)
		cells := func(v float64, n int) int { return max(0, min(n, int(math.Ceil(v/cell)))) }
		for z := cells(lo.Z-cell, r.h); z < cells(hi.Z, r.h); z++ {
			for x := cells(lo.X-cell, r.w); x < cells(hi.X, r.w); x++ {
				if !used[z*r.w+x] && plane.Inside(ring, plane.Point{X: (float64(x) + 0.5) * cell, Z: (float64(z) + 0.5) * cell}) {
					used[z*r.w+x] = true
				}
			}
		}
	}
	r.sum = make([]int32, (r.w+1)*(r.h+1))
	for z := range r.h {
		row := int32(0)
		for x := range r.w {
			if used[z*r.w+x] {
				row++
			}
			r.sum[(z+1)*(r.w+1)+x+1] = r.sum[z*(r.w+1)+x+1] + row
		}
	}
	return r
}

// free reports whether no cell of a box is inked.
func (r *raster) free(b box) bool {
	x0, z0 := max(0, int(math.Floor(b.lo.X/r.cell))), max(0, int(math.Floor(b.lo.Z/r.cell)))
	x1, z1 := min(r.w, int(math.Ceil(b.hi.X/r.cell))), min(r.h, int(math.Ceil(b.hi.Z/r.cell)))
	if x1 <= x0 || z1 <= z0 {
		return true
	}
	n := r.w + 1
	return r.sum[z1*n+x1]-r.sum[z0*n+x1]-r.sum[z1*n+x0]+r.sum[z0*n+x0] == 0
}

// room finds a place for a block of w by h mm within a box that is clear of all ink by a gap, and returns the
// block's lower left corner: as far up, then as far to the left as there is one.
func (r *raster) room(in box, w, h, gap float64) (at plane.Point, ok bool) {
	for z := in.hi.Z - h; z >= in.lo.Z-1e-9; z -= r.cell {
		for x := in.lo.X; x <= in.hi.X-w+1e-9; x += r.cell {
			if r.free(box{plane.Point{X: x - gap, Z: z - gap}, plane.Point{X: x + w + gap, Z: z + h + gap}}) {
				return plane.Point{X: x, Z: z}, true
			}
		}
	}
	return plane.Point{}, false
}

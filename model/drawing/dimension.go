package drawing

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"stanchion/holes/plane"
	"stanchion/model/units"
)

// Layout of dimensions, mm.
const (
	textSize  = 2.5
	textSpace = 3.4  // between two texts side by side
	nameWidth = 32.0 // of the names of holes in a dimension, before they go on below
)

// dimensions draws how far each hole is from the datum lines, with its name: x below
// the part, z in front of it. Nothing is drawn across the part but the two lines, so
// that no other line runs through a hole. Texts that would touch are moved apart.
func (d *Drawing) dimensions(rows []row, o plane.Point) {
	lo, hi := d.Bounds()
	base, side := lo.Z-4, lo.X-4
	heights := d.labels(rows, o.Z, func(u plane.Point) float64 { return u.Z })
	for _, l := range heights { // those along x stand clear of texts that were moved down
		base = min(base, l.line(0)-textSpace)
	}
	d.line(plane.Point{X: o.X, Z: base - 8}, plane.Point{X: o.X, Z: hi.Z}, Faint)
	d.line(plane.Point{X: side - 8, Z: o.Z}, plane.Point{X: hi.X, Z: o.Z}, Faint)
	for _, l := range d.labels(rows, o.X, func(u plane.Point) float64 { return u.X }) {
		d.line(plane.Point{X: l.at, Z: base}, plane.Point{X: l.at, Z: base - 4}, Dimension)
		d.line(plane.Point{X: l.at, Z: base - 4}, plane.Point{X: l.where, Z: base - 8}, Dimension)
		for i, text := range l.lines {
			d.write(Text{At: plane.Point{X: l.line(i) + textSize/3, Z: base - 9}, Size: textSize, Anchor: 2, Up: true, Text: text, Pen: Dimension})
		}
	}
	for _, l := range heights {
		d.line(plane.Point{X: side, Z: l.at}, plane.Point{X: side - 4, Z: l.at}, Dimension)
		d.line(plane.Point{X: side - 4, Z: l.at}, plane.Point{X: side - 8, Z: l.where}, Dimension)
		for i, text := range l.lines {
			d.text(plane.Point{X: side - 9, Z: 2*l.where - l.line(i) - textSize/3}, textSize, 2, Dimension, text)
		}
	}
}

// label is a dimension: its place along an axis, where its text stands, and the text's lines.
type label struct {
	at, where float64
	lines     []string
}

// line is where a line of the label's text stands along the axis, the first one lowest.
func (l label) line(i int) float64 {
	return l.where + (float64(i)-float64(len(l.lines)-1)/2)*textSpace
}

// labels are the dimensions along an axis, of holes that share one together; no name is left out.
func (d *Drawing) labels(rows []row, zero float64, of func(plane.Point) float64) []label {
	names, place := map[float64][]string{0: nil}, map[float64]float64{0: zero}
	mark := func(u plane.Point, name string) {
		v := math.Round((of(u)-zero)*100) / 100
		names[v], place[v] = append(names[v], name), of(u)
	}
	for _, r := range rows {
		mark(r.at, r.id)
		if r.slot != nil {
			mark(r.slot.Along(r.slot.Length()), r.id)
		}
	}
	var values, sizes []float64
	for v := range place {
		values = append(values, v)
	}
	sort.Float64s(values)
	var all []label
	for _, v := range values {
		text := d.dimension(v)
		if len(names[v]) > 0 {
			text = strings.Join(names[v], ", ") + ": " + text
		}
		l := label{at: place[v], lines: wrap(visible(text), textSize, nameWidth)}
		all, sizes = append(all, l), append(sizes, textSpace*float64(len(l.lines)))
	}
	for i, w := range spread(values, sizes) {
		all[i].where = w + zero
	}
	return all
}

// spread moves ascending values apart until each has its size around it, in all as little as it takes: least
// squares by pooling neighbours.
func spread(values, sizes []float64) []float64 {
	type pool struct {
		sum  float64 // of values less what lies before them
		n    int
		mean float64
	}
	before := make([]float64, len(values)) // of each, from the first
	var pools []pool
	for i, v := range values {
		if i > 0 {
			before[i] = before[i-1] + (sizes[i-1]+sizes[i])/2
		}
		p := pool{v - before[i], 1, v - before[i]}
		for len(pools) > 0 && pools[len(pools)-1].mean > p.mean {
			last := pools[len(pools)-1]
			pools = pools[:len(pools)-1]
			p.sum, p.n = p.sum+last.sum, p.n+last.n
			p.mean = p.sum / float64(p.n)
		}
		pools = append(pools, p)
	}
	out := make([]float64, 0, len(values))
	for _, p := range pools {
		for range p.n {
			out = append(out, p.mean+before[len(out)])
		}
	}
	return out
}

// dimension spells a distance, mm, for a dimension.
func (d *Drawing) dimension(mm float64) string {
	decimals := d.units.DimensionFigure(mm)
	if d.units.Inches() && !d.decimals {
		text, off, ok := fraction(mm)
		switch {
		case ok && off < exactly:
			return text
		case ok:
			return text + " (" + decimals + ")"
		}
	}
	return decimals
}

// fractionOff is by how much a fraction of an inch may be off at most, mm; beyond it the decimals stand alone. One that is off by more
// than exactly has them beside it.
const (
	fractionOff = 0.1
	exactly     = 0.0127 // half a thousandth of an inch
)

// fraction spells mm as inches to the nearest 64th, "1 5/8", with how far it is off, mm, and reports whether it is near enough.
func fraction(mm float64) (text string, off float64, ok bool) {
	n := int(math.Round(mm / units.Inch * 64))
	off = math.Abs(float64(n)/64*units.Inch - mm)
	if off > fractionOff {
		return "", off, false
	}
	sign := ""
	if n < 0 {
		sign, n = "−", -n
	}
	whole, over, under := n/64, n%64, 64
	for over > 0 && over%2 == 0 {
		over, under = over/2, under/2
	}
	switch {
	case over == 0:
		return fmt.Sprintf("%s%d", sign, whole), off, true
	case whole == 0:
		return fmt.Sprintf("%s%d/%d", sign, over, under), off, true
	}
	return fmt.Sprintf("%s%d %d/%d", sign, whole, over, under), off, true
}

package drawing

import (
	"math"

	"stanchion/holes/plane"
)

// Block is a table, a title or a picture that is kept whole and stands where a sheet has room. Its coordinates run to
// the right and up from its upper left corner. A picture has no rows.
type Block struct {
	rows    []blockRow
	head    int // rows that stand on top again where it must be parted
	picture *Drawing
}

// blockRow is a line of a block: texts from its base line.
type blockRow struct {
	texts  []Text
	height float64 // mm
}

// say adds lines of text, wrapped at a width.
func (b *Block) say(size, width float64, text string) {
	for _, l := range wrap(visible(text), size, width) {
		b.rows = append(b.rows, blockRow{[]Text{{Size: size, Text: l, Pen: Note}}, 1.6 * size})
	}
}

// cells adds a row of a table: the first text begins at its column, the others but the last end at theirs.
func (b *Block) cells(size float64, columns []float64, cells ...string) {
	r := blockRow{height: 1.6 * size}
	for i, c := range cells {
		if c == "" {
			continue
		}
		anchor := 2
		if i == 0 || i == len(columns)-1 {
			anchor = 0
		}
		r.texts = append(r.texts, Text{At: plane.Point{X: columns[i]}, Size: size, Anchor: anchor, Text: visible(c), Pen: Note})
	}
	b.rows = append(b.rows, r)
}

// drawn returns the block as drawings no higher than so many mm, where it can be parted: one where it fits.
func (b Block) drawn(most float64) []*Drawing {
	if b.picture != nil {
		return []*Drawing{b.picture}
	}
	var all []*Drawing
	var d *Drawing
	z := 0.0
	put := func(r blockRow) {
		z -= r.height
		for _, t := range r.texts {
			t.At.Z += z + letterDown*t.Size
			d.write(t)
		}
	}
	for _, r := range b.rows {
		if d == nil || -z+r.height > most && len(d.Texts) > b.head {
			d, z = &Drawing{}, 0
			all = append(all, d)
			if len(all) > 1 {
				for _, h := range b.rows[:b.head] {
					put(h)
				}
			}
		}
		put(r)
	}
	return all
}

// Whole returns the drawing with its blocks beside it, below one another, or below it where that makes it less long; for
// files that are no sheets of paper.
func (d *Drawing) Whole() *Drawing {
	if len(d.Blocks) == 0 {
		return d
	}
	const gap = 10.0
	lo, hi := d.Bounds()
	beside, below := d.turned(0), d.turned(0)
	at := plane.Point{X: hi.X + gap, Z: hi.Z}
	for _, b := range d.Blocks {
		at.Z -= beside.hang(b, at) + gap/2
	}
	at = plane.Point{X: lo.X, Z: lo.Z - gap}
	for _, b := range d.Blocks {
		at.Z -= below.hang(b, at) + gap/2
	}
	long := func(d *Drawing) float64 {
		lo, hi := d.Bounds()
		return max(hi.X-lo.X, hi.Z-lo.Z)
	}
	if !d.Turns || long(below) < long(beside) {
		return below
	}
	return beside
}

// hang adds a block with its upper left corner at a place, and returns how high it is.
func (d *Drawing) hang(b Block, at plane.Point) float64 {
	high := 0.0
	for _, p := range b.drawn(math.Inf(1)) {
		lo, hi := p.Bounds()
		d.add(p, plane.Pose{X: at.X - lo.X, Z: at.Z - hi.Z})
		high = hi.Z - lo.Z
	}
	return high
}

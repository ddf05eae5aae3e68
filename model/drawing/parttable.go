package drawing

import (
	"fmt"
	"math"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/units"
)

// How wide lines of a table's notes and of a title are, mm.
const (
	noteWidth  = 62.0
	titleWidth = 84.0
)

// standInShort and standIn say that a section is not the wing's own.
const (
	standInShort = "stand-in, not the wing's own section"
	standInLong  = "The wing's section is not known: drawn is a stand-in of usual thickness, symmetrical. Measure nothing from it but the holes."
	standInSide  = "The wing's section is not known: drawn is a stand-in of usual thickness, symmetrical."
)

// table lists the holes, from the datum lines.
func (d *Drawing) table(p model.Part, rows []row, o plane.Point) Block {
	var cells [][]string
	unit, fine := d.units.LengthUnit(), d.units.FineFigure
	cells = append(cells, []string{"hole", "x", "z", "dia.", ""}, []string{"", unit, unit, unit, ""})
	for _, r := range rows {
		cells = append(cells, []string{r.id, fine(r.at.X - o.X), fine(r.at.Z - o.Z), fine(r.d), d.note(r, o)})
	}
	columns := make([]float64, 5)
	widest := make([]float64, 4)
	for _, c := range cells {
		for i := range widest {
			widest[i] = max(widest[i], textWidth(visible(c[i]), textSize))
		}
	}
	for i := 1; i < 4; i++ { // these end at their column
		columns[i] = columns[i-1] + widest[i] + 4
		if i == 1 {
			columns[1] += widest[0]
		}
	}
	columns[4] = columns[3] + 3
	b := Block{head: 2}
	for i, c := range cells {
		notes := []string{""}
		if i >= b.head && c[4] != "" {
			notes = wrap(c[4], textSize, noteWidth)
		}
		b.cells(textSize, columns, c[0], c[1], c[2], c[3], notes[0])
		for _, n := range notes[1:] {
			b.cells(textSize, columns, "", "", "", "", n)
		}
	}
	from := "x to the rear, z up, from the two thin lines: they touch the part at its foremost and its lowest point"
	if p.Outline == nil {
		from = "x to the rear, z up, from the first hole; the file has no outline"
	}
	width := max(columns[4], titleWidth)
	b.say(textSize, width, from)
	b.say(textSize, width, fmt.Sprintf("the part's own origin, the small cross, is at %s, %s there", fine(-o.X), fine(-o.Z)))
	if d.units.Inches() && !d.decimals {
		b.say(textSize, width, fmt.Sprintf("at the part, inches are to the nearest 64th, with the decimals where it is not met and alone where it would be off by more than %s; the table is exact", d.units.Fine(fractionOff)))
	}
	return b
}

// note says what a hole is beside its place and size.
func (d *Drawing) note(r row, o plane.Point) string {
	fine := d.units.FineFigure
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
	return note
}

// title says what is drawn.
func (d *Drawing) title(c *model.Car, p model.Part, w Wanted, standIn bool) Block {
	var b Block
	say := func(size float64, format string, args ...any) { b.say(size, titleWidth, fmt.Sprintf(format, args...)) }
	say(4, "%s", p.Name)
	say(3, "%s", c.Name)
	for _, l := range Warnings(p, w.Fresh, d.units) {
		say(3, "WARNING: %s", l)
	}
	if standIn {
		say(3, "%s", standInLong)
	}
	if t, ok := p.Thickness.Get(); ok {
		say(textSize, "%s %s", d.units.Dimension(t), p.Material)
	}
	if n := len(p.Cutouts); n > 0 {
		say(textSize, "%s, drawn to size; the car file has the corners", units.Count(n, "cut-out"))
	}
	say(textSize, "scale 1:1, all in %s", d.units.LengthUnit())
	say(textSize, "%s, by stanchion", w.Date.Format("2006-01-02"))
	if len(w.Fresh) > 0 {
		say(textSize, "new, not in the car file: broken line, double ring")
	}
	say(textSize, "Measure both 100 mm bars before drilling.")
	if w.plywood {
		say(textSize, "Try it on the car before the plate is cut.")
	} else {
		say(textSize, "Centre-punch and drill a template first.")
	}
	say(textSize, "An estimate for planning, not approval.")
	return b
}

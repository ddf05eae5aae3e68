package drawing

import (
	"fmt"
	"math"
	"strconv"
	"time"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/units"
)

// Map draws all settings over angle and height, with a mark for those that are
// within the limits, and one that is chosen, and lists them.
func Map(t *model.Table, chosen string, date time.Time, u units.System) *Drawing {
	d := &Drawing{Title: visible(t.Car.Name + ": settings"), Picture: true, units: u}
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
	var marks []plane.Point
	for i := range t.Rows {
		r := &t.Rows[i]
		p := at(r.Angle/plane.Deg, r.Height)
		if r.Within() {
			within++
			d.ring(Circle{Centre: p, Radius: 1.1, Filled: true, Pen: Outline})
		} else {
			d.line(plane.Point{X: p.X - 1.1, Z: p.Z - 1.1}, plane.Point{X: p.X + 1.1, Z: p.Z + 1.1}, Hole)
			d.line(plane.Point{X: p.X - 1.1, Z: p.Z + 1.1}, plane.Point{X: p.X + 1.1, Z: p.Z - 1.1}, Hole)
		}
		if r.ID == chosen {
			d.circle(p, 2.4, Bold)
		}
		marks = append(marks, p)
	}
	if numbered {
		var k ink
		k.add(d)
		for i, p := range marks {
			d.beside(&k, p, 1.3, 2, Dimension, fmt.Sprint(i+1))
		}
	}
	d.Blocks = []Block{d.legend(t, within, numbered, date)}
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

// legend says what a map shows, with the settings when their marks are numbered.
func (d *Drawing) legend(t *model.Table, within int, numbered bool, date time.Time) Block {
	u := d.units
	var b Block
	say := func(size float64, format string, args ...any) { b.say(size, sideWidth, fmt.Sprintf(format, args...)) }
	say(3.5, "%s: %d settings, %d within all limits, at %s", t.Car.Name, len(t.Rows), within, d.units.Speed(t.Speed))
	say(textSize, "dots are within all limits, crosses are not; %s, by stanchion", date.Format("2006-01-02"))
	if numbered {
		b.tabulate(t, u)
	}
	for _, a := range t.Car.Assumed {
		say(textSize*0.9, "assumed: %s: %s", a.What, a.Value)
	}
	say(textSize, "Estimates for choosing a setting, not approval of the wing or its mounting.")
	return b
}

// tabulate lists the settings of a map by their numbers.
func (b *Block) tabulate(t *model.Table, u units.System) {
	columns := []float64{0, 22, 36, 58, 78, 82}
	b.cells(textSize, columns, "no.", "height", "angle", "downforce", "front share", "setting")
	b.head = len(b.rows)
	for i := range t.Rows {
		r := &t.Rows[i]
		b.cells(textSize*0.9, columns, fmt.Sprint(i+1), u.Length(r.Height), units.Fixed(r.Angle/plane.Deg, 1)+"°",
			u.ForceFigure(r.Downforce)+" "+u.ForceUnit(), units.Fixed(100*r.Share, 1)+" %", t.Name(r.Setting))
	}
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

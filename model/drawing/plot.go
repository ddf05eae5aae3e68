package drawing

import (
	"math"

	"stanchion/holes/plane"
	"stanchion/model/units"
)

// Series is a curve of a plot, in the units that are shown. Unc is one standard uncertainty of each Y, drawn either way; NaN or nil where
// there is none. A NaN in Y interrupts the curve.
type Series struct {
	Mark      string // what it is named at its end
	X, Y, Unc []float64
}

// Panel is what has one scale.
type Panel struct {
	Name, Unit string
	Series     []Series
}

// Plot is panels above one another over one scale.
type Plot struct {
	Title, X, XUnit string
	Panels          []Panel
	Below           []string // lines of text
}

const (
	plotWide, plotHigh = 165.0, 62.0 // mm, of a panel
	plotGap            = 16.0        // mm, between panels
)

// Draw draws the plot. It is a picture, not at a scale.
func (p Plot) Draw() *Drawing {
	d := &Drawing{Title: visible(p.Title), Picture: true}
	lo, hi := p.across()
	z := 0.0
	for _, panel := range p.Panels {
		panel.draw(d, lo, hi, z)
		z -= plotHigh + plotGap
	}
	z += plotHigh + plotGap // the lower edge of the last one
	d.text(plane.Point{X: plotWide / 2, Z: z - 10}, textSize, 1, Note, p.X+", "+p.XUnit)
	d.text(plane.Point{X: 0, Z: plotHigh + 12}, 4, 0, Note, p.Title)
	z -= 20
	for _, line := range p.Below {
		d.text(plane.Point{X: 0, Z: z}, textSize, 0, Note, line)
		z -= 1.7 * textSize
	}
	return d
}

// across returns the ends of the common scale.
func (p Plot) across() (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, panel := range p.Panels {
		for _, s := range panel.Series {
			for _, x := range s.X {
				lo, hi = min(lo, x), max(hi, x)
			}
		}
	}
	return lo, hi
}

// draw draws a panel between the ends of the plot's scale, its lower left corner at a height of the sheet. Its own scale has 0 on it.
func (p Panel) draw(d *Drawing, lo, hi, bottom float64) {
	low, high := 0.0, 0.0
	for _, s := range p.Series {
		for i, y := range s.Y {
			if !math.IsNaN(y) {
				u := s.unc(i)
				low, high = min(low, y-u), max(high, y+u)
			}
		}
	}
	steps := around(low, high)
	low, high = min(low, steps[0]), max(high, steps[len(steps)-1])
	at := func(x, y float64) plane.Point {
		return plane.Point{X: (x - lo) / (hi - lo) * plotWide, Z: bottom + (y-low)/(high-low)*plotHigh}
	}
	for _, s := range p.Series {
		s.band(d, at)
	}
	for _, y := range steps {
		d.line(at(lo, y), at(hi, y), Grid)
		q := at(lo, y)
		d.text(plane.Point{X: q.X - 2, Z: q.Z - textSize/3}, textSize, 2, Note, tickText(y, steps))
	}
	along := ticks(lo, hi)
	for _, x := range along {
		d.line(at(x, low), at(x, high), Grid)
		q := at(x, low)
		d.text(plane.Point{X: q.X, Z: q.Z - 4.5}, textSize, 1, Note, tickText(x, along))
	}
	d.text(plane.Point{X: 0, Z: bottom + plotHigh + 3}, textSize, 0, Note, p.Name+", "+p.Unit)
	for i, s := range p.Series {
		s.draw(d, at, curves[i%len(curves)])
	}
}

// curves are the pens of series, one after the other.
var curves = [...]Pen{Curve1, Curve2, Curve3, Curve4}

func (s Series) unc(i int) float64 {
	if i >= len(s.Unc) || math.IsNaN(s.Unc[i]) {
		return 0
	}
	return s.Unc[i]
}

// runs calls visit with the ends, first to last, of each piece of the curve that is not interrupted.
func (s Series) runs(visit func(from, to int)) {
	from := -1
	for i := 0; i <= len(s.Y); i++ {
		switch gap := i == len(s.Y) || math.IsNaN(s.Y[i]); {
		case gap && from >= 0:
			visit(from, i-1)
			from = -1
		case !gap && from < 0:
			from = i
		}
	}
}

// band draws the uncertainty of the series as an area.
func (s Series) band(d *Drawing, at func(x, y float64) plane.Point) {
	s.runs(func(from, to int) {
		var edge []plane.Point
		for i := from; i <= to; i++ {
			edge = append(edge, at(s.X[i], s.Y[i]+s.unc(i)))
		}
		for i := to; i >= from; i-- {
			edge = append(edge, at(s.X[i], s.Y[i]-s.unc(i)))
		}
		d.path(Path{Points: edge, Closed: true, Filled: true, Pen: Band})
	})
}

// draw draws the curve and its name at its end.
func (s Series) draw(d *Drawing, at func(x, y float64) plane.Point, pen Pen) {
	last := -1
	s.runs(func(from, to int) {
		var line []plane.Point
		for i := from; i <= to; i++ {
			line = append(line, at(s.X[i], s.Y[i]))
		}
		d.path(Path{Points: line, Pen: pen})
		last = to
	})
	if last >= 0 {
		q := at(s.X[last], s.Y[last])
		d.text(plane.Point{X: q.X + 2, Z: q.Z - textSize/3}, textSize, 0, pen, s.Mark)
	}
}

// around returns ticks that hold both lo and hi between the first and the last.
func around(lo, hi float64) []float64 {
	if !(hi > lo) {
		hi = lo + 1
	}
	all := ticks(lo, hi)
	step := all[1] - all[0]
	if all[0] > lo+1e-9*step {
		all = append([]float64{all[0] - step}, all...)
	}
	if last := all[len(all)-1]; last < hi-1e-9*step {
		all = append(all, last+step)
	}
	return all
}

// tickText spells a tick with as many digits as tell it from the next.
func tickText(x float64, all []float64) string {
	digits := 0
	if len(all) > 1 {
		digits = max(0, -int(math.Floor(math.Log10(all[1]-all[0])+1e-9)))
	}
	return units.Fixed(x, digits)
}

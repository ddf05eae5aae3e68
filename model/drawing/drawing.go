// Package drawing turns parts, settings and maps into drawings, and those into
// files: PDF in pages for a home printer, SVG, DXF for a machine shop, PNG to send.
//
// A drawing's coordinates are mm with x to the right and z up. That of a part is in
// the part's own frame and at its own size, so that a file can be measured, and read
// back, without a scale. Lengths in files are exact: PDF to 0.01 pt (0.0035 mm), SVG
// and DXF to a millionth of a mm.
package drawing

import (
	"math"
	"strings"
	"unicode"

	"stanchion/holes/plane"
	"stanchion/model/units"
)

// Pen is what a line stands for; each format draws it in its own way.
type Pen int

// The pens. Their names are those of the layers of a DXF file.
const (
	Outline Pen = iota
	Hole
	NewHole // not in the car file yet
	Centre  // centre marks and lines
	Dimension
	Note
	Faint // what is there for orientation
	Bold  // what the drawing is about
	Curve1
	Curve2
	Curve3
	Curve4
	Band // what a curve may be off by
	Grid
	pens
)

var layers = [pens]string{"OUTLINE", "HOLES", "NEW_HOLES", "CENTRE", "DIMENSION", "TEXT", "FAINT", "BOLD",
	"CURVE_1", "CURVE_2", "CURVE_3", "CURVE_4", "BAND", "GRID"}

// width is how thick a pen draws, mm.
func (p Pen) width() float64 {
	switch p {
	case Outline, Bold, Curve1, Curve2, Curve3, Curve4:
		return 0.5
	case Hole, NewHole:
		return 0.35
	}
	return 0.18
}

// dash is the pattern of a pen, mm on and off; nil for a solid line.
func (p Pen) dash() []float64 {
	switch p {
	case NewHole:
		return []float64{1.5, 0.8}
	}
	return nil
}

// ink is the pen's colour in files that have colours, red, green and blue.
func (p Pen) ink() [3]uint8 {
	switch p {
	case NewHole:
		return [3]uint8{176, 0, 96}
	case Centre, Faint:
		return [3]uint8{110, 110, 110}
	case Dimension, Curve1:
		return [3]uint8{30, 60, 140}
	case Curve2:
		return [3]uint8{170, 70, 0}
	case Curve3:
		return [3]uint8{0, 110, 70}
	case Curve4:
		return [3]uint8{120, 40, 130}
	case Grid:
		return [3]uint8{180, 180, 180}
	case Band:
		return [3]uint8{226, 226, 226}
	}
	return [3]uint8{}
}

// Path is a line through points, closed or not. A bulge bends the way from its
// point to the next into an arc, as in DXF: the tangent of a quarter of its turn,
// positive counter-clockwise.
type Path struct {
	Points []plane.Point
	Bulges []float64 // one for each point; nil for straight lines
	Closed bool
	Filled bool
	Pen    Pen
}

// Circle is a circle.
type Circle struct {
	Centre plane.Point
	Radius float64
	Filled bool
	Pen    Pen
}

// Text is a line of text. Anchor says which part of it is at its place: 0 its
// start, 1 its middle, 2 its end. Up turns it by a quarter, to be read from the
// right. Turn turns it further, in rad counter-clockwise.
type Text struct {
	At     plane.Point // of its base line
	Size   float64     // mm, of a capital letter and a half
	Anchor int
	Up     bool
	Turn   float64
	Text   string
	Pen    Pen
}

// Drawing is a set of lines, circles and texts.
type Drawing struct {
	units    units.System // that figures on it are in; its own coordinates are mm
	decimals bool         // inches without fractions
	Title    string
	Picture  bool // not to be measured from: no check bars
	Paths    []Path
	Circles  []Circle
	Texts    []Text
	Blocks   []Block // tables, titles and pictures that stand where there is room
	Turns    bool    // it may lie on a sheet any way round: a part, but not a car
	lo, hi   plane.Point
	any      bool
}

// Bounds returns the corners of the box around everything but the blocks, mm.
func (d *Drawing) Bounds() (lo, hi plane.Point) { return d.lo, d.hi }

func (d *Drawing) take(ps ...plane.Point) {
	if d.any {
		ps = append(ps, d.lo, d.hi)
	}
	d.lo, d.hi = plane.Box(ps)
	d.any = d.any || len(ps) > 0
}

func (d *Drawing) path(p Path) {
	if len(p.Points) == 0 {
		return
	}
	d.Paths = append(d.Paths, p)
	for i, q := range p.Points {
		d.take(q)
		if p.Bulges != nil && p.Bulges[i] != 0 && (p.Closed || i < len(p.Points)-1) {
			d.take(arcExtremes(q, p.Points[(i+1)%len(p.Points)], p.Bulges[i])...)
		}
	}
}

func (d *Drawing) line(a, b plane.Point, pen Pen) {
	d.path(Path{Points: []plane.Point{a, b}, Pen: pen})
}

func (d *Drawing) circle(c plane.Point, r float64, pen Pen) {
	d.ring(Circle{Centre: c, Radius: r, Pen: pen})
}

func (d *Drawing) ring(k Circle) {
	c, r := k.Centre, k.Radius
	d.Circles = append(d.Circles, k)
	d.take(plane.Point{X: c.X - r, Z: c.Z - r}, plane.Point{X: c.X + r, Z: c.Z + r})
}

func (d *Drawing) text(at plane.Point, size float64, anchor int, pen Pen, text string) {
	d.write(Text{At: at, Size: size, Anchor: anchor, Text: text, Pen: pen})
}

func (d *Drawing) write(t Text) {
	t.Text = visible(t.Text)
	d.Texts = append(d.Texts, t)
	d.take(t.corners()...)
}

// add puts another drawing into this one, moved.
func (d *Drawing) add(o *Drawing, by plane.Pose) {
	for _, p := range o.Paths {
		p.Points = by.ApplyAll(p.Points)
		d.path(p)
	}
	for _, c := range o.Circles {
		c.Centre = by.Apply(c.Centre)
		d.ring(c)
	}
	for _, t := range o.Texts {
		t = t.turned(by)
		d.Texts = append(d.Texts, t)
		d.take(t.corners()...)
	}
}

// turned returns the drawing turned about its origin, without its blocks.
func (d *Drawing) turned(turn float64) *Drawing {
	n := &Drawing{units: d.units, Title: d.Title, Turns: d.Turns, Picture: d.Picture}
	n.add(d, plane.Pose{Turn: turn})
	return n
}

// visible leaves out what does not print, or could act on what shows it.
func visible(s string) string {
	return strings.Map(func(r rune) rune {
		if units.Hidden(r) || unicode.IsControl(r) {
			return -1
		}
		return r
	}, s)
}

// arcOf returns the arc from a to b with a bulge: the angle that it starts at, its
// radius and centre. The arc turns by 4 atan(bulge).
func arcOf(a, b plane.Point, bulge float64) (from, radius float64, centre plane.Point) {
	centre, radius = plane.Arc(a, b, bulge)
	return math.Atan2(a.Z-centre.Z, a.X-centre.X), radius, centre
}

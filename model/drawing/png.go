package drawing

import (
	"bytes"
	"fmt"
	"image/png"
	"math"

	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"golang.org/x/image/font/sfnt"

	"stanchion/holes/plane"
)

// pngDots is how fine a PNG is, dots per inch.
const pngDots = 150

// PNG paints the drawing, for looking at and sending; it is no file to measure from.
func (d *Drawing) PNG() ([]byte, error) {
	face, err := sfnt.Parse(liberationsansregular.TTF)
	if err != nil {
		return nil, err
	}
	d = d.Whole()
	lo, hi := d.Bounds()
	w, h := hi.X-lo.X+2*margin, hi.Z-lo.Z+2*margin
	if w > 2000 || h > 2000 {
		return nil, fmt.Errorf("%.0f by %.0f mm is too large for a PNG, which may be 2000 mm at most; choose another format", w, h)
	}
	const scale = pngDots / 25.4
	c := newCanvas(int(math.Ceil(w*scale)), int(math.Ceil(h*scale)))
	on := painter{c, face, scale, plane.Point{X: lo.X - margin, Z: hi.Z + margin}}
	for i := range d.Paths {
		on.path(&d.Paths[i])
	}
	for i := range d.Circles {
		on.circle(&d.Circles[i])
	}
	for i := range d.Texts {
		if err := on.text(&d.Texts[i]); err != nil {
			return nil, err
		}
	}
	var b bytes.Buffer
	if err := png.Encode(&b, c.img); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// painter paints a drawing's elements on a canvas; corner is what its upper left corner shows, mm.
type painter struct {
	*canvas
	face   *sfnt.Font
	scale  float64 // pixels per mm
	corner plane.Point
}

func (c painter) at(p plane.Point) spot {
	return spot{(p.X - c.corner.X) * c.scale, (c.corner.Z - p.Z) * c.scale}
}

func (c painter) path(p *Path) {
	var line []spot
	n := len(p.Points)
	for i, from := range p.Points {
		line = append(line, c.at(from))
		if i == n-1 && !p.Closed || p.Bulges == nil || p.Bulges[i] == 0 {
			continue
		}
		start, r, centre := arcOf(from, p.Points[(i+1)%n], p.Bulges[i])
		line = append(line, c.arc(centre, r, start, 4*math.Atan(p.Bulges[i]))...)
	}
	c.draw(line, p.Closed, p.Filled, p.Pen)
}

func (c painter) circle(k *Circle) {
	c.draw(c.arc(k.Centre, k.Radius, 0, 2*math.Pi), true, k.Filled, k.Pen)
}

// arc returns places along an arc, neither of its ends, so near to one another that the chords are within a tenth of a pixel of it.
func (c painter) arc(centre plane.Point, r, from, turn float64) []spot {
	const off = 0.1
	step := math.Pi / 4
	if r*c.scale > off {
		step = min(step, 2*math.Acos(1-off/(r*c.scale)))
	}
	n := int(math.Ceil(math.Abs(turn) / step))
	var line []spot
	for i := 1; i < n; i++ {
		s, k := math.Sincos(from + turn*float64(i)/float64(n))
		line = append(line, c.at(plane.Point{X: centre.X + r*k, Z: centre.Z + r*s}))
	}
	if math.Abs(turn) >= 2*math.Pi {
		line = append(line, c.at(plane.Point{X: centre.X + r, Z: centre.Z}))
	}
	return line
}

func (c painter) draw(line []spot, closed, filled bool, pen Pen) {
	k := pen.ink()
	if filled {
		c.fill([][]spot{line}, k)
	}
	var dash []float64
	for _, v := range pen.dash() {
		dash = append(dash, v*c.scale)
	}
	c.stroke(line, closed, pen.width()*c.scale, dash, k)
}

// text paints a line of text by the outlines of its glyphs.
func (on painter) text(t *Text) error {
	glyphs, width, err := outlines(on.face, t.Text, t.Size*on.scale)
	if err != nil {
		return err
	}
	at, off := on.at(t.At), -width*float64(t.Anchor)/2
	s, c := math.Sincos(t.angle())
	for _, g := range glyphs {
		for i, p := range g {
			p.x += off
			g[i] = spot{at.x + c*p.x + s*p.y, at.y - s*p.x + c*p.y} // its y points down
		}
	}
	on.fill(glyphs, t.Pen.ink())
	return nil
}

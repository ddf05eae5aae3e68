package drawing

import (
	"bytes"
	"fmt"
	"image/color"
	"math"

	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"golang.org/x/image/font/opentype"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgimg"

	"stanchion/holes/plane"
)

// pngDots is how fine a PNG is, dots per inch.
const pngDots = 150

// PNG paints the drawing, for looking at and sending; it is no file to measure from.
func (d *Drawing) PNG() ([]byte, error) {
	face, err := opentype.Parse(liberationsansregular.TTF)
	if err != nil {
		return nil, err
	}
	d = d.Whole()
	lo, hi := d.Bounds()
	w, h := hi.X-lo.X+2*margin, hi.Z-lo.Z+2*margin
	if w > 2000 || h > 2000 {
		return nil, fmt.Errorf("%.0f by %.0f mm is too large for a PNG, which may be 2000 mm at most; choose another format", w, h)
	}
	c := vgimg.NewWith(vgimg.UseWH(vg.Length(w)*vg.Millimeter, vg.Length(h)*vg.Millimeter), vgimg.UseDPI(pngDots))
	on := painter{c, lo}
	for i := range d.Paths {
		on.path(&d.Paths[i])
	}
	for i := range d.Circles {
		on.circle(&d.Circles[i])
	}
	for i := range d.Texts {
		on.text(&d.Texts[i], face)
	}
	var b bytes.Buffer
	if _, err := (vgimg.PngCanvas{Canvas: c}).WriteTo(&b); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// painter paints a drawing's elements; from is the lower left corner of what is drawn, mm.
type painter struct {
	*vgimg.Canvas
	from plane.Point
}

func (c painter) at(p plane.Point) vg.Point {
	return vg.Point{X: vg.Length(p.X-c.from.X+margin) * vg.Millimeter, Y: vg.Length(p.Z-c.from.Z+margin) * vg.Millimeter}
}

// take makes what follows of a pen's line.
func (c painter) take(p Pen) {
	k := p.ink()
	c.SetColor(color.NRGBA{R: k[0], G: k[1], B: k[2], A: 255})
	c.SetLineWidth(vg.Length(p.width()) * vg.Millimeter)
	var dash []vg.Length
	for _, v := range p.dash() {
		dash = append(dash, vg.Length(v)*vg.Millimeter)
	}
	c.SetLineDash(dash, 0)
}

func (c painter) path(p *Path) {
	c.take(p.Pen)
	var way vg.Path
	way.Move(c.at(p.Points[0]))
	n := len(p.Points)
	for i := range n {
		if i == n-1 && !p.Closed {
			break
		}
		if p.Bulges == nil || p.Bulges[i] == 0 {
			way.Line(c.at(p.Points[(i+1)%n]))
			continue
		}
		from, r, centre := arcOf(p.Points[i], p.Points[(i+1)%n], p.Bulges[i])
		way.Arc(c.at(centre), vg.Length(r)*vg.Millimeter, from, 4*math.Atan(p.Bulges[i]))
	}
	if p.Closed {
		way.Close()
	}
	if p.Filled {
		c.Fill(way)
	}
	c.Stroke(way)
}

func (c painter) circle(k *Circle) {
	c.take(k.Pen)
	var way vg.Path
	way.Move(c.at(plane.Point{X: k.Centre.X + k.Radius, Z: k.Centre.Z}))
	way.Arc(c.at(k.Centre), vg.Length(k.Radius)*vg.Millimeter, 0, 2*math.Pi)
	way.Close()
	if k.Filled {
		c.Fill(way)
	}
	c.Stroke(way)
}

func (c painter) text(t *Text, face *opentype.Font) {
	c.take(t.Pen)
	f := font.Face{Font: font.Font{Typeface: "Liberation", Variant: "Sans", Size: vg.Length(t.Size) * vg.Millimeter}, Face: face}
	c.Push()
	c.Translate(c.at(t.At))
	c.Rotate(t.angle())
	c.FillString(f, vg.Point{X: -f.Width(t.Text) * vg.Length(t.Anchor) / 2}, t.Text)
	c.Pop()
}

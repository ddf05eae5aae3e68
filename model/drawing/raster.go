package drawing

import (
	"image"
	"image/color"
	"image/draw"
	"math"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"
)

// spot is a place on a picture in pixels, x to the right and y down.
type spot struct{ x, y float64 }

// canvas is a picture that outlines are filled on.
type canvas struct {
	img *image.RGBA
	z   vector.Rasterizer
}

func newCanvas(w, h int) *canvas {
	c := &canvas{img: image.NewRGBA(image.Rect(0, 0, w, h))}
	draw.Draw(c.img, c.img.Bounds(), image.White, image.Point{}, draw.Src)
	return c
}

// bandHeight is how many rows of pixels are filled at once: the rasteriser keeps a number for each pixel of them.
const bandHeight = 128

// fill fills closed outlines. Where outlines that run the same way lie on one another, or one crosses itself, all of it is filled;
// one that runs the other way within another is a hole.
func (c *canvas) fill(outlines [][]spot, ink [3]uint8) {
	box := boxOf(outlines).Intersect(c.img.Bounds())
	if box.Empty() {
		return
	}
	src := image.NewUniform(color.RGBA{ink[0], ink[1], ink[2], 255})
	for top := box.Min.Y; top < box.Max.Y; top += bandHeight {
		band := image.Rect(box.Min.X, top, box.Max.X, min(top+bandHeight, box.Max.Y))
		c.z.Reset(band.Dx(), band.Dy())
		at := func(p spot) (x, y float32) { return float32(p.x - float64(band.Min.X)), float32(p.y - float64(top)) }
		for _, o := range outlines {
			if len(o) < 3 {
				continue
			}
			c.z.MoveTo(at(o[0]))
			for _, p := range o[1:] {
				c.z.LineTo(at(p))
			}
			c.z.ClosePath()
		}
		c.z.Draw(c.img, band, src, image.Point{})
	}
}

// boxOf returns the pixels that outlines touch.
func boxOf(outlines [][]spot) image.Rectangle {
	lo, hi := spot{math.Inf(1), math.Inf(1)}, spot{math.Inf(-1), math.Inf(-1)}
	for _, o := range outlines {
		for _, p := range o {
			lo.x, lo.y = min(lo.x, p.x), min(lo.y, p.y)
			hi.x, hi.y = max(hi.x, p.x), max(hi.y, p.y)
		}
	}
	if lo.x > hi.x {
		return image.Rectangle{}
	}
	return image.Rect(int(math.Floor(lo.x)), int(math.Floor(lo.y)), int(math.Ceil(hi.x)), int(math.Ceil(hi.y)))
}

// stroke draws a line of some width, with round ends and corners, dashed by lengths on and off or solid.
func (c *canvas) stroke(line []spot, closed bool, width float64, dash []float64, ink [3]uint8) {
	if closed && len(line) > 0 {
		line = append(append([]spot{}, line...), line[0])
	}
	var parts [][]spot
	for _, piece := range dashed(line, dash) {
		for i, p := range piece {
			parts = append(parts, disc(p, width/2))
			if i > 0 {
				if q := bar(piece[i-1], p, width/2); q != nil {
					parts = append(parts, q)
				}
			}
		}
	}
	c.fill(parts, ink)
}

// disc returns the outline of a round end.
func disc(at spot, r float64) []spot {
	n := max(8, int(math.Ceil(4*math.Sqrt(r))))
	var out []spot
	for i := range n {
		s, k := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		out = append(out, spot{at.x + r*k, at.y + r*s})
	}
	return out
}

// bar returns the outline of a straight piece, run the same way as discs; nil where it has no length.
func bar(a, b spot, half float64) []spot {
	dx, dy := b.x-a.x, b.y-a.y
	l := math.Hypot(dx, dy)
	if l == 0 {
		return nil
	}
	nx, ny := -dy/l*half, dx/l*half
	return []spot{{a.x + nx, a.y + ny}, {a.x - nx, a.y - ny}, {b.x - nx, b.y - ny}, {b.x + nx, b.y + ny}}
}

// dashed cuts a line into the pieces that are drawn.
func dashed(line []spot, dash []float64) [][]spot {
	if len(dash) == 0 || len(line) == 0 {
		return [][]spot{line}
	}
	var pieces [][]spot
	k, left, piece := 0, dash[0], []spot{line[0]}
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		length := math.Hypot(b.x-a.x, b.y-a.y)
		for done := 0.0; done < length; {
			run := min(left, length-done)
			done += run
			left -= run
			p := spot{a.x + (b.x-a.x)*done/length, a.y + (b.y-a.y)*done/length}
			if k%2 == 0 {
				piece = append(piece, p)
			}
			if left > 0 {
				continue
			}
			if k%2 == 0 {
				pieces = append(pieces, piece)
			}
			k++
			left, piece = dash[k%len(dash)], []spot{p}
		}
	}
	if k%2 == 0 && len(piece) > 1 {
		pieces = append(pieces, piece)
	}
	return pieces
}

// outlines returns those of a text's glyphs, from its start on its base line, y down, and its width; all in pixels, with letters of size
// pixels to the em.
func outlines(f *sfnt.Font, text string, size float64) (all [][]spot, width float64, err error) {
	var buf sfnt.Buffer
	em := fixed.Int26_6(math.Round(size * 64))
	px := func(v fixed.Int26_6) float64 { return float64(v) / 64 }
	var before sfnt.GlyphIndex
	for _, r := range text {
		g, err := f.GlyphIndex(&buf, r)
		if err != nil {
			return nil, 0, err
		}
		if kern, err := f.Kern(&buf, before, g, em, font.HintingNone); err == nil && before != 0 {
			width += px(kern)
		}
		segments, err := f.LoadGlyph(&buf, g, em, nil)
		if err != nil {
			return nil, 0, err
		}
		all = append(all, flattened(segments, width)...)
		advance, err := f.GlyphAdvance(&buf, g, em, font.HintingNone)
		if err != nil {
			return nil, 0, err
		}
		width, before = width+px(advance), g
	}
	return all, width, nil
}

// flattened turns a glyph's curves into straight pieces.
func flattened(segments sfnt.Segments, right float64) (all [][]spot) {
	at := func(p fixed.Point26_6) spot { return spot{right + float64(p.X)/64, float64(p.Y) / 64} }
	const pieces = 6
	var o []spot
	for _, s := range segments {
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			if o != nil {
				all = append(all, o)
			}
			o = []spot{at(s.Args[0])}
		case sfnt.SegmentOpLineTo:
			o = append(o, at(s.Args[0]))
		case sfnt.SegmentOpQuadTo:
			a, b, c := o[len(o)-1], at(s.Args[0]), at(s.Args[1])
			for i := 1; i <= pieces; i++ {
				t := float64(i) / pieces
				u := 1 - t
				o = append(o, spot{u*u*a.x + 2*u*t*b.x + t*t*c.x, u*u*a.y + 2*u*t*b.y + t*t*c.y})
			}
		case sfnt.SegmentOpCubeTo:
			a, b, c, e := o[len(o)-1], at(s.Args[0]), at(s.Args[1]), at(s.Args[2])
			for i := 1; i <= pieces; i++ {
				t := float64(i) / pieces
				u := 1 - t
				o = append(o, spot{u*u*u*a.x + 3*u*u*t*b.x + 3*u*t*t*c.x + t*t*t*e.x, u*u*u*a.y + 3*u*u*t*b.y + 3*u*t*t*c.y + t*t*t*e.y})
			}
		}
	}
	if o != nil {
		all = append(all, o)
	}
	return all
}

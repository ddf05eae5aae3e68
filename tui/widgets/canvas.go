package widgets

import (
	"math"
	"math/bits"
	"slices"
	"strings"

	"github.com/charmbracelet/lipgloss"
)

// Canvas is a picture of dots, two across and four down in each cell, in three layers: filled
// areas, lines on them, and text on top. In a cell twice as high as wide the dots are square.
type Canvas struct {
	W, H   int // cells
	glyphs Glyphs
	looks  []Look
	cells  []canvasCell
	mixed  map[mix]*Brush
}

// canvasCell is what one cell shows. It has one ink a layer, the last that was set.
type canvasCell struct {
	fill, line       uint8
	fillInk, lineInk Ink
	text             rune
	textInk          Ink
}

// mix is an ink on the fill of another, or filled itself.
type mix struct {
	ink, on Ink
	block   bool
}

// NewCanvas returns an empty picture of w by h cells whose inks have looks.
func NewCanvas(w, h int, looks []Look, glyphs Glyphs) *Canvas {
	w, h = max(w, 0), max(h, 0)
	return &Canvas{W: w, H: h, glyphs: glyphs, looks: looks, cells: make([]canvasCell, w*h), mixed: map[mix]*Brush{}}
}

// Plain reports whether areas cannot be told by colour, so that their outlines must tell.
func (c *Canvas) Plain() bool { return Colourless() || c.glyphs == ASCII }

var dotBits = [4][2]uint8{{1, 8}, {2, 16}, {4, 32}, {64, 128}}

// at returns the cell and the bit of a dot; nil outside of the picture.
func (c *Canvas) at(x, y int) (*canvasCell, uint8) {
	if x < 0 || y < 0 || x >= 2*c.W || y >= 4*c.H {
		return nil, 0
	}
	return &c.cells[y/4*c.W+x/2], dotBits[y&3][x&1]
}

// Dot sets one dot of a line; outside of the picture it does nothing.
func (c *Canvas) Dot(x, y int, k Ink) {
	if cell, bit := c.at(x, y); cell != nil {
		cell.line |= bit
		cell.lineInk = k
	}
}

// Fill fills the area inside of a polygon whose corners are in dots.
func (c *Canvas) Fill(xs, ys []float64, k Ink) { c.FillRings([]Ring{{xs, ys}}, k) }

// Ring is a polygon whose corners are in dots.
type Ring struct{ Xs, Ys []float64 }

// FillRings fills an outline but for the openings in it, which are rings too; what was there
// stays in them.
func (c *Canvas) FillRings(rings []Ring, k Ink) {
	low, high := math.Inf(1), math.Inf(-1)
	for _, r := range rings {
		if len(r.Xs) < 3 {
			return
		}
		low, high = min(low, slices.Min(r.Ys)), max(high, slices.Max(r.Ys))
	}
	if !(low <= high) { // NaN too
		return
	}
	for y := max(0, int(max(low, 0))); y <= min(4*c.H-1, int(min(math.Ceil(high), float64(4*c.H)))); y++ {
		var cuts []float64
		for _, r := range rings {
			cuts = r.cut(cuts, float64(y))
		}
		slices.Sort(cuts)
		for i := 0; i+1 < len(cuts); i += 2 {
			for x := max(0, int(math.Ceil(cuts[i]))); x <= min(2*c.W-1, int(cuts[i+1])); x++ {
				cell, bit := c.at(x, y)
				if cell.fillInk != k {
					cell.fill, cell.fillInk = 0, k
				}
				cell.fill |= bit
			}
		}
	}
}

// cut adds where a row of dots crosses the ring.
func (r Ring) cut(cuts []float64, y float64) []float64 {
	for i := range r.Xs {
		j := (i + 1) % len(r.Xs)
		if (r.Ys[i] > y) != (r.Ys[j] > y) {
			cuts = append(cuts, r.Xs[i]+(y-r.Ys[i])/(r.Ys[j]-r.Ys[i])*(r.Xs[j]-r.Xs[i]))
		}
	}
	return cuts
}

// Label writes text from a cell on, as far as there is room.
func (c *Canvas) Label(x, y int, text string, k Ink) {
	if y < 0 || y >= c.H {
		return
	}
	for _, r := range c.glyphs.Spell(text) {
		if x >= 0 && x < c.W {
			cell := &c.cells[y*c.W+x]
			cell.text, cell.textInk = r, k
		}
		x++
	}
}

// Free reports whether a run of cells lies in the picture and has no text.
func (c *Canvas) Free(x, y, n int) bool {
	if y < 0 || y >= c.H || x < 0 || x+n > c.W {
		return false
	}
	for i := range n {
		if c.cells[y*c.W+x+i].text != 0 {
			return false
		}
	}
	return true
}

// Line draws from dot to dot, every gap-th dot for a gap above 1. The line is
// clipped to the picture before it is walked.
func (c *Canvas) Line(x0, y0, x1, y1 float64, k Ink, gap int) {
	x0, y0, x1, y1, ok := clip(x0, y0, x1, y1, float64(2*c.W-1), float64(4*c.H-1))
	if !ok {
		return
	}
	n := int(math.Ceil(max(math.Abs(x1-x0), math.Abs(y1-y0))))
	for i := 0; i <= n; i++ {
		if gap > 1 && i%gap != 0 {
			continue
		}
		t := 0.0
		if n > 0 {
			t = float64(i) / float64(n)
		}
		c.Dot(int(math.Round(x0+t*(x1-x0))), int(math.Round(y0+t*(y1-y0))), k)
	}
}

// clip cuts a line to 0..w, 0..h and reports whether anything is left.
// Source: Y.-D. Liang and B. A. Barsky, ACM Trans. Graphics 3 (1984) 1-22.
func clip(x0, y0, x1, y1, w, h float64) (a, b, c, d float64, ok bool) {
	dx, dy := x1-x0, y1-y0
	lo, hi := 0.0, 1.0
	for _, e := range [4][2]float64{{-dx, x0}, {dx, w - x0}, {-dy, y0}, {dy, h - y0}} {
		p, q := e[0], e[1]
		switch {
		case math.IsNaN(p) || math.IsNaN(q):
			return 0, 0, 0, 0, false
		case p == 0:
			if q < 0 {
				return 0, 0, 0, 0, false
			}
		case p < 0:
			lo = max(lo, q/p)
		default:
			hi = min(hi, q/p)
		}
	}
	if lo > hi {
		return 0, 0, 0, 0, false
	}
	return x0 + lo*dx, y0 + lo*dy, x0 + hi*dx, y0 + hi*dy, true
}

// Lines returns the picture as one string a row, each run of one look in its style.
func (c *Canvas) Lines() []string {
	rows := make([]string, c.H)
	plain := c.Plain()
	run := make([]rune, 0, c.W)
	for r := range rows {
		var b strings.Builder
		var now mix
		flush := func() {
			if len(run) > 0 {
				b.WriteString(c.brush(now).Paint(string(run)))
			}
			run = run[:0]
		}
		for x := range c.W {
			sign, look := c.show(&c.cells[r*c.W+x], plain)
			if look != now {
				flush()
				now = look
			}
			run = append(run, sign)
		}
		flush()
		rows[r] = b.String()
	}
	return rows
}

// show returns a cell's sign and look.
func (c *Canvas) show(cell *canvasCell, plain bool) (rune, mix) {
	fill := cell.fill
	if plain && !c.looks[cell.fillInk].Solid {
		fill = 0
	}
	on := Ink(0)
	if !plain && bits.OnesCount8(fill) >= 4 { // most of the cell is filled
		on = cell.fillInk
	}
	switch {
	case cell.text != 0:
		return cell.text, mix{ink: cell.textInk, on: on}
	case fill != 0 && (cell.line == 0 || cell.lineInk == cell.fillInk):
		return c.glyphs.fillRune(fill), mix{ink: cell.fillInk, block: true}
	case cell.line != 0:
		return c.glyphs.lineRune(cell.line), mix{ink: cell.lineInk, on: on}
	}
	return ' ', mix{}
}

// brush returns the brush of a look. What is filled has the colour of its look's background.
func (c *Canvas) brush(k mix) *Brush {
	if b, ok := c.mixed[k]; ok {
		return b
	}
	style := c.looks[k.ink].Style
	switch {
	case k.block:
		style = lipgloss.NewStyle().Foreground(style.GetBackground())
	default:
		style = style.UnsetBackground()
		if k.on != 0 {
			style = style.Background(c.looks[k.on].Style.GetBackground())
		}
	}
	b := NewBrush(style)
	c.mixed[k] = b
	return b
}

package widgets

import (
	"math"
	"strings"

	"github.com/charmbracelet/lipgloss"
)

// Ink picks the style that a dot is drawn in, from the canvas's own; 0 is plain.
type Ink uint8

// Canvas is a picture of braille dots, two across and four down in each cell,
// with text on top. In a cell twice as high as wide the dots are square.
type Canvas struct {
	W, H   int // cells
	styles []lipgloss.Style
	Bits   []uint8
	inks   []Ink
	Text   []rune
}

// NewCanvas returns an empty picture of w by h cells whose inks have styles.
func NewCanvas(w, h int, styles []lipgloss.Style) *Canvas {
	w, h = max(w, 0), max(h, 0)
	return &Canvas{w, h, styles, make([]uint8, w*h), make([]Ink, w*h), make([]rune, w*h)}
}

var dotBits = [4][2]uint8{{1, 8}, {2, 16}, {4, 32}, {64, 128}}

// Dot sets one dot; outside of the picture it does nothing. One cell has one
// ink, the last that was set.
func (c *Canvas) Dot(x, y int, k Ink) {
	if x < 0 || y < 0 || x >= 2*c.W || y >= 4*c.H {
		return
	}
	i := y/4*c.W + x/2
	c.Bits[i] |= dotBits[y&3][x&1]
	c.inks[i] = k
}

// Label writes text from a cell on, as far as there is room.
func (c *Canvas) Label(x, y int, text string, k Ink) {
	if y < 0 || y >= c.H {
		return
	}
	for _, r := range text {
		if x >= 0 && x < c.W {
			c.Text[y*c.W+x], c.inks[y*c.W+x] = r, k
		}
		x++
	}
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

// Lines returns the picture as one string a row, each run of one ink in its
// style.
func (c *Canvas) Lines() []string {
	rows := make([]string, c.H)
	run := make([]rune, 0, c.W)
	for r := range rows {
		var b strings.Builder
		for x := 0; x < c.W; {
			k := c.inks[r*c.W+x]
			for run = run[:0]; x < c.W && c.inks[r*c.W+x] == k; x++ {
				switch i := r*c.W + x; {
				case c.Text[i] != 0:
					run = append(run, c.Text[i])
				case c.Bits[i] != 0:
					run = append(run, 0x2800+rune(c.Bits[i]))
				default:
					run = append(run, ' ')
				}
			}
			if k == 0 {
				b.WriteString(string(run))
			} else {
				b.WriteString(c.styles[k].Render(string(run)))
			}
		}
		rows[r] = b.String()
	}
	return rows
}

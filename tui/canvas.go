package tui

import (
	"math"
	"strings"

	"github.com/charmbracelet/lipgloss"
)

// ink is what a dot stands for; it picks the style it is drawn in.
type ink uint8

const (
	inkNone ink = iota
	inkCar
	inkBracket
	inkUpright
	inkKept
	inkWing
	inkBolt
)

var inkStyles = []lipgloss.Style{
	inkNone: {}, inkCar: carStyle, inkBracket: bracketStyle, inkUpright: uprightStyle,
	inkKept: keptStyle, inkWing: wingStyle, inkBolt: boltStyle,
}

// canvas is a picture of braille dots, two across and four down in each cell,
// with text on top. In a cell twice as high as wide the dots are square.
type canvas struct {
	w, h int // cells
	bits []uint8
	inks []ink
	text []rune
}

func newCanvas(w, h int) *canvas {
	w, h = max(w, 0), max(h, 0)
	return &canvas{w, h, make([]uint8, w*h), make([]ink, w*h), make([]rune, w*h)}
}

var dotBits = [4][2]uint8{{1, 8}, {2, 16}, {4, 32}, {64, 128}}

// dot sets one dot; outside of the picture it does nothing. One cell has one
// ink, the last that was set.
func (c *canvas) dot(x, y int, k ink) {
	if x < 0 || y < 0 || x >= 2*c.w || y >= 4*c.h {
		return
	}
	i := y/4*c.w + x/2
	c.bits[i] |= dotBits[y&3][x&1]
	c.inks[i] = k
}

// label writes text from a cell on, as far as there is room.
func (c *canvas) label(x, y int, text string, k ink) {
	if y < 0 || y >= c.h {
		return
	}
	for _, r := range text {
		if x >= 0 && x < c.w {
			c.text[y*c.w+x], c.inks[y*c.w+x] = r, k
		}
		x++
	}
}

// line draws from dot to dot, every gap-th dot for a gap above 1. The line is
// clipped to the picture before it is walked.
func (c *canvas) line(x0, y0, x1, y1 float64, k ink, gap int) {
	x0, y0, x1, y1, ok := clip(x0, y0, x1, y1, float64(2*c.w-1), float64(4*c.h-1))
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
		c.dot(int(math.Round(x0+t*(x1-x0))), int(math.Round(y0+t*(y1-y0))), k)
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

// lines returns the picture as one string a row, each run of one ink in its
// style.
func (c *canvas) lines() []string {
	rows := make([]string, c.h)
	run := make([]rune, 0, c.w)
	for r := range rows {
		var b strings.Builder
		for x := 0; x < c.w; {
			k := c.inks[r*c.w+x]
			for run = run[:0]; x < c.w && c.inks[r*c.w+x] == k; x++ {
				switch i := r*c.w + x; {
				case c.text[i] != 0:
					run = append(run, c.text[i])
				case c.bits[i] != 0:
					run = append(run, 0x2800+rune(c.bits[i]))
				default:
					run = append(run, ' ')
				}
			}
			if k == inkNone {
				b.WriteString(string(run))
			} else {
				b.WriteString(inkStyles[k].Render(string(run)))
			}
		}
		rows[r] = b.String()
	}
	return rows
}

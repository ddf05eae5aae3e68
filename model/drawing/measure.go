package drawing

import (
	"math"
	"strings"
	"sync"

	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"stanchion/holes/plane"
)

// The reach of letters below and above their base line, in sizes of the text. Source: Liberation
// Sans, the letters g and Å.
const (
	letterDown = 0.22
	letterUp   = 0.92
)

// sans is the font that drawings are written in, with the advances that were asked for.
var sans struct {
	sync.Mutex
	font    *sfnt.Font
	buffer  sfnt.Buffer
	advance map[rune]float64
}

// textWidth returns how wide a line of text is, mm, for a size in mm.
func textWidth(text string, size float64) float64 {
	sans.Lock()
	defer sans.Unlock()
	if sans.font == nil {
		f, err := sfnt.Parse(liberationsansregular.TTF)
		if err != nil {
			panic(err) // a font of ours
		}
		sans.font, sans.advance = f, map[rune]float64{}
	}
	w := 0.0
	for _, r := range text {
		a, ok := sans.advance[r]
		if !ok {
			em := fixed.I(int(sans.font.UnitsPerEm()))
			i, err := sans.font.GlyphIndex(&sans.buffer, r)
			var v fixed.Int26_6
			if err == nil {
				v, err = sans.font.GlyphAdvance(&sans.buffer, i, em, font.HintingNone)
			}
			if a = float64(v) / float64(em); err != nil {
				a = 1
			}
			sans.advance[r] = a
		}
		w += a
	}
	return w * size
}

// NotInFont returns the letters of a drawing's texts, each once, that the font of a PDF and a PNG lacks: they are boxes there.
func (d *Drawing) NotInFont() string {
	textWidth("", 1) // the font
	sans.Lock()
	defer sans.Unlock()
	missing := ""
	look := func(texts []Text) {
		for _, t := range texts {
			for _, r := range t.Text {
				if i, err := sans.font.GlyphIndex(&sans.buffer, r); (err != nil || i == 0) && !strings.ContainsRune(missing, r) {
					missing += string(r)
				}
			}
		}
	}
	look(d.Texts)
	for _, b := range d.Blocks {
		for _, row := range b.rows {
			look(row.texts)
		}
		if b.picture != nil {
			look(b.picture.Texts)
		}
	}
	return missing
}

// wrap parts text into lines of a size that are no wider than so many mm; a word that is wider is
// parted within. Further lines are indented by two blanks.
func wrap(text string, size, width float64) []string {
	var lines []string
	line := ""
	add := func(word string) {
		if line != "" && textWidth(line+" "+word, size) > width {
			lines, line = append(lines, line), ""
		}
		if line != "" {
			line += " " + word
			return
		}
		if line = word; len(lines) > 0 {
			line = "  " + word
		}
		for textWidth(line, size) > width {
			r := []rune(line)
			n := len(r) - 1
			for n > 3 && textWidth(string(r[:n]), size) > width {
				n--
			}
			if n <= 3 {
				break
			}
			lines, line = append(lines, string(r[:n])), "  "+string(r[n:])
		}
	}
	for _, w := range strings.Fields(text) {
		add(w)
	}
	return append(lines, line)
}

// angle is which way a text runs, rad counter-clockwise from the right.
func (t Text) angle() float64 {
	if t.Up {
		return t.Turn + math.Pi/2
	}
	return t.Turn
}

// corners returns the corners of the box around a text.
func (t Text) corners() []plane.Point {
	w := textWidth(t.Text, t.Size)
	from := -w * float64(t.Anchor) / 2
	s, c := math.Sincos(t.angle())
	at := func(x, z float64) plane.Point { return plane.Point{X: t.At.X + c*x - s*z, Z: t.At.Z + s*x + c*z} }
	down, up := -letterDown*t.Size, letterUp*t.Size
	return []plane.Point{at(from, down), at(from+w, down), at(from+w, up), at(from, up)}
}

// turned returns the text turned with a drawing, the other way up where it would have to be read from the left or
// upside down; its box is the same either way.
func (t Text) turned(by plane.Pose) Text {
	t.At, t.Turn = by.Apply(t.At), plane.Wrap(t.Turn+by.Turn)
	if a := plane.Wrap(t.angle()); a > -math.Pi/2+1e-9 && a <= math.Pi/2+1e-9 {
		return t
	}
	box := t.corners()
	t.At, t.Turn = box[2].Add(box[0].Sub(t.At)), plane.Wrap(t.Turn+math.Pi)
	return t
}

// flat returns a path as straight lines, arcs in pieces that are off by 0.02 mm at most, the closing one among
// them.
func (p Path) flat() [][2]plane.Point {
	var all [][2]plane.Point
	n := len(p.Points)
	for i, a := range p.Points {
		if i == n-1 && !p.Closed {
			break
		}
		b := p.Points[(i+1)%n]
		if p.Bulges == nil || p.Bulges[i] == 0 {
			all = append(all, [2]plane.Point{a, b})
			continue
		}
		from, r, c := arcOf(a, b, p.Bulges[i])
		turn := 4 * math.Atan(p.Bulges[i])
		all = append(all, flatArc(c, r, from, turn)...)
	}
	return all
}

func flatArc(c plane.Point, r, from, turn float64) [][2]plane.Point {
	const off = 0.02
	n := max(2, int(math.Ceil(math.Abs(turn)/2/math.Acos(1-min(off/r, 0.5)))))
	at := func(i int) plane.Point {
		s, k := math.Sincos(from + turn*float64(i)/float64(n))
		return plane.Point{X: c.X + r*k, Z: c.Z + r*s}
	}
	var all [][2]plane.Point
	for i := range n {
		all = append(all, [2]plane.Point{at(i), at(i + 1)})
	}
	return all
}

// arcExtremes returns the points of an arc from a to b that bound it: its ends, and where it crosses
// the axes through its centre.
func arcExtremes(a, b plane.Point, bulge float64) []plane.Point {
	from, r, c := arcOf(a, b, bulge)
	turn := 4 * math.Atan(bulge)
	all := []plane.Point{a, b}
	for q := -8; q <= 8; q++ {
		at := float64(q) * math.Pi / 2
		if lo, hi := min(from, from+turn), max(from, from+turn); at > lo && at < hi {
			s, k := math.Sincos(at)
			all = append(all, plane.Point{X: c.X + r*k, Z: c.Z + r*s})
		}
	}
	return all
}

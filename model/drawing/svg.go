package drawing

import (
	"bytes"
	"fmt"
	"html"
	"math"
	"strconv"
	"strings"

	"stanchion/holes/plane"
)

// margin is what is left free around a drawing on paper, mm; the check bars lie in
// it.
const margin = 16

// number spells mm for SVG and DXF.
func number(x float64) string {
	s := strconv.FormatFloat(math.Round(x*1e6)/1e6+0, 'f', -1, 64)
	return s
}

// SVG writes the drawing on a sheet that is as large as it needs, in mm: one unit of
// the file is one mm.
func (d *Drawing) SVG() []byte {
	d = d.Whole()
	lo, hi := d.Bounds()
	w, h := max(hi.X-lo.X, checkBar)+2*margin, max(hi.Z-lo.Z, checkBar)+2*margin
	at := func(p plane.Point) (x, y string) {
		return number(p.X - lo.X + margin), number(h - (p.Z - lo.Z + margin))
	}
	var b bytes.Buffer
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" width="%smm" height="%smm" viewBox="0 0 %s %s" font-family="Liberation Sans, Arial, sans-serif" stroke-linejoin="round">`+"\n", number(w), number(h), number(w), number(h))
	fmt.Fprintf(&b, "<title>%s</title>\n<rect width=\"100%%\" height=\"100%%\" fill=\"white\"/>\n", html.EscapeString(d.Title))
	style := func(p Pen, filled bool) string {
		k := p.ink()
		colour := fmt.Sprintf("#%02x%02x%02x", k[0], k[1], k[2])
		fill := "none"
		if filled {
			fill = colour
		}
		dash := ""
		if pattern := p.dash(); pattern != nil {
			var parts []string
			for _, v := range pattern {
				parts = append(parts, number(v))
			}
			dash = fmt.Sprintf(` stroke-dasharray="%s"`, strings.Join(parts, " "))
		}
		return fmt.Sprintf(`class="%s" fill="%s" stroke="%s" stroke-width="%s"%s`, strings.ToLower(layers[p]), fill, colour,
			number(p.width()), dash)
	}
	for _, p := range d.Paths {
		fmt.Fprintf(&b, "<path %s d=\"%s\"/>\n", style(p.Pen, p.Filled), svgWay(p, at))
	}
	for _, c := range d.Circles {
		x, y := at(c.Centre)
		fmt.Fprintf(&b, "<circle %s cx=\"%s\" cy=\"%s\" r=\"%s\"/>\n", style(c.Pen, c.Filled), x, y, number(c.Radius))
	}
	for _, t := range d.Texts {
		x, y := at(t.At)
		turn := ""
		if a := t.angle(); a != 0 {
			turn = fmt.Sprintf(` transform="rotate(%s %s %s)"`, number(-a/plane.Deg), x, y)
		}
		k := t.Pen.ink()
		fmt.Fprintf(&b, "<text x=\"%s\" y=\"%s\" font-size=\"%s\" text-anchor=\"%s\" fill=\"#%02x%02x%02x\"%s>%s</text>\n",
			x, y, number(t.Size), [3]string{"start", "middle", "end"}[t.Anchor], k[0], k[1], k[2], turn, html.EscapeString(t.Text))
	}
	if d.Picture {
		b.WriteString("</svg>\n")
		return b.Bytes()
	}
	for _, l := range bars() {
		fmt.Fprintf(&b, "<path class=\"check\" fill=\"none\" stroke=\"#000000\" stroke-width=\"0.35\" d=\"M%s %sL%s %s\"/>\n",
			number(l[0].X), number(h-l[0].Z), number(l[1].X), number(h-l[1].Z))
	}
	fmt.Fprintf(&b, "<text x=\"%s\" y=\"%s\" font-size=\"2.5\">100 mm</text>\n</svg>\n", number(margin+checkBar+2), number(h-9))
	return b.Bytes()
}

// svgWay is the way along a path; at are the file's coordinates.
func svgWay(p Path, at func(plane.Point) (x, y string)) string {
	var way strings.Builder
	for i, q := range p.Points {
		x, y := at(q)
		if i == 0 {
			fmt.Fprintf(&way, "M%s %s", x, y)
			continue
		}
		way.WriteString(svgStep(p, i-1, x, y))
	}
	if last := len(p.Points) - 1; p.Closed {
		if p.Bulges != nil && p.Bulges[last] != 0 {
			x, y := at(p.Points[0])
			way.WriteString(svgStep(p, last, x, y))
		}
		way.WriteString("Z")
	}
	return way.String()
}

// svgStep is the way from point i of a path to x, y.
func svgStep(p Path, i int, x, y string) string {
	if p.Bulges == nil || p.Bulges[i] == 0 {
		return fmt.Sprintf("L%s %s", x, y)
	}
	a, c := p.Points[i], p.Points[(i+1)%len(p.Points)]
	_, r, _ := arcOf(a, c, p.Bulges[i])
	large, sweep := 0, 0
	if math.Abs(p.Bulges[i]) > 1 {
		large = 1
	}
	if p.Bulges[i] < 0 {
		sweep = 1
	}
	return fmt.Sprintf("A%s %s 0 %d %d %s %s", number(r), number(r), large, sweep, x, y)
}

// checkBar is the length of the bars that a print is measured by, mm.
const checkBar = 100

// bars returns the lines of both check bars with their ends, mm from a sheet's lower
// left corner.
func bars() [][2]plane.Point {
	const off, tick = 10.0, 1.5
	p := func(x, z float64) plane.Point { return plane.Point{X: x, Z: z} }
	return [][2]plane.Point{
		{p(margin, off), p(margin+checkBar, off)},
		{p(margin, off-tick), p(margin, off+tick)}, {p(margin+checkBar, off-tick), p(margin+checkBar, off+tick)},
		{p(off, margin), p(off, margin+checkBar)},
		{p(off-tick, margin), p(off+tick, margin)}, {p(off-tick, margin+checkBar), p(off+tick, margin+checkBar)},
	}
}

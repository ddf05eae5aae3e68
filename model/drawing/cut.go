package drawing

import (
	"errors"
	"fmt"
	"html"
	"math"
	"strings"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
)

// Cut is what a laser or a router cuts of a part, and nothing else: closed edges, each once, in mm in the part's own frame.
type Cut struct {
	Part    string
	Outline Path
	Inner   []Path   // slots and cut-outs
	Round   []Circle // holes
	Engrave []Path   // lines of letters; nil where none are wanted
	Left    []string // names that are not engraved: no room, or letters that there are no strokes for
}

// The layers of what is cut, in the order of Layers.
const (
	cutOutline = "OUTLINE" // the outer edge
	cutHoles   = "HOLES"   // every edge within it: round holes, slots and cut-outs
	cutEngrave = "ENGRAVE" // single lines to engrave
)

// samePlace is how near two edges are that are one, mm.
const samePlace = 1e-3

// engraveHeight is how high capitals are engraved, mm.
const engraveHeight = 4.0

// ErrNoOutline says that a part cannot be cut.
var ErrNoOutline = errors.New("has no outline to cut along")

// CutOnly returns what is cut of a part as it is drawn, with new holes, and with the names of the part and its holes to engrave
// where that is wanted. It fails with ErrNoOutline, and where a slot's edge would cross itself.
func CutOnly(part model.Part, fresh []holes.Hole, engrave bool) (*Cut, error) {
	p := part.AsDrawn()
	if len(p.Outline) < 3 {
		return nil, ErrNoOutline
	}
	c := &Cut{Part: visible(p.Name), Outline: Path{Points: distinct(p.Outline), Closed: true, Pen: Outline}}
	for _, o := range p.Cutouts {
		c.Inner = append(c.Inner, Path{Points: distinct(o), Closed: true, Pen: Hole})
	}
	rows := holeRows(p, fresh)
	for _, r := range rows {
		if r.slot != nil {
			if knotted(*r.slot) {
				return nil, fmt.Errorf("has slot %s, whose edge would cross itself: its arc is too tight or too long for its width", r.id)
			}
			c.slot(slotPath(*r.slot, Hole))
			continue
		}
		c.round(Circle{Centre: r.at, Radius: r.d / 2, Pen: Hole})
	}
	if engrave {
		c.engrave(&p, rows)
	}
	return c, nil
}

// knotted reports whether the edge of an arc slot crosses itself: its width reaches its centre, or its ends meet round the circle.
func knotted(s holes.Slot) bool {
	if s.Turn == 0 {
		return false
	}
	return s.At().Distance(s.Centre) <= s.D/2 || math.Abs(s.Turn) > math.Pi && s.Along(0).Distance(s.Along(s.Length())) < s.D
}

// distinct leaves out corners that lie on the one before.
func distinct(points []plane.Point) []plane.Point {
	var all []plane.Point
	for i, p := range points {
		if p.Distance(points[(i+1)%len(points)]) > samePlace {
			all = append(all, p)
		}
	}
	return all
}

// round adds a hole that is not there yet.
func (c *Cut) round(k Circle) {
	for _, o := range c.Round {
		if o.Centre.Distance(k.Centre) < samePlace && math.Abs(o.Radius-k.Radius) < samePlace {
			return
		}
	}
	c.Round = append(c.Round, k)
}

// slot adds a slot that is not there yet, from whichever end.
func (c *Cut) slot(s Path) {
	for _, o := range c.Inner {
		same := len(o.Points) == 4 && o.Bulges != nil
		for _, p := range s.Points {
			near := false
			for _, q := range o.Points {
				near = near || p.Distance(q) < samePlace
			}
			same = same && near
		}
		if same {
			return
		}
	}
	c.Inner = append(c.Inner, s)
}

// drawing returns what is cut, without what is engraved, as a drawing.
func (c *Cut) drawing() *Drawing {
	d := &Drawing{Title: c.Part}
	d.path(c.Outline)
	for _, p := range c.Inner {
		d.path(p)
	}
	for _, k := range c.Round {
		d.circle(k.Centre, k.Radius, k.Pen)
	}
	return d
}

// engrave puts the names of holes beside them and that of the part where there is room, on the metal and clear of what is cut.
func (c *Cut) engrave(p *model.Part, rows []row) {
	const clear = 1.0
	var k ink
	k.add(c.drawing())
	put := func(text string, at plane.Point, off float64, reach int) {
		w, h, below := engravedSize(text, engraveHeight)
		spot, ok := placeAround(at, off, w, h, reach, func(b box) bool {
			b = box{b.lo.Sub(plane.Point{X: clear, Z: clear}), b.hi.Add(plane.Point{X: clear, Z: clear})}
			if !k.free(b) {
				return false
			}
			_, metal := p.EdgeDistance(b.lo)
			return metal
		})
		lines, known := engraved(text, plane.Point{X: spot.X, Z: spot.Z + below}, engraveHeight)
		if !ok || !known {
			c.Left = append(c.Left, text)
			return
		}
		c.Engrave = append(c.Engrave, lines...)
		k.texts = append(k.texts, box{spot, spot.Add(plane.Point{X: w, Z: h})}.corners())
	}
	for _, r := range rows {
		put(visible(r.id), r.at, r.d/2+2, 8)
	}
	_, middle := p.Area()
	put(c.Part, middle, 0, 60)
}

// Layers lists the layers of the file.
func (c *Cut) Layers() []string {
	if c.Engrave == nil {
		return []string{cutOutline, cutHoles}
	}
	return []string{cutOutline, cutHoles, cutEngrave}
}

// DXF writes what is cut as DXF of a release, in mm and in the part's own coordinates.
func (c *Cut) DXF(release Release) []byte {
	lo, hi := c.drawing().Bounds()
	var all []dxfLayer
	for i, l := range c.Layers() {
		all = append(all, dxfLayer{l, [...]int{7, 1, 5}[i]})
	}
	return dxf(release, all, lo, hi, func(f *dxfFile) {
		for _, p := range c.Inner {
			f.path(p, cutHoles)
		}
		for _, k := range c.Round {
			f.circle(k.Centre, k.Radius, cutHoles)
		}
		f.path(c.Outline, cutOutline)
		for _, p := range c.Engrave {
			f.path(p, cutEngrave)
		}
	})
}

// SVG writes what is cut as SVG in mm, a group for each layer: one unit is one mm, x is the part's own, y its z downwards. What is
// within comes before the outline, so that nothing moves before it is cut.
func (c *Cut) SVG() []byte {
	lo, hi := c.drawing().Bounds()
	w, h := number(hi.X-lo.X), number(hi.Z-lo.Z)
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" width="%smm" height="%smm" viewBox="%s %s %s %s">`+"\n", w, h, number(lo.X), number(-hi.Z), w, h)
	fmt.Fprintf(&b, "<title>%s</title>\n", html.EscapeString(c.Part))
	at := func(p plane.Point) (x, y string) { return number(p.X), number(-p.Z) }
	group := func(name, colour string, draw func()) {
		fmt.Fprintf(&b, "<g id=\"%s\" fill=\"none\" stroke=\"%s\" stroke-width=\"0.1\">\n", name, colour)
		draw()
		b.WriteString("</g>\n")
	}
	path := func(p Path) { fmt.Fprintf(&b, "<path d=\"%s\"/>\n", svgWay(p, at)) }
	if c.Engrave != nil {
		group(cutEngrave, "#0000ff", func() {
			for _, p := range c.Engrave {
				path(p)
			}
		})
	}
	group(cutHoles, "#ff0000", func() {
		for _, p := range c.Inner {
			path(p)
		}
		for _, k := range c.Round {
			x, y := at(k.Centre)
			fmt.Fprintf(&b, "<circle cx=\"%s\" cy=\"%s\" r=\"%s\"/>\n", x, y, number(k.Radius))
		}
	})
	group(cutOutline, "#000000", func() { path(c.Outline) })
	b.WriteString("</svg>\n")
	return []byte(b.String())
}

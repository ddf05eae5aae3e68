package cad

import (
	"math"
	"strconv"
	"strings"

	"stanchion/holes/plane"
)

// way is a path of SVG while its commands go by.
type way struct {
	s      *svgDrawing
	m      affine
	layer  string
	factor float64 // mm in one unit

	from, at plane.Point // where the piece that is open begins, and where the pen is, in the drawing's units
	handle   plane.Point // of the curve before, reflected by S and T
	edges    []edge      // of the piece that is open, in the part's frame
	lost     bool
}

// path takes what a path draws: closed pieces as outlines, others as edges.
func (s *svgDrawing) path(as *entity, m affine, d string) {
	factor := math.Sqrt(math.Abs(m.a*m.d-m.b*m.c)) * s.size * s.o.Scale
	if !(factor > 0) {
		s.pass(as, "which its group squeezes")
		return
	}
	w := &way{s: s, m: m, layer: as.layer(), factor: factor}
	t := &scanner{text: d}
	command := byte(0)
	for t.skip(); t.text != "" && len(s.edges)+len(w.edges) < maxEntities; t.skip() {
		if c := t.text[0]; strings.IndexByte("MmLlHhVvCcSsQqTtAaZz", c) >= 0 {
			command, t.text = c, t.text[1:]
		} else if command == 0 || command == 'Z' || command == 'z' {
			w.lost = true
			break
		}
		if !w.draw(command, t) {
			w.lost = true
			break
		}
		switch command { // further pairs behind a move are lines
		case 'M':
			command = 'L'
		case 'm':
			command = 'l'
		}
	}
	w.end(false)
	if w.lost {
		s.pass(as, "part of which is not understood or far away")
	}
}

// draw takes one command and its numbers; false when they are not there.
func (w *way) draw(command byte, t *scanner) bool {
	var rel plane.Point
	upper := command
	if command >= 'a' {
		upper, rel = command-'a'+'A', w.at
	}
	point := func() (plane.Point, bool) {
		x, ok1 := t.number()
		z, ok2 := t.number()
		return rel.Add(plane.Point{X: x, Z: z}), ok1 && ok2
	}
	var p [3]plane.Point
	need := func(n int) bool {
		for i := range n {
			var ok bool
			if p[i], ok = point(); !ok {
				return false
			}
		}
		return true
	}
	reflected := func() plane.Point { return w.at.Add(w.at.Sub(w.handle)) }
	last := w.at // the handle for the command after a line or a move
	switch upper {
	case 'M':
		if !need(1) {
			return false
		}
		w.end(false)
		w.from, w.at, last = p[0], p[0], p[0]
	case 'L':
		if !need(1) {
			return false
		}
		w.line(p[0])
		last = p[0]
	case 'H', 'V':
		x, ok := t.number()
		if !ok {
			return false
		}
		to := plane.Point{X: rel.X + x, Z: w.at.Z}
		if upper == 'V' {
			to = plane.Point{X: w.at.X, Z: rel.Z + x}
		}
		w.line(to)
		last = to
	case 'C':
		if !need(3) {
			return false
		}
		last = p[1]
		w.cubic(p[0], p[1], p[2])
	case 'S':
		if !need(2) {
			return false
		}
		last = p[0]
		w.cubic(reflected(), p[0], p[1])
	case 'Q', 'T':
		if n := map[byte]int{'Q': 2, 'T': 1}[upper]; !need(n) {
			return false
		}
		c, to := p[0], p[1]
		if upper == 'T' {
			c, to = reflected(), p[0]
		}
		last = c
		a := w.at
		w.cubic(a.Add(c.Sub(a).Times(2.0/3)), to.Add(c.Sub(to).Times(2.0/3)), to)
	case 'A':
		to, ok := w.arc(t, point)
		if !ok {
			return false
		}
		last = to
	case 'Z':
		w.end(true)
		last = w.at
	}
	w.handle = last
	return true
}

// place brings a place of the drawing into the part's frame.
func (w *way) place(p plane.Point) plane.Point {
	q := w.s.o.place(w.m.apply(p), w.s.size)
	w.lost = w.lost || far(q)
	return q
}

func (w *way) line(to plane.Point) {
	a, b := w.place(w.at), w.place(to)
	if a.Distance(b) > 1e-9 {
		w.edges = append(w.edges, edge{a: a, b: b})
	}
	w.at = to
}

// cubic draws a Bézier curve as straight pieces.
func (w *way) cubic(c1, c2, to plane.Point) {
	a := w.at
	curve := func(t float64) plane.Point {
		u := 1 - t
		return w.place(a.Times(u * u * u).Add(c1.Times(3 * u * u * t)).Add(c2.Times(3 * u * t * t)).Add(to.Times(t * t * t)))
	}
	w.through(curve, to)
}

// through draws a curve from the pen to a place as straight pieces.
func (w *way) through(curve func(t float64) plane.Point, to plane.Point) {
	before := w.place(w.at)
	if w.lost {
		w.at = to
		return
	}
	for _, q := range pieces(curve, curveFlat) {
		if before.Distance(q) > 1e-9 {
			w.edges = append(w.edges, edge{a: before, b: q})
		}
		before = q
	}
	w.at = to
}

// arc draws an elliptical arc: one of a circle in two halves as arcs, others as straight pieces.
// Source: W3C, SVG 1.1, appendix F.6 "Elliptical arc implementation notes".
func (w *way) arc(t *scanner, point func() (plane.Point, bool)) (to plane.Point, ok bool) {
	rx, ok1 := t.number()
	ry, ok2 := t.number()
	turned, ok3 := t.number()
	large, ok4 := t.flag()
	sweep, ok5 := t.flag()
	to, ok6 := point()
	if !(ok1 && ok2 && ok3 && ok4 && ok5 && ok6) {
		return to, false
	}
	rx, ry = math.Abs(rx), math.Abs(ry)
	from := w.at
	if rx == 0 || ry == 0 || from == to {
		w.line(to)
		return to, true
	}
	sin, cos := math.Sincos(turned * plane.Deg)
	d := from.Sub(to).Times(0.5)
	x, z := cos*d.X+sin*d.Z, -sin*d.X+cos*d.Z
	if grown := x*x/(rx*rx) + z*z/(ry*ry); grown > 1 {
		rx, ry = rx*math.Sqrt(grown), ry*math.Sqrt(grown)
	}
	k := math.Sqrt(max(0, (rx*rx*ry*ry-rx*rx*z*z-ry*ry*x*x)/(rx*rx*z*z+ry*ry*x*x)))
	if large == sweep {
		k = -k
	}
	cx, cz := k*rx*z/ry, -k*ry*x/rx
	mid := from.Add(to).Times(0.5)
	centre := plane.Point{X: cos*cx - sin*cz + mid.X, Z: sin*cx + cos*cz + mid.Z}
	a0 := math.Atan2((z-cz)/ry, (x-cx)/rx)
	turn := math.Mod(math.Atan2((-z-cz)/ry, (-x-cx)/rx)-a0, 2*math.Pi)
	if sweep && turn < 0 {
		turn += 2 * math.Pi
	} else if !sweep && turn > 0 {
		turn -= 2 * math.Pi
	}
	at := func(part float64) plane.Point {
		if part == 1 {
			return to // as it is written, so that pieces meet
		}
		s, c := math.Sincos(a0 + part*turn)
		return plane.Point{X: centre.X + cos*rx*c - sin*ry*s, Z: centre.Z + sin*rx*c + cos*ry*s}
	}
	_, mirrored, even := w.m.even()
	if !even || math.Abs(rx-ry) > 1e-6*rx {
		w.through(func(part float64) plane.Point { return w.place(at(part)) }, to)
		return to, true
	}
	bulge := math.Tan(turn / 8)
	if mirrored {
		bulge = -bulge
	}
	half := at(0.5)
	w.edges = append(w.edges, edge{w.place(from), w.place(half), bulge}, edge{w.place(half), w.place(to), bulge})
	w.at = to
	return to, true
}

// end closes the piece that is open, or leaves it open.
func (w *way) end(closed bool) {
	if closed {
		w.line(w.from)
	}
	edges := w.edges
	w.edges = nil
	if len(edges) == 0 {
		return
	}
	first, last := edges[0].a, edges[len(edges)-1].b
	if len(edges) > 1 && first.Distance(last) <= sameSpot {
		edges[len(edges)-1].b = first
		w.s.loops = append(w.s.loops, loop{edges: edges, layer: w.layer})
		return
	}
	for _, e := range edges {
		w.s.edges, w.s.layers = append(w.s.edges, e), append(w.s.layers, w.layer)
	}
}

// scanner takes numbers off the beginning of a path's text.
type scanner struct{ text string }

// skip takes what stands between numbers.
func (t *scanner) skip() { t.text = strings.TrimLeft(t.text, " ,\t\r\n\f") }

// number takes a number, which may run into the next: "1.5.5-3" is three.
func (t *scanner) number() (float64, bool) {
	t.skip()
	i, dot, exponent := 0, false, false
	for ; i < len(t.text); i++ {
		c := t.text[i]
		switch {
		case c >= '0' && c <= '9':
		case (c == '+' || c == '-') && (i == 0 || t.text[i-1]|0x20 == 'e'):
		case c == '.' && !dot && !exponent:
			dot = true
		case c|0x20 == 'e' && !exponent && i > 0:
			exponent = true
		default:
			goto done
		}
	}
done:
	x, err := strconv.ParseFloat(t.text[:i], 64)
	if err != nil || math.IsInf(x, 0) || math.IsNaN(x) {
		return 0, false
	}
	t.text = t.text[i:]
	return x, true
}

// flag takes 0 or 1, which needs nothing behind it.
func (t *scanner) flag() (bool, bool) {
	t.skip()
	if t.text == "" || t.text[0] != '0' && t.text[0] != '1' {
		return false, false
	}
	set := t.text[0] == '1'
	t.text = t.text[1:]
	return set, true
}

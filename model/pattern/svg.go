package pattern

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"stanchion/holes/plane"
)

// Round is a circle of a drawing.
type Round struct {
	At plane.Point // mm
	D  float64     // mm
}

// Limits on a drawing.
const (
	maxSVG     = 16 << 20 // bytes
	maxCircles = 2000
	maxNested  = 200
)

// svgUnits are the lengths of SVG in mm; a number alone is a pixel of 1/96 inch.
// Source: W3C, CSS Values and Units Level 3, 6.2 Absolute lengths.
var svgUnits = map[string]float64{"": 25.4 / 96, "px": 25.4 / 96, "mm": 1, "cm": 10, "in": 25.4, "pt": 25.4 / 72, "pc": 25.4 / 6, "q": 0.25}

// affine is x' = a·x + c·y + e, y' = b·x + d·y + f.
type affine struct{ a, b, c, d, e, f float64 }

func (m affine) then(n affine) affine { // n first
	return affine{m.a*n.a + m.c*n.b, m.b*n.a + m.d*n.b, m.a*n.c + m.c*n.d, m.b*n.c + m.d*n.d, m.a*n.e + m.c*n.f + m.e, m.b*n.e + m.d*n.f + m.f}
}

// CirclesOfSVG returns the circles of an SVG drawing in mm, z up, as the drawing's own width and
// viewBox scale it. Circles in patterns, symbols and clips are left out; of circles about one
// middle the smallest counts.
func CirclesOfSVG(data []byte) (all []Round, err error) {
	if len(data) > maxSVG {
		return nil, fmt.Errorf("%d bytes; the drawing may have %d MiB at most", len(data), maxSVG>>20)
	}
	dec := xml.NewDecoder(bytes.NewReader(data))
	dec.Strict = false
	dec.Entity = map[string]string{}
	dec.CharsetReader = func(_ string, in io.Reader) (io.Reader, error) { return in, nil }
	at, skip, svg := []affine{{a: 1, d: 1}}, 0, false
	for {
		token, err := dec.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, errors.New("the drawing is not valid XML; save it again as plain SVG")
		}
		switch e := token.(type) {
		case xml.StartElement:
			name := strings.ToLower(e.Name.Local)
			if skip > 0 || name == "defs" || name == "symbol" || name == "clippath" || name == "pattern" || name == "mask" || name == "marker" {
				skip++
				continue
			}
			if len(at) > maxNested {
				return nil, errors.New("its groups are nested too deep; save it as plain SVG")
			}
			m := at[len(at)-1].then(transform(attribute(e, "transform")))
			if name == "svg" {
				if !svg {
					m = m.then(page(e))
				}
				svg = true
			}
			at = append(at, m)
			rx, ry := number(attribute(e, "r")), number(attribute(e, "r"))
			if name == "ellipse" {
				rx, ry = number(attribute(e, "rx")), number(attribute(e, "ry"))
			}
			if name != "circle" && name != "ellipse" || !(rx > 0 && ry > 0) {
				continue
			}
			x, y := number(attribute(e, "cx")), number(attribute(e, "cy"))
			w, h := math.Hypot(m.a, m.b)*rx, math.Hypot(m.c, m.d)*ry
			p := plane.Point{X: m.a*x + m.c*y + m.e, Z: -(m.b*x + m.d*y + m.f)}
			if math.Abs(w-h) > 0.01*w || !(math.Abs(p.X) < 1e5 && math.Abs(p.Z) < 1e5) {
				continue // no round hole
			}
			if all = addRound(all, Round{p, 2 * w}); len(all) > maxCircles {
				return nil, fmt.Errorf("more than %d circles; draw the part alone", maxCircles)
			}
		case xml.EndElement:
			if skip > 0 {
				skip--
			} else if len(at) > 1 {
				at = at[:len(at)-1]
			}
		}
	}
	if !svg {
		return nil, errors.New("it holds no SVG drawing")
	}
	return all, nil
}

// addRound adds a circle; of those about one middle the smallest stays.
func addRound(all []Round, r Round) []Round {
	for i, o := range all {
		if o.At.Distance(r.At) < 0.05 {
			all[i].D = min(o.D, r.D)
			return all
		}
	}
	return append(all, r)
}

func attribute(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

func number(s string) float64 {
	x, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(s), "px")), 64)
	if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
		return 0
	}
	return x
}

// page scales the drawing's units to mm: width over the viewBox's width, or pixels.
func page(e xml.StartElement) affine {
	size := svgUnits[""]
	box := numbers(attribute(e, "viewBox"))
	width := strings.ToLower(strings.TrimSpace(attribute(e, "width")))
	if i := strings.LastIndexAny(width, "0123456789."); len(box) == 4 && box[2] > 0 && i >= 0 {
		if mm, ok := svgUnits[strings.TrimSpace(width[i+1:])]; ok && number(width[:i+1]) > 0 {
			size = number(width[:i+1]) * mm / box[2]
		}
	}
	return affine{a: size, d: size}
}

func numbers(s string) (all []float64) {
	for _, w := range strings.FieldsFunc(s, func(r rune) bool { return r == ' ' || r == ',' || r == '\n' || r == '\t' }) {
		all = append(all, number(w))
	}
	return all
}

// transform reads a list of transforms; what it does not know it leaves out.
func transform(s string) affine {
	m := affine{a: 1, d: 1}
	for {
		name, rest, ok := strings.Cut(s, "(")
		list, next, closed := strings.Cut(rest, ")")
		if !ok || !closed {
			return m
		}
		s = next
		n := append(numbers(list), make([]float64, 6)...)
		given := len(n) - 6
		switch strings.Trim(strings.ToLower(name), " ,\n\t") {
		case "matrix":
			m = m.then(affine{n[0], n[1], n[2], n[3], n[4], n[5]})
		case "translate":
			m = m.then(affine{1, 0, 0, 1, n[0], n[1]})
		case "scale":
			if given < 2 {
				n[1] = n[0]
			}
			m = m.then(affine{n[0], 0, 0, n[1], 0, 0})
		case "rotate":
			sin, cos := math.Sincos(n[0] * plane.Deg)
			m = m.then(affine{1, 0, 0, 1, n[1], n[2]}).then(affine{cos, sin, -sin, cos, 0, 0}).then(affine{1, 0, 0, 1, -n[1], -n[2]})
		}
	}
}

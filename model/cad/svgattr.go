package cad

import (
	"encoding/xml"
	"math"
	"strings"

	"stanchion/holes/plane"
)

func attribute(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

// hidden reports whether an element says that it is not shown.
func hidden(e xml.StartElement) bool {
	style := strings.ReplaceAll(attribute(e, "style"), " ", "")
	return attribute(e, "display") == "none" || attribute(e, "visibility") == "hidden" || strings.Contains(style, "display:none") ||
		strings.Contains(style, "visibility:hidden")
}

// svgNumber reads a number; 0 for none.
func svgNumber(s string) float64 {
	x := parse(strings.TrimSuffix(strings.TrimSpace(s), "px"))
	if math.IsNaN(x) {
		return 0
	}
	return x
}

// svgNumbers reads a list of numbers.
func svgNumbers(s string) (all []float64) {
	t := scanner{s}
	for {
		x, ok := t.number()
		if !ok {
			return all
		}
		all = append(all, x)
	}
}

// pageSize returns what one unit of the drawing is, mm: its width over the viewBox's, or a pixel.
func pageSize(e xml.StartElement) float64 {
	box := svgNumbers(attribute(e, "viewBox"))
	width := strings.ToLower(strings.TrimSpace(attribute(e, "width")))
	if i := strings.LastIndexAny(width, "0123456789."); len(box) == 4 && box[2] > 0 && i >= 0 {
		if mm, ok := svgUnits[strings.TrimSpace(width[i+1:])]; ok && svgNumber(width[:i+1]) > 0 {
			return svgNumber(width[:i+1]) * mm / box[2]
		}
	}
	return svgUnits[""]
}

// transform reads a list of transforms; what it does not know it leaves out.
// Source: W3C, SVG 1.1, 7.6 The transform attribute.
func transform(s string) affine {
	m := same
	for {
		name, rest, ok := strings.Cut(s, "(")
		list, next, closed := strings.Cut(rest, ")")
		if !ok || !closed {
			return m
		}
		s = next
		n := svgNumbers(list)
		given := len(n)
		n = append(n, make([]float64, 6)...)
		switch strings.Trim(strings.ToLower(name), " ,\n\t\r") {
		case "matrix":
			m = m.then(affine{n[0], n[2], n[1], n[3], n[4], n[5]})
		case "translate":
			m = m.then(affine{a: 1, d: 1, x0: n[0], z0: n[1]})
		case "scale":
			if given < 2 {
				n[1] = n[0]
			}
			m = m.then(affine{a: n[0], d: n[1]})
		case "rotate":
			sin, cos := math.Sincos(n[0] * plane.Deg)
			m = m.then(affine{a: 1, d: 1, x0: n[1], z0: n[2]}).then(affine{cos, -sin, sin, cos, 0, 0}).then(affine{a: 1, d: 1, x0: -n[1], z0: -n[2]})
		case "skewx":
			m = m.then(affine{a: 1, b: math.Tan(n[0] * plane.Deg), d: 1})
		case "skewy":
			m = m.then(affine{a: 1, c: math.Tan(n[0] * plane.Deg), d: 1})
		}
	}
}

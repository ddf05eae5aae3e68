package cad

import (
	"encoding/xml"
	"fmt"
	"math"
	"strings"

	"stanchion/holes/plane"
	"stanchion/model/units"
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

// svgLength reads a length in the drawing's units, of which one with a unit of its own has 96 to the inch; 0 for none. It is not
// read where it is a part of the page, or no length.
func svgLength(s string) (x float64, read bool) {
	s = strings.ToLower(strings.TrimSpace(s))
	if s == "" {
		return 0, true
	}
	end := strings.LastIndexAny(s, "0123456789.") + 1
	mm, ok := svgUnits[strings.TrimSpace(s[end:])]
	x = parse(s[:end])
	if !ok || math.IsNaN(x) {
		return 0, false
	}
	return x * mm / svgUnits[""], true
}

// sized lists, of the elements that have them, the lengths that say where they are and how large.
var sized = map[string][]string{"circle": {"cx", "cy", "r"}, "ellipse": {"cx", "cy", "rx", "ry"}, "line": {"x1", "y1", "x2", "y2"},
	"rect": {"x", "y", "width", "height", "rx", "ry"}}

// unread returns the length of an element, as name="value", that is not read; "" when all are.
func unread(name string, e xml.StartElement) string {
	for _, key := range sized[name] {
		value := attribute(e, key)
		if _, ok := svgLength(value); !ok && value != "auto" {
			return units.Printable(key + `="` + value + `"`)
		}
	}
	return ""
}

// guessedPixels is said of a drawing whose size is given in pixels, or not at all: programs differ in what a pixel is.
const guessedPixels = "the drawing does not give its size in mm or inches: it is read at 96 pixels to the inch; if it comes out the wrong size, give --unit"

// pageSize returns what one unit of the drawing is, mm: its width over the viewBox's, or its height, the smaller where they differ; or
// a pixel. note says what was guessed.
// Source: W3C, SVG 1.1, 7.7 The viewBox attribute, 7.8 The preserveAspectRatio attribute: "meet" unless it says otherwise.
func pageSize(e xml.StartElement) (size float64, note string) {
	box := svgNumbers(attribute(e, "viewBox"))
	scale := func(key string, of int) float64 {
		value := strings.ToLower(strings.TrimSpace(attribute(e, key)))
		mm, ok := svgLength(value)
		if !ok || len(box) != 4 || !(box[of] > 0) || !(mm > 0) {
			return 0
		}
		return mm * svgUnits[""] / box[of]
	}
	wide, high := scale("width", 2), scale("height", 3)
	inPixels := func(key string) string {
		if strings.TrimRight(strings.ToLower(strings.TrimSpace(attribute(e, key))), "px0123456789. ") == "" {
			return guessedPixels
		}
		return ""
	}
	switch {
	case wide == 0 && high == 0:
		return svgUnits[""], guessedPixels
	case wide == 0:
		return high, inPixels("height")
	case high == 0 || math.Abs(wide-high) <= 2e-3*wide: // rounded
		return wide, inPixels("width")
	}
	return min(wide, high), fmt.Sprintf("CHECK THE SIZE: the drawing's width says %.4g mm to its unit and its height %.4g mm; the smaller is taken", wide, high)
}

// transform reads a list of transforms; known is false where one of them is not.
// Source: W3C, SVG 1.1, 7.6 The transform attribute.
func transform(s string) (m affine, known bool) {
	m = same
	for {
		name, rest, ok := strings.Cut(s, "(")
		list, next, closed := strings.Cut(rest, ")")
		if !ok || !closed {
			return m, strings.Trim(name, " ,\n\t\r") == "" || name == "none"
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
		default:
			return m, false
		}
	}
}

package cad

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strings"

	"stanchion/holes/plane"
	"stanchion/model/units"
)

// svgUnits are the lengths of SVG in mm; a number alone is a pixel of 1/96 inch.
// Source: W3C, "CSS Values and Units Module Level 3", 6.2 Absolute lengths.
var svgUnits = map[string]float64{"": units.Inch / 96, "px": units.Inch / 96, "mm": 1, "cm": 10, "in": units.Inch, "pt": units.Inch / 72,
	"pc": units.Inch / 6, "q": 0.25}

// maxNested is how deep groups may lie in groups, and maxSkipped elements in what is not drawn.
const (
	maxNested  = 200
	maxSkipped = 2000
)

// notDrawn are elements whose content is not on the drawing, or only elsewhere.
var notDrawn = map[string]bool{"defs": true, "symbol": true, "clippath": true, "pattern": true, "mask": true, "marker": true, "style": true,
	"script": true, "metadata": true, "title": true, "desc": true, "namedview": true}

// svgDrawing is an SVG drawing while its elements go by.
type svgDrawing struct {
	*gathering
	at     []affine // of the groups that are open, in mm with z up
	layer  []string
	skip   int // open elements that are not drawn
	begun  bool
	writes *label // the text that is open

	styled     bool // a style sheet is open
	sheetHides bool // a style sheet changes what is shown, or where
}

// changesShape finds in a style sheet without spaces what hides, moves or sizes shapes.
var changesShape = regexp.MustCompile(`display:none|visibility:(hidden|collapse)|transform:|[;{](cx|cy|r|rx|ry|x|y|d|width|height):`)

var errNested = errors.New("its groups are nested too deep; save it as plain SVG")

// readSVG reads an SVG drawing: what it draws with lines, curves and circles, in mm as its width and viewBox say.
// Source: W3C, "Scalable Vector Graphics (SVG) 1.1 (Second Edition)", 7 Coordinate systems, 8 Paths, 9 Basic shapes.
func readSVG(data []byte, o Options) (Found, error) {
	g := &gathering{file: &file{}, o: o, size: 1, passed: map[string]int{}}
	s := &svgDrawing{gathering: g, at: []affine{{a: 1, d: -1}}, layer: []string{"0"}}
	dec := xml.NewDecoder(bytes.NewReader(data))
	dec.Strict = false
	dec.Entity = map[string]string{}
	dec.CharsetReader = func(_ string, in io.Reader) (io.Reader, error) { return in, nil }
	for {
		token, err := dec.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return Found{}, errors.New("the drawing is not valid XML; save it again as plain SVG")
		}
		switch e := token.(type) {
		case xml.StartElement:
			line, _ := dec.InputPos()
			if err := s.open(e, line); err != nil {
				return Found{}, err
			}
		case xml.CharData:
			if s.styled && s.skip == 1 {
				sheet := strings.ReplaceAll(strings.ToLower(string(e)), " ", "")
				s.sheetHides = s.sheetHides || changesShape.MatchString(sheet)
			}
			if s.writes != nil && s.skip == 0 {
				s.writes.text += string(e)
			}
		case xml.EndElement:
			s.close(strings.ToLower(e.Name.Local))
		}
	}
	if !s.begun {
		return Found{}, errors.New("it holds no SVG drawing")
	}
	if s.sheetHides {
		s.notes = append(s.notes, "CHECK WHAT IS SHOWN: the drawing hides or moves things by a style sheet, which is not read; save it as plain SVG without them")
	}
	g.join()
	return g.found()
}

// open takes an element, and where what lies in it goes.
func (s *svgDrawing) open(e xml.StartElement, line int) error {
	name := strings.ToLower(e.Name.Local)
	if name == "style" && s.skip == 0 {
		s.styled = true
	}
	if s.skip > 0 || notDrawn[name] || hidden(e) {
		s.skip++
		if s.skip > maxSkipped {
			return errNested
		}
		return nil
	}
	if len(s.at) > maxNested {
		return errNested
	}
	if s.count++; s.count > maxEntities {
		return fmt.Errorf("more than %d elements; draw the part alone", maxEntities)
	}
	own, known := transform(attribute(e, "transform"))
	why := ""
	switch {
	case name == "svg" && s.begun:
		why = "which lies in another and may be scaled: ungroup it"
	case !known || strings.Contains(strings.ReplaceAll(attribute(e, "style"), " ", ""), "transform:"):
		why = "moved or turned in a way that is not read: save it as plain SVG"
	}
	if why != "" { // with all that it holds: where that lies is not known
		s.pass(&entity{kind: name, line: line, pairs: []pair{{8, s.layer[len(s.layer)-1]}}}, why)
		s.skip++
		return nil
	}
	m := s.at[len(s.at)-1].then(own)
	if name == "svg" && !s.begun {
		size, note := pageSize(e)
		if s.o.Unit > 0 { // a person knows better
			size, note = s.o.Unit, ""
		}
		if note != "" {
			s.notes = append(s.notes, note)
		}
		m, s.begun = m.then(affine{a: size, d: size}), true
	}
	layer := s.layer[len(s.layer)-1]
	if label := attribute(e, "label"); name == "g" && label != "" {
		layer = label
	}
	s.at, s.layer = append(s.at, m), append(s.layer, layer)
	s.element(name, e, m, &entity{kind: name, line: line, pairs: []pair{{8, layer}}})
	return nil
}

func (s *svgDrawing) close(name string) {
	if s.skip > 0 {
		if s.skip--; s.skip == 0 {
			s.styled = false
		}
		return
	}
	if len(s.at) > 1 {
		s.at, s.layer = s.at[:len(s.at)-1], s.layer[:len(s.layer)-1]
	}
	if name == "text" && s.writes != nil {
		s.writes.text = strings.TrimSpace(s.writes.text)
		s.texts = append(s.texts, *s.writes)
		s.writes = nil
	}
}

// element takes what an element draws.
func (s *svgDrawing) element(name string, e xml.StartElement, m affine, as *entity) {
	if len(s.o.Layers) > 0 && !asked(s.o.Layers, as.layer()) {
		if name != "g" && name != "svg" {
			s.pass(as, "which was not asked for")
		}
		return
	}
	if key := unread(name, e); key != "" {
		s.pass(as, "whose "+key+" is not read")
		return
	}
	n := func(key string) float64 { x, _ := svgLength(attribute(e, key)); return x }
	point := func(x, y string) plane.Point { return plane.Point{X: n(x), Z: n(y)} }
	switch name {
	case "svg", "g", "a", "switch", "tspan":
	case "circle":
		s.circle(as, m, point("cx", "cy"), n("r"))
	case "ellipse":
		s.oval(as, m, point("cx", "cy"), n("rx"), n("ry"))
	case "rect":
		s.rectangle(as, m, point("x", "y"), n("width"), n("height"), attribute(e, "rx"), attribute(e, "ry"))
	case "line":
		s.row(as.layer(), s.placedRow([]plane.Point{point("x1", "y1"), point("x2", "y2")}, m))
	case "polyline", "polygon":
		s.polygon(as, m, attribute(e, "points"), name == "polygon")
	case "path":
		s.path(as, m, attribute(e, "d"))
	case "text":
		s.writes = &label{at: s.o.place(m.apply(point("x", "y")), s.size)}
	case "use":
		s.pass(as, "a copy of what is drawn elsewhere: unlink it in the drawing program")
	default:
		s.pass(as, "")
	}
}

func asked(layers []string, layer string) bool {
	for _, l := range layers {
		if strings.EqualFold(l, layer) {
			return true
		}
	}
	return false
}

// placedRow brings places of an element into the part's frame; nil where one is far away.
func (s *svgDrawing) placedRow(places []plane.Point, m affine) []plane.Point {
	out := make([]plane.Point, len(places))
	for i, p := range places {
		if out[i] = s.o.place(m.apply(p), s.size); far(out[i]) {
			return nil
		}
	}
	return out
}

// oval takes an ellipse: round where it is, and where its group squeezes it round.
func (s *svgDrawing) oval(as *entity, m affine, c plane.Point, rx, ry float64) {
	if !(rx > 0 && ry > 0) {
		s.pass(as, "without a size")
		return
	}
	stretched := m.then(affine{a: rx, d: ry, x0: c.X, z0: c.Z})
	s.circle(as, stretched, plane.Point{}, 1)
}

// rectangle takes one as its four sides; rounded corners are left square where they are given in a way that is not read.
func (s *svgDrawing) rectangle(as *entity, m affine, at plane.Point, w, h float64, rx, ry string) {
	if !(w > 0 && h > 0) {
		s.pass(as, "without a size")
		return
	}
	if rx == "" {
		rx = ry
	}
	if ry == "" {
		ry = rx
	}
	x, _ := svgLength(rx)
	y, _ := svgLength(ry)
	x, y = min(x, w/2), min(y, h/2)
	if x > 0 && y > 0 {
		s.path(as, m, fmt.Sprintf("M%g %gh%ga%g %g 0 0 1 %g %gv%ga%g %g 0 0 1 %g %gh%ga%g %g 0 0 1 %g %gv%ga%g %g 0 0 1 %g %gz", at.X+x, at.Z, w-2*x,
			x, y, x, y, h-2*y, x, y, -x, y, -(w-2*x), x, y, -x, -y, -(h-2*y), x, y, x, -y))
		return
	}
	s.path(as, m, fmt.Sprintf("M%g %gh%gv%gh%gz", at.X, at.Z, w, h, -w))
}

func (s *svgDrawing) polygon(as *entity, m affine, list string, closed bool) {
	n := svgNumbers(list)
	var places []plane.Point
	for i := 0; i+1 < len(n); i += 2 {
		places = append(places, plane.Point{X: n[i], Z: n[i+1]})
	}
	if closed && len(places) > 0 {
		places = append(places, places[0])
	}
	if places = s.placedRow(places, m); len(places) < 2 {
		s.pass(as, "with fewer than two corners, or which is far away")
		return
	}
	s.row(as.layer(), places)
}

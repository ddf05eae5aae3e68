package drawing

import (
	"bytes"
	"fmt"
	"strings"

	"stanchion/holes/plane"
)

// dxfColour is the colour number of each layer. Source: the AutoCAD colour index of
// the DXF reference, 1 red to 7 white or black.
var dxfColour = [pens]int{7, 7, 6, 8, 5, 7, 8, 7}

// DXF writes the drawing as DXF of release 12, in mm and in the drawing's own
// coordinates. Outlines and slots are closed polylines, round holes circles, ids
// texts on a layer of their own beside their holes.
//
// Source: Autodesk, "DXF Reference" for release 12: group codes of HEADER, TABLES and
// ENTITIES.
func (d *Drawing) DXF() []byte {
	var b bytes.Buffer
	put := func(pairs ...any) {
		for i := 0; i+1 < len(pairs); i += 2 {
			v := pairs[i+1]
			if x, ok := v.(float64); ok {
				v = fixedPoint(x)
			}
			fmt.Fprintf(&b, "%3d\r\n%v\r\n", pairs[i], v)
		}
	}
	lo, hi := d.Bounds()
	put(0, "SECTION", 2, "HEADER", 9, "$ACADVER", 1, "AC1009", 9, "$INSUNITS", 70, 4, 9, "$MEASUREMENT", 70, 1,
		9, "$EXTMIN", 10, lo.X, 20, lo.Z, 30, 0.0, 9, "$EXTMAX", 10, hi.X, 20, hi.Z, 30, 0.0, 0, "ENDSEC")
	put(0, "SECTION", 2, "TABLES", 0, "TABLE", 2, "LTYPE", 70, 1,
		0, "LTYPE", 2, "CONTINUOUS", 70, 0, 3, "Solid line", 72, 65, 73, 0, 40, 0.0, 0, "ENDTAB")
	put(0, "TABLE", 2, "LAYER", 70, int(pens))
	for i, name := range layers {
		put(0, "LAYER", 2, name, 70, 0, 62, dxfColour[i], 6, "CONTINUOUS")
	}
	put(0, "ENDTAB", 0, "TABLE", 2, "STYLE", 70, 1, 0, "STYLE", 2, "STANDARD", 70, 0, 40, 0.0, 41, 1.0, 50, 0.0, 71, 0, 42, 2.5, 3,
		"txt", 4, "",
		0, "ENDTAB", 0, "ENDSEC")
	put(0, "SECTION", 2, "BLOCKS", 0, "ENDSEC", 0, "SECTION", 2, "ENTITIES")
	for _, p := range d.Paths {
		layer := layers[p.Pen]
		if len(p.Points) == 2 && !p.Closed && p.Bulges == nil {
			put(0, "LINE", 8, layer, 10, p.Points[0].X, 20, p.Points[0].Z, 30, 0.0, 11, p.Points[1].X, 21, p.Points[1].Z, 31, 0.0)
			continue
		}
		closed := 0
		if p.Closed {
			closed = 1
		}
		put(0, "POLYLINE", 8, layer, 66, 1, 70, closed, 10, 0.0, 20, 0.0, 30, 0.0)
		for i, q := range p.Points {
			put(0, "VERTEX", 8, layer, 10, q.X, 20, q.Z, 30, 0.0)
			if p.Bulges != nil {
				put(42, p.Bulges[i])
			}
		}
		put(0, "SEQEND", 8, layer)
	}
	for _, c := range d.Circles {
		put(0, "CIRCLE", 8, layers[c.Pen], 10, c.Centre.X, 20, c.Centre.Z, 30, 0.0, 40, c.Radius)
	}
	for _, t := range d.Texts {
		put(0, "TEXT", 8, layers[t.Pen], 10, t.At.X, 20, t.At.Z, 30, 0.0, 40, t.Size*0.72, 1, dxfText(t.Text), 7, "STANDARD")
		if t.Up {
			put(50, 90.0)
		}
		if t.Anchor != 0 {
			put(72, t.Anchor, 11, t.At.X, 21, t.At.Z, 31, 0.0)
		}
	}
	for _, l := range bars() {
		a, c := l[0], l[1]
		shift := plane.Point{X: lo.X - margin, Z: lo.Z - margin}
		put(0, "LINE", 8, "TEXT", 10, a.X+shift.X, 20, a.Z+shift.Z, 30, 0.0, 11, c.X+shift.X, 21, c.Z+shift.Z, 31, 0.0)
	}
	put(0, "ENDSEC", 0, "EOF")
	return b.Bytes()
}

// fixedPoint spells a number with a point, as some readers want it.
func fixedPoint(x float64) string {
	s := number(x)
	if !strings.Contains(s, ".") {
		s += ".0"
	}
	return s
}

// dxfText spells text in the signs that every reader of release 12 knows: those
// beyond ASCII as %%d for °, %%c for a diameter, %%p for ± or \U+XXXX.
func dxfText(s string) string {
	var b strings.Builder
	for _, r := range s {
		switch {
		case r == '°':
			b.WriteString("%%d")
		case r == 'Ø' || r == '⌀':
			b.WriteString("%%c")
		case r == '±':
			b.WriteString("%%p")
		case r == '−':
			b.WriteByte('-')
		case r > 126:
			fmt.Fprintf(&b, "\\U+%04X", r)
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

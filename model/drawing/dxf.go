package drawing

import (
	"bytes"
	"fmt"
	"strings"

	"stanchion/holes/plane"
)

// Release is which DXF a file is written in.
type Release int

// The releases: 12 is read by everything; 2000 has polylines in one piece, and says in its header that it is in mm.
const (
	R12 Release = iota
	R2000
)

// ReleaseNamed finds a release by its name, "r12" or "r2000".
func ReleaseNamed(name string) (Release, bool) {
	switch strings.ToLower(name) {
	case "r12":
		return R12, true
	case "r2000":
		return R2000, true
	}
	return 0, false
}

func (r Release) String() string { return [...]string{"R12", "R2000"}[r] }

// dxfLayer is a layer and its colour number. Source of the numbers: the AutoCAD colour index of the DXF reference, 1 red
// to 7 white or black.
type dxfLayer struct {
	name   string
	colour int
}

// dxfColour is the colour number of each pen's layer.
var dxfColour = [pens]int{7, 7, 6, 8, 5, 7, 8, 7}

// dxfFile writes the entities of a DXF in mm.
//
// Source: Autodesk, "DXF Reference" for releases 12 and 2000: group codes of HEADER, TABLES, BLOCKS, ENTITIES and OBJECTS.
type dxfFile struct {
	bytes.Buffer
	release Release
	handle  int // the last one given
}

// put writes pairs of a group code and a value.
func (f *dxfFile) put(pairs ...any) {
	for i := 0; i+1 < len(pairs); i += 2 {
		v := pairs[i+1]
		if x, ok := v.(float64); ok {
			v = fixedPoint(x)
		}
		fmt.Fprintf(f, "%3d\r\n%v\r\n", pairs[i], v)
	}
}

// entity begins an entity on a layer.
func (f *dxfFile) entity(kind, class, layer string) {
	f.put(0, kind)
	if f.release == R12 {
		f.put(8, layer)
		return
	}
	f.put(5, f.next(), 330, modelSpace, 100, "AcDbEntity", 8, layer, 100, class)
}

// next gives a handle, hexadecimal.
func (f *dxfFile) next() string {
	f.handle++
	return fmt.Sprintf("%X", f.handle)
}

func (f *dxfFile) line(a, b plane.Point, layer string) {
	f.entity("LINE", "AcDbLine", layer)
	f.put(10, a.X, 20, a.Z, 30, 0.0, 11, b.X, 21, b.Z, 31, 0.0)
}

func (f *dxfFile) circle(c plane.Point, r float64, layer string) {
	f.entity("CIRCLE", "AcDbCircle", layer)
	f.put(10, c.X, 20, c.Z, 30, 0.0, 40, r)
}

// path writes a polyline, closed or not, with arcs as bulges.
func (f *dxfFile) path(p Path, layer string) {
	closed := 0
	if p.Closed {
		closed = 1
	}
	if f.release == R2000 {
		f.entity("LWPOLYLINE", "AcDbPolyline", layer)
		f.put(90, len(p.Points), 70, closed)
		for i, q := range p.Points {
			f.put(10, q.X, 20, q.Z)
			if p.Bulges != nil && p.Bulges[i] != 0 {
				f.put(42, p.Bulges[i])
			}
		}
		return
	}
	f.put(0, "POLYLINE", 8, layer, 66, 1, 70, closed, 10, 0.0, 20, 0.0, 30, 0.0)
	for i, q := range p.Points {
		f.put(0, "VERTEX", 8, layer, 10, q.X, 20, q.Z, 30, 0.0)
		if p.Bulges != nil {
			f.put(42, p.Bulges[i])
		}
	}
	f.put(0, "SEQEND", 8, layer)
}

func (f *dxfFile) text(t Text, layer string) {
	f.entity("TEXT", "AcDbText", layer)
	f.put(10, t.At.X, 20, t.At.Z, 30, 0.0, 40, t.Size*0.72, 1, dxfText(t.Text))
	if a := t.angle(); a != 0 {
		f.put(50, a/plane.Deg)
	}
	f.put(7, "STANDARD")
	if t.Anchor != 0 {
		f.put(72, t.Anchor, 11, t.At.X, 21, t.At.Z, 31, 0.0)
	}
	if f.release == R2000 {
		f.put(100, "AcDbText")
	}
}

// DXF writes the drawing as DXF of release 12, in mm and in the drawing's own
// coordinates. Outlines and slots are closed polylines, round holes circles, ids
// texts on a layer of their own beside their holes.
func (d *Drawing) DXF() []byte { return d.DXFAs(R12) }

// DXFAs writes the drawing as DXF of a release.
func (d *Drawing) DXFAs(release Release) []byte {
	d = d.Whole()
	lo, hi := d.Bounds()
	var all []dxfLayer
	for i, name := range layers {
		all = append(all, dxfLayer{name, dxfColour[i]})
	}
	return dxf(release, all, lo, hi, func(f *dxfFile) {
		for _, p := range d.Paths {
			if len(p.Points) == 2 && !p.Closed && p.Bulges == nil {
				f.line(p.Points[0], p.Points[1], layers[p.Pen])
				continue
			}
			f.path(p, layers[p.Pen])
		}
		for _, c := range d.Circles {
			f.circle(c.Centre, c.Radius, layers[c.Pen])
		}
		for _, t := range d.Texts {
			f.text(t, layers[t.Pen])
		}
		shift := plane.Point{X: lo.X - margin, Z: lo.Z - margin}
		for _, l := range bars() {
			if !d.Picture {
				f.line(l[0].Add(shift), l[1].Add(shift), "TEXT")
			}
		}
	})
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

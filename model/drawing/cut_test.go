package drawing

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/cad"
)

// plateToCut has every kind of edge: two holes, one of them twice, a straight and an arc slot, one of them twice, and a cut-out.
func plateToCut() model.Part {
	straight := holes.Slot{Hole: holes.Hole{ID: "S", X: 40, Z: 80, D: 8.5}, To: plane.Point{X: 60, Z: 90}, Step: 2}
	bent := holes.Slot{Hole: holes.Hole{ID: "A", X: 160, Z: 60, D: 8.5}, Centre: plane.Point{X: 100, Z: 60}, Turn: -0.4, Step: 2}
	again := straight
	again.ID, again.X, again.Z, again.To = "S again", 60, 90, plane.Point{X: 40, Z: 80}
	return model.Part{Part: holes.Part{Name: "plate 1", Holes: append([]holes.Hole{{ID: "k1", X: 20, Z: 20, D: 8.4}, {ID: "k2", X: 60, Z: 20, D: 6.6},
		{ID: "k1 again", X: 20, Z: 20, D: 8.4}}, straight.Positions()...)}, Slots: []holes.Slot{straight, bent, again},
		Outline: []plane.Point{{}, {X: 200}, {X: 200, Z: 150.5}, {X: 200, Z: 150.5}, {X: 10, Z: 140}},
		Cutouts: [][]plane.Point{{{X: 90, Z: 90}, {X: 140, Z: 90}, {X: 140, Z: 130}, {X: 90, Z: 130}}}}
}

// entity is one entity of a DXF: what it is, on which layer, and its pairs of code and value.
type entity struct {
	kind, layer string
	pairs       [][2]string
	vertices    []entity
}

func (e entity) number(code string) float64 {
	for _, p := range e.pairs {
		if p[0] == code {
			v, _ := strconv.ParseFloat(p[1], 64)
			return v
		}
	}
	return 0
}

// entities reads a DXF's header values and entities.
func entities(t *testing.T, data []byte) (header map[string]string, all []entity) {
	t.Helper()
	lines := strings.Split(strings.TrimSuffix(string(data), "\r\n"), "\r\n")
	header = map[string]string{}
	section, variable := "", ""
	for i := 0; i+1 < len(lines); i += 2 {
		code, value := strings.TrimSpace(lines[i]), lines[i+1]
		switch {
		case code == "2" && lines[i-1] == "SECTION":
			section = value
		case code == "9":
			variable = value
		case section == "HEADER":
			header[variable] += value
		case section == "ENTITIES" && code == "0" && value == "VERTEX":
			last := &all[len(all)-1]
			last.vertices = append(last.vertices, entity{kind: value})
		case section == "ENTITIES" && code == "0" && value == "ENDSEC":
			section = ""
		case section == "ENTITIES" && code == "0" && value != "SEQEND":
			all = append(all, entity{kind: value})
		case section == "ENTITIES":
			e := &all[len(all)-1]
			if n := len(e.vertices); n > 0 {
				e = &e.vertices[n-1]
			}
			if code == "8" {
				e.layer = value
			}
			e.pairs = append(e.pairs, [2]string{code, value})
		}
	}
	return header, all
}

// A file to cut has one closed outline, each hole once, each slot and cut-out once and closed, on their layers, and nothing else; both
// releases say mm, and the program's own reader finds the same plate in them.
func TestCutOnlyDXF(t *testing.T) {
	p := plateToCut()
	c, err := CutOnly(p, nil, false)
	if err != nil {
		t.Fatal(err)
	}
	for _, release := range []Release{R12, R2000} {
		data := c.DXF(release)
		header, all := entities(t, data)
		if header["$INSUNITS"] != "4" || header["$ACADVER"] != map[Release]string{R12: "AC1009", R2000: "AC1015"}[release] {
			t.Errorf("%v: header %v", release, header)
		}
		counts := map[string]int{}
		for _, e := range all {
			counts[e.kind+" "+e.layer]++
			if strings.HasSuffix(e.kind, "POLYLINE") && e.number("70") != 1 {
				t.Errorf("%v: an open %s on %s", release, e.kind, e.layer)
			}
		}
		poly := map[Release]string{R12: "POLYLINE", R2000: "LWPOLYLINE"}[release]
		if want := fmt.Sprint(map[string]int{poly + " OUTLINE": 1, poly + " HOLES": 3, "CIRCLE HOLES": 2}); fmt.Sprint(counts) != want {
			t.Errorf("%v: %v, want %s", release, counts, want)
		}
		for _, e := range all {
			if e.kind == "CIRCLE" && !(e.number("10") == 20 && e.number("40") == 4.2 || e.number("10") == 60 && e.number("40") == 3.3) {
				t.Errorf("%v: a circle of %g at %g, %g", release, e.number("40"), e.number("10"), e.number("20"))
			}
		}
		f, err := cad.Read("plate.dxf", data, cad.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if len(f.Holes) != 2 || len(f.Slots) != 2 || len(f.Outline) != 4 || len(f.Cutouts) != 1 {
			t.Errorf("%v: read back as %d holes, %d slots, %d corners, %d cut-outs", release, len(f.Holes), len(f.Slots), len(f.Outline), len(f.Cutouts))
		}
		for _, s := range f.Slots {
			if math.Abs(s.D-8.5) > 1e-3 || math.Abs(s.Length()-math.Hypot(20, 10)) > 1e-3 && math.Abs(s.Length()-60*0.4) > 1e-3 {
				t.Errorf("%v: slot %g wide and %g long", release, s.D, s.Length())
			}
		}
	}
}

// The whole drawing is written in both releases with the same entities.
func TestDXFReleasesAlike(t *testing.T) {
	_, d, _ := upright(t)
	count := func(r Release) string {
		n := map[string]int{}
		_, all := entities(t, d.DXFAs(r))
		for _, e := range all {
			n[strings.TrimPrefix(e.kind, "LW")+" "+e.layer]++
		}
		return fmt.Sprint(n)
	}
	if a, b := count(R12), count(R2000); a != b || !strings.Contains(a, "CIRCLE HOLES:14") {
		t.Errorf("R12 %s\nR2000 %s", a, b)
	}
}

// handles of release 2000 are all different, and the seed is beyond them.
func TestHandlesDiffer(t *testing.T) {
	c, err := CutOnly(plateToCut(), nil, true)
	if err != nil {
		t.Fatal(err)
	}
	data := string(c.DXF(R2000))
	seen := map[int64]bool{}
	most := int64(0)
	for _, m := range regexp.MustCompile(`(?m)^(?:  5|105)\r\n([0-9A-F]+)\r$`).FindAllStringSubmatch(data[strings.Index(data, "TABLES"):], -1) {
		h, _ := strconv.ParseInt(m[1], 16, 64)
		if seen[h] {
			t.Errorf("handle %X twice", h)
		}
		seen[h], most = true, max(most, h)
	}
	seed, _ := strconv.ParseInt(regexp.MustCompile(`HANDSEED\r\n  5\r\n([0-9A-F]+)`).FindStringSubmatch(data)[1], 16, 64)
	if len(seen) < 20 || seed <= most {
		t.Errorf("%d handles up to %X, seed %X", len(seen), most, seed)
	}
}

// An SVG to cut is as large as the plate, one unit to the mm, x as the part's own and y its z downwards; every edge once and closed.
func TestCutOnlySVG(t *testing.T) {
	c, err := CutOnly(plateToCut(), nil, false)
	if err != nil {
		t.Fatal(err)
	}
	var f struct {
		Width   string `xml:"width,attr"`
		Height  string `xml:"height,attr"`
		ViewBox string `xml:"viewBox,attr"`
		Groups  []struct {
			ID    string `xml:"id,attr"`
			Paths []struct {
				D string `xml:"d,attr"`
			} `xml:"path"`
			Circles []struct {
				X float64 `xml:"cx,attr"`
				Y float64 `xml:"cy,attr"`
				R float64 `xml:"r,attr"`
			} `xml:"circle"`
		} `xml:"g"`
	}
	data := c.SVG()
	if err := xml.Unmarshal(data, &f); err != nil {
		t.Fatal(err)
	}
	if f.Width != "200mm" || f.Height != "150.5mm" || f.ViewBox != "0 -150.5 200 150.5" {
		t.Errorf("%s by %s, view %s", f.Width, f.Height, f.ViewBox)
	}
	if len(f.Groups) != 2 || f.Groups[0].ID != "HOLES" || f.Groups[1].ID != "OUTLINE" || len(f.Groups[0].Paths) != 3 || len(f.Groups[0].Circles) != 2 ||
		len(f.Groups[1].Paths) != 1 || len(f.Groups[1].Circles) != 0 {
		t.Fatalf("groups %+v", f.Groups)
	}
	if k := f.Groups[0].Circles[1]; k.X != 60 || k.Y != -20 || k.R != 3.3 {
		t.Errorf("the second hole is %+v", k)
	}
	for _, g := range f.Groups {
		for _, p := range g.Paths {
			if !strings.HasPrefix(p.D, "M") || !strings.HasSuffix(p.D, "Z") || strings.Count(p.D, "M") != 1 {
				t.Errorf("%s is not one closed edge", p.D)
			}
		}
	}
	if f.Groups[1].Paths[0].D != "M0 0L200 0L200 -150.5L10 -140Z" {
		t.Errorf("the outline is %s", f.Groups[1].Paths[0].D)
	}
	if bytes.Contains(data, []byte("<text")) || bytes.Contains(data, []byte("<rect")) {
		t.Error("there is more in it than edges")
	}
}

// An arc of an SVG is the drawing's: its centre, worked out from its ends, radius and flags as the format has it, is the bulge's.
// Source: W3C, SVG 1.1, F.6.5: with equal radii the centre lies off the middle of the chord, to the left of it when the flags differ,
// in the file's axes, whose y points down.
func TestSVGArcs(t *testing.T) {
	for _, bulge := range []float64{0.2, -0.2, 0.9, -0.9, 1.4, -1.4} {
		p := Path{Points: []plane.Point{{X: 3, Z: 5}, {X: 10, Z: 9}}, Bulges: []float64{bulge, 0}}
		var x0, y0, rx, ry, x1, y1 float64
		var turn, large, sweep int
		way := svgWay(p, func(q plane.Point) (x, y string) { return number(q.X), number(-q.Z) })
		if _, err := fmt.Sscanf(way, "M%f %fA%f %f %d %d %d %f %f", &x0, &y0, &rx, &ry, &turn, &large, &sweep, &x1, &y1); err != nil {
			t.Fatalf("%s: %v", way, err)
		}
		dx, dy := (x0-x1)/2, (y0-y1)/2
		k := math.Sqrt(max(0, rx*rx/(dx*dx+dy*dy)-1))
		if large == sweep {
			k = -k
		}
		cx, cy := k*dy+(x0+x1)/2, -k*dx+(y0+y1)/2
		_, radius, c := arcOf(p.Points[0], p.Points[1], bulge)
		if math.Hypot(cx-c.X, cy+c.Z) > 1e-4 || math.Abs(rx-radius) > 1e-5 || (large == 1) != (math.Abs(bulge) > 1) {
			t.Errorf("bulge %g: %s has its centre at %g, %g, want %g, %g", bulge, way, cx, cy, c.X, -c.Z)
		}
	}
}

// What is engraved lies on the metal, clear of every edge by a millimetre, on a layer of its own; a name of other letters is left out and
// said.
func TestEngraved(t *testing.T) {
	p := plateToCut()
	p.Holes[1].ID = "ж"
	c, err := CutOnly(p, nil, true)
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(c.Left, []string{"ж"}) || len(c.Engrave) == 0 {
		t.Errorf("not engraved: %q; %d lines are", c.Left, len(c.Engrave))
	}
	var edges ink
	edges.add(c.drawing())
	for _, path := range c.Engrave {
		for _, q := range path.Points {
			if _, metal := p.EdgeDistance(q); !metal || !edges.free(boxAround(0.9, q)) {
				t.Fatalf("%v is engraved where there is no metal, or too near to an edge", q)
			}
		}
	}
	_, all := entities(t, c.DXF(R12))
	n := 0
	for _, e := range all {
		if e.layer == "ENGRAVE" {
			n++
		}
	}
	if n != len(c.Engrave) {
		t.Errorf("%d lines on ENGRAVE, want %d", n, len(c.Engrave))
	}
	// A strip has no room.
	p.Outline = []plane.Point{{X: 5, Z: 10}, {X: 75, Z: 10}, {X: 75, Z: 30}, {X: 5, Z: 30}}
	p.Cutouts, p.Slots = nil, nil
	if c, err = CutOnly(p, nil, true); err != nil || !slices.Contains(c.Left, "plate 1") && len(c.Engrave) == 0 {
		t.Errorf("%v, left %q", err, c.Left)
	}
}

// Letters keep to their grid, and no two are alike.
func TestStrokes(t *testing.T) {
	seen := map[string]rune{}
	for r, s := range strokes {
		if r == ' ' {
			continue
		}
		if other, ok := seen[s]; ok {
			t.Errorf("%c and %c are alike", r, other)
		}
		seen[s] = r
		lines, ok := engraved(string(r), plane.Point{}, strokeCap)
		if !ok {
			t.Errorf("%c has no strokes", r)
		}
		for _, l := range lines {
			if len(l.Points) < 2 {
				t.Errorf("%c has a line of one point", r)
			}
			for _, q := range l.Points {
				if q.X < 0 || q.X > 4 || q.Z < -strokeBelow || q.Z > strokeCap {
					t.Errorf("%c reaches %v", r, q)
				}
			}
		}
	}
	for r := '!'; r <= 'z'; r++ {
		if _, ok := strokes[r]; !ok && (r >= '0' && r <= '9' || r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z') {
			t.Errorf("%c is missing", r)
		}
	}
}

// What has no outline cannot be cut; new holes can.
func TestCutOnlyWithout(t *testing.T) {
	p := plateToCut()
	c, err := CutOnly(p, []holes.Hole{{ID: "N", X: 120, Z: 20, D: 8.4}}, false)
	if err != nil || len(c.Round) != 3 {
		t.Errorf("%v with a new hole", err)
	}
	for _, s := range []holes.Slot{{Hole: holes.Hole{ID: "S", X: 152, Z: 60, D: 8}, Centre: plane.Point{X: 150, Z: 60}, Turn: 1},
		{Hole: holes.Hole{ID: "S", X: 160, Z: 60, D: 8}, Centre: plane.Point{X: 150, Z: 60}, Turn: 6}} {
		tight := p
		tight.Slots = []holes.Slot{s}
		if _, err := CutOnly(tight, nil, false); err == nil || !strings.Contains(err.Error(), "cross itself") {
			t.Errorf("a slot that crosses itself: %v", err)
		}
	}
	short := p
	short.Slots = []holes.Slot{{Hole: holes.Hole{ID: "S", X: 170, Z: 30, D: 8}, To: plane.Point{X: 170, Z: 30}}}
	if c, err := CutOnly(short, nil, false); err != nil || len(c.Round) != 3 || len(c.Inner) != 1 {
		t.Errorf("a slot as long as nothing is no hole: %v", err)
	}
	p.Outline = nil
	if _, err := CutOnly(p, nil, false); !errors.Is(err, ErrNoOutline) {
		t.Error(err)
	}
}

package cad

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/drawing"
	"stanchion/model/given"
	"stanchion/model/units"
)

// dxf puts entities into a file. Each line of them is a group, "10 5.5".
func dxf(units, blocks, entities string) string {
	var b strings.Builder
	put := func(text string) {
		for _, l := range strings.Split(strings.TrimSpace(text), "\n") {
			code, value, _ := strings.Cut(strings.TrimSpace(l), " ")
			fmt.Fprintf(&b, "%s\n%s\n", code, value)
		}
	}
	put("0 SECTION\n2 HEADER\n9 $ACADVER\n1 AC1032")
	if units != "" {
		put("9 $INSUNITS\n70 " + units)
	}
	put("0 ENDSEC\n0 SECTION\n2 BLOCKS")
	if blocks != "" {
		put(blocks)
	}
	put("0 ENDSEC\n0 SECTION\n2 ENTITIES")
	if entities != "" {
		put(entities)
	}
	put("0 ENDSEC\n0 EOF")
	return b.String()
}

func read(t *testing.T, text string, o Options) Found {
	t.Helper()
	f, err := Read("part.dxf", []byte(text), o)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return f
}

func spell(f Found) string {
	var all []string
	for _, h := range f.Holes {
		all = append(all, fmt.Sprintf("%s %.3f,%.3f d%.3f", h.ID, h.X+0, h.Z+0, h.D))
	}
	for _, s := range f.Slots {
		end := s.Along(s.Length())
		all = append(all, fmt.Sprintf("%s %.3f,%.3f d%.3f to %.3f,%.3f", s.ID, s.X+0, s.Z+0, s.D, end.X+0, end.Z+0))
	}
	return strings.Join(all, "; ")
}

// Every way in which drawings write holes and slots.
func TestWaysToDrawAHole(t *testing.T) {
	for _, row := range []struct{ name, blocks, entities, want string }{
		{"circle", "", "0 CIRCLE\n8 0\n10 10\n20 20\n40 4.2", "H1 10.000,20.000 d8.400"},
		{"named", "", "0 CIRCLE\n10 10\n20 20\n40 4\n0 TEXT\n10 14\n20 24\n40 2.5\n1 A3", "A3 10.000,20.000 d8.000"},
		{"from behind", "", "0 CIRCLE\n10 10\n20 20\n40 4\n210 0\n220 0\n230 -1", "H1 -10.000,20.000 d8.000"},
		{"two bulges", "", "0 LWPOLYLINE\n90 2\n70 1\n10 6\n20 20\n42 1\n10 14\n20 20\n42 1", "H1 10.000,20.000 d8.000"},
		{"two arcs", "", "0 ARC\n10 10\n20 20\n40 4\n50 0\n51 180\n0 ARC\n10 10\n20 20\n40 4\n50 180\n51 360", "H1 10.000,20.000 d8.000"},
		{"whole arc", "", "0 ARC\n10 10\n20 20\n40 4\n50 90\n51 450", "H1 10.000,20.000 d8.000"},
		{"round ellipse", "", "0 ELLIPSE\n10 10\n20 20\n11 4\n21 0\n40 1\n41 0\n42 6.283185307", "H1 10.000,20.000 d8.000"},
		{"old polyline", "", "0 POLYLINE\n8 0\n66 1\n70 1\n0 VERTEX\n10 6\n20 20\n42 1\n0 VERTEX\n10 14\n20 20\n42 1\n0 SEQEND", "H1 10.000,20.000 d8.000"},
		{"in a block", "0 BLOCK\n2 B\n10 1\n20 1\n0 CIRCLE\n10 3\n20 1\n40 2\n0 ENDBLK", "0 INSERT\n2 B\n10 10\n20 20\n41 2\n42 2\n50 90", "H1 10.000,24.000 d8.000"},
		{"in rows", "0 BLOCK\n2 B\n10 0\n20 0\n0 CIRCLE\n10 0\n20 0\n40 2\n0 ENDBLK", "0 INSERT\n2 B\n10 0\n20 0\n70 2\n71 2\n44 30\n45 40", "H1 0.000,0.000 d4.000; H2 30.000,0.000 d4.000; H3 0.000,40.000 d4.000; H4 30.000,40.000 d4.000"},
		{"mirrored block", "0 BLOCK\n2 B\n10 0\n20 0\n0 LWPOLYLINE\n70 1\n10 0\n20 -4\n42 0\n10 20\n20 -4\n42 1\n10 20\n20 4\n42 0\n10 0\n20 4\n42 1\n0 ENDBLK", "0 INSERT\n2 B\n10 100\n20 0\n41 -1", "H1 100.000,0.000 d8.000 to 80.000,0.000"},
		{"slot of loose lines", "", "0 LINE\n10 0\n20 -4\n11 20\n21 -4\n0 ARC\n10 20\n20 0\n40 4\n50 270\n51 90\n0 LINE\n10 20\n20 4\n11 0\n21 4\n0 ARC\n10 0\n20 0\n40 4\n50 90\n51 270", ""},
	} {
		f, err := Read("part.dxf", []byte(dxf("4", row.blocks, row.entities)), Options{})
		if err != nil {
			t.Errorf("%s: %v", row.name, err)
			continue
		}
		want := row.want
		if row.name == "slot of loose lines" {
			if len(f.Slots) != 1 || math.Abs(f.Slots[0].D-8) > 1e-6 || math.Abs(f.Slots[0].Length()-20) > 1e-6 {
				t.Errorf("%s: %s, outline of %d", row.name, spell(f), len(f.Outline))
			}
			continue
		}
		if got := spell(f); got != want {
			t.Errorf("%s: %s, want %s", row.name, got, want)
		}
	}
}

// What is no hole is listed by kind and layer, and nothing of it stops the rest.
func TestWhatIsNotTaken(t *testing.T) {
	f := read(t, dxf("4", "0 BLOCK\n2 SELF\n10 0\n20 0\n0 INSERT\n2 SELF\n10 1\n20 1\n0 CIRCLE\n10 500\n20 0\n40 1\n0 ENDBLK",
		`0 CIRCLE
		8 HOLES
		10 0
		20 0
		40 4
		0 SPLINE
		8 CURVES
		10 0
		20 0
		0 DIMENSION
		8 DIM
		0 HATCH
		8 FILL
		0 3DFACE
		0 LINE
		8 CENTRE
		10 0
		20 0
		11 100
		21 0
		0 CIRCLE
		8 FAR
		10 1e300
		20 0
		40 4
		0 CIRCLE
		8 BAD
		10 abc
		20 0
		40 4
		0 CIRCLE
		8 BAD
		10 0
		20 50
		40 nan
		0 CIRCLE
		8 TILTED
		10 0
		20 0
		40 4
		230 0.5
		0 INSERT
		2 GONE
		10 0
		20 0
		0 INSERT
		2 SELF
		10 0
		20 0
		0 ELLIPSE
		8 OVAL
		10 0
		20 0
		11 5
		21 0
		40 0.5`), Options{})
	all := strings.Join(f.Ignored, "\n")
	for _, want := range []string{"SPLINE on layer CURVES", "DIMENSION on layer DIM", "HATCH on layer FILL", "3DFACE", "closes no outline on layer CENTRE", "CIRCLE on layer FAR, further than 100 m away",
		"CIRCLE on layer BAD, with a field that is not a number", "TILTED, which does not lie in the plane", "of a block that is not there", "of a block in itself", "OVAL, which is not round"} {
		if !strings.Contains(all, want) {
			t.Errorf("%q is not listed:\n%s", want, all)
		}
	}
	if len(f.Holes) != 2 || f.Holes[0].D != 8 {
		t.Errorf("holes: %s", spell(f))
	}
}

// A file that cannot be read says why, and where.
func TestUnreadable(t *testing.T) {
	sound := dxf("4", "", "0 CIRCLE\n10 0\n20 0\n40 4")
	for _, row := range []struct{ name, text, want string }{
		{"binary", "AutoCAD Binary DXF\r\n\x1a\x00", "cut short"},
		{"cut short", sound[:len(sound)-8], "cut short"},
		{"no codes", "hello\nworld\n", "line 1: \"hello\" is not a group code"},
		{"nothing in it", dxf("4", "", ""), "no circle, slot or closed outline"},
		{"no unit", dxf("", "", "0 CIRCLE\n10 0\n20 0\n40 4"), ErrNoUnit.Error()},
		{"unit 0", dxf("0", "", "0 CIRCLE\n10 0\n20 0\n40 4"), ErrNoUnit.Error()},
		{"blocks without end", dxf("4", "0 BLOCK\n2 A\n0 INSERT\n2 B\n70 1000\n71 1000\n0 ENDBLK\n0 BLOCK\n2 B\n0 CIRCLE\n10 0\n20 0\n40 1\n0 ENDBLK", "0 INSERT\n2 A\n70 1000\n71 1000"), "more than 200000 entities"},
	} {
		_, err := Read("part.dxf", []byte(row.text), Options{})
		if err == nil || !strings.Contains(err.Error(), row.want) {
			t.Errorf("%s: %v, want %q", row.name, err, row.want)
		}
	}
	if _, err := Read("part.step", nil, Options{}); err == nil {
		t.Error("a STEP file is taken")
	}
	// Line ends of all kinds, a byte-order mark, and no line end at the end.
	for _, text := range []string{strings.ReplaceAll(sound, "\n", "\r\n"), strings.ReplaceAll(sound, "\n", "\r"), "\uFEFF" + sound, strings.TrimSuffix(sound, "\n")} {
		if f := read(t, text, Options{}); len(f.Holes) != 1 {
			t.Errorf("%d holes", len(f.Holes))
		}
	}
}

// Units, scale, origin and turn, by hand: a circle at (3, 1) inches of a drawing at
// half size whose part lies at (1, 1), turned by a quarter: 2 in · 25.4 · 2 up.
func TestHowTheDrawingLies(t *testing.T) {
	f := read(t, dxf("1", "", "0 CIRCLE\n10 3\n20 1\n40 0.1"), Options{Scale: 2, Origin: plane.Point{X: 1, Z: 1}, Turn: math.Pi / 2})
	if got, want := spell(f), "H1 0.000,101.600 d10.160"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	two := "0 CIRCLE\n8 A\n10 0\n20 0\n40 4\n0 CIRCLE\n8 B\n10 50\n20 0\n40 4"
	if f := read(t, dxf("4", "", two), Options{Layers: []string{"b"}}); len(f.Holes) != 1 || f.Holes[0].X != 50 {
		t.Errorf("one layer: %s", spell(f))
	}
}

// Circles on one another and into one another are told.
func TestCirclesTogether(t *testing.T) {
	f := read(t, dxf("4", "", "0 CIRCLE\n10 0\n20 0\n40 4\n0 CIRCLE\n10 0\n20 0\n40 4\n0 CIRCLE\n10 50\n20 0\n40 4\n0 CIRCLE\n10 50\n20 0\n40 8\n0 CIRCLE\n10 57\n20 0\n40 4"), Options{})
	if got, want := spell(f), "H1 0.000,0.000 d8.000; H2 50.000,0.000 d8.000; H3 57.000,0.000 d8.000"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	all := strings.Join(f.Notes, "\n")
	for _, want := range []string{"two circles of 8.00 mm at 0.00, 0.00: taken once", "circles of 8.00 and 16.00 mm about 50.00, 0.00", "overlap by 1.00 mm"} {
		if !strings.Contains(all, want) {
			t.Errorf("%q is not told:\n%s", want, all)
		}
	}
}

// An outline of loose lines and an arc becomes corners; the smaller one in it is a cut-out.
func TestOutline(t *testing.T) {
	f := read(t, dxf("4", "", `0 LINE
		10 0
		20 0
		11 100
		21 0
		0 LINE
		10 100
		20 50
		11 100
		21 0
		0 ARC
		10 50
		20 50
		40 50
		50 0
		51 180
		0 LINE
		10 0
		20 50
		11 0
		21 0.004
		0 LWPOLYLINE
		8 WINDOW
		70 1
		10 20
		20 20
		10 40
		20 20
		10 40
		20 30`), Options{})
	loop := 0.0
	for i, a := range f.Outline {
		b := f.Outline[(i+1)%len(f.Outline)]
		loop += (a.X*b.Z - b.X*a.Z) / 2
	}
	if want := 100*50 + math.Pi*50*50/2; math.Abs(math.Abs(loop)-want) > 0.05*160 {
		t.Errorf("area %g mm², want about %g", math.Abs(loop), want)
	}
	if len(f.Cutouts) != 1 || len(f.Cutouts[0]) != 3 || f.Closed[1].Layer != "WINDOW" || f.Closed[1].Role != Cutout {
		t.Errorf("the window is no cut-out: %v, %+v", f.Cutouts, f.Closed)
	}
}

// What this program draws as DXF it reads back: every hole and slot to 0.001 mm, the
// outline and the cut-outs.
func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(-150, 150)
		part := model.Part{Part: holes.Part{Name: "plate"}, Thickness: given.Is(8), Outline: []plane.Point{{X: -300, Z: -300}, {X: 300, Z: -280}, {X: 310.5, Z: 305.25}, {X: -290, Z: 300}}}
		n := rapid.IntRange(1, 12).Draw(t, "holes")
		for i := range n {
			part.Holes = append(part.Holes, holes.Hole{ID: fmt.Sprintf("k%d", i), X: float64(i%4)*40 - 60 + v.Draw(t, "x")/20, Z: float64(i/4)*40 + v.Draw(t, "z")/20, D: rapid.Float64Range(3, 12).Draw(t, "d")})
		}
		slot := holes.Slot{Hole: holes.Hole{ID: "S", X: -200, Z: -100, D: 8.5}, Step: 2}
		if rapid.Bool().Draw(t, "arc") {
			slot.Centre, slot.Turn = plane.Point{X: -200 + rapid.Float64Range(20, 90).Draw(t, "radius"), Z: -100}, rapid.Float64Range(0.3, 2.8).Draw(t, "turn")*rapid.SampledFrom([]float64{1, -1}).Draw(t, "way")
		} else {
			slot.To = plane.Point{X: -200 + rapid.Float64Range(5, 60).Draw(t, "to x"), Z: -100 + rapid.Float64Range(-60, 60).Draw(t, "to z")}
		}
		part.Slots = []holes.Slot{slot}
		part.Holes = append(part.Holes, slot.Positions()...)
		part.Cutouts = [][]plane.Point{{{X: -270, Z: 150}, {X: -100, Z: 160}, {X: -150.5, Z: 270.25}}, {{X: 100, Z: 200}, {X: 100, Z: 290}, {X: 290, Z: 290}, {X: 250, Z: 240}, {X: 280, Z: 210}}}
		car := &model.Car{Name: "round", Parts: []model.Part{part, {}}}
		f, err := Read("plate.dxf", drawing.Part(car, 0, nil, time.Unix(0, 0), units.Metric).DXF(), Options{})
		if err != nil {
			t.Fatal(err)
		}
		if len(f.Holes) != n || len(f.Slots) != 1 || len(f.Outline) != 4 {
			t.Fatalf("%d holes, %d slots, %d corners: %s", len(f.Holes), len(f.Slots), len(f.Outline), spell(f))
		}
		for _, h := range part.Holes[:n] {
			found := false
			for _, g := range f.Holes {
				found = found || math.Abs(g.X-h.X) < 1e-3 && math.Abs(g.Z-h.Z) < 1e-3 && math.Abs(g.D-h.D) < 1e-3
			}
			if !found {
				t.Fatalf("hole %+v did not come back: %s", h, spell(f))
			}
		}
		s := f.Slots[0]
		a, b, c, d := slot.Along(0), slot.Along(slot.Length()), s.Along(0), s.Along(s.Length())
		if a.Distance(c) > a.Distance(d) {
			c, d = d, c
		}
		if a.Distance(c) > 1e-3 || b.Distance(d) > 1e-3 || math.Abs(s.D-slot.D) > 1e-3 || math.Abs(s.Length()-slot.Length()) > 1e-3 {
			t.Fatalf("slot %+v came back as %+v", slot, s)
		}
		for i, p := range part.Outline {
			if p.Distance(f.Outline[i]) > 1e-3 {
				t.Fatalf("corner %v came back as %v", p, f.Outline[i])
			}
		}
		if len(f.Cutouts) != len(part.Cutouts) {
			t.Fatalf("%d cut-outs came back: %+v", len(f.Cutouts), f.Closed)
		}
		for _, c := range part.Cutouts {
			if !slices.ContainsFunc(f.Cutouts, func(o []plane.Point) bool { return len(o) == len(c) && SameOutline(o, c) }) {
				t.Fatalf("cut-out %v did not come back: %v", c, f.Cutouts)
			}
		}
	})
}

// What is on the sheet, hidden, or on a layer that is off is not taken; what a block
// has on layer 0 is on the layer that it is put on; lines know no other side.
func TestSheetAndLayers(t *testing.T) {
	text := dxf("4", "0 BLOCK\n2 B\n0 CIRCLE\n8 0\n10 0\n20 0\n40 4\n0 ENDBLK", "0 CIRCLE\n8 A\n67 1\n10 5\n20 5\n40 4\n0 CIRCLE\n8 A\n60 1\n10 9\n20 9\n40 4\n0 CIRCLE\n8 OFF\n10 9\n20 50\n40 4\n0 INSERT\n8 CUT\n2 B\n10 30\n20 0\n0 CIRCLE\n8 A\n10 90\n20 0\n40 4")
	text = strings.Replace(text, "0\nSECTION\n2\nBLOCKS\n", "0\nSECTION\n2\nTABLES\n0\nTABLE\n2\nLAYER\n0\nLAYER\n2\noff\n70\n0\n62\n-7\n0\nENDTAB\n0\nENDSEC\n0\nSECTION\n2\nBLOCKS\n", 1)
	f := read(t, text, Options{})
	if got, want := spell(f), "H1 30.000,0.000 d8.000; H2 90.000,0.000 d8.000"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	all := strings.Join(f.Ignored, "\n")
	for _, want := range []string{"CIRCLE on layer A, which is on the sheet", "CIRCLE on layer A, which is hidden", "CIRCLE on layer OFF, which is hidden"} {
		if !strings.Contains(all, want) {
			t.Errorf("%q is not listed:\n%s", want, all)
		}
	}
	if f := read(t, text, Options{Layers: []string{"CUT"}}); spell(f) != "H1 30.000,0.000 d8.000" {
		t.Errorf("layer CUT: %s", spell(f))
	}
}

// Lines that are drawn twice, and strays at a corner, do not lose the outline.
func TestOutlineOfPoorLines(t *testing.T) {
	line := func(x0, z0, x1, z1 float64) string {
		return fmt.Sprintf("0 LINE\n230 -1\n10 %g\n20 %g\n11 %g\n21 %g\n", x0, z0, x1, z1)
	}
	square := line(0, 0, 100, 0) + line(100, 0, 100, 50) + line(100, 50, 0, 50) + line(0, 50, 0, 0)
	f := read(t, dxf("4", "", line(0, 0, -20, -20)+line(-20, -20, -30, -10)+square+square+line(50, 0, 50, -9)), Options{})
	if len(f.Outline) != 4 {
		t.Fatalf("outline of %d corners: %v", len(f.Outline), f.Ignored)
	}
	for _, p := range f.Outline {
		if p.X < 0 || p.X > 100 {
			t.Errorf("corner at %v", p)
		}
	}
}

// Sizes that stand beside a hole are no names.
func TestNames(t *testing.T) {
	for text, want := range map[string]string{"A3": "A3", "12": "12", "M8": "", "8.4": "", "Ø8,4": "", "R5": "", "8 mm": "", " k1 ": "k1", "a b": "", "x@1": ""} {
		if got := clean(text); got != want {
			t.Errorf("%q is the name %q, want %q", text, got, want)
		}
	}
}

func TestCSV(t *testing.T) {
	for _, row := range []struct{ text, want string }{
		{"id,x_mm,z_mm,d_mm\nA,0,10,8.4\nB,5,20,8.4\n", "A 0.000,10.000 d8.400; B 5.000,20.000 d8.400"},
		{"\uFEFFHole;X_mm;Y_mm;Dia_mm\r\nA;1,5;10;8,4\r\n", "A 1.500,10.000 d8.400"},
		{"x_in\tz_in\td_in\n1\t2\t0.5\n", "H1 25.400,50.800 d12.700"},
		{"id,x_mm,z_mm,d_mm\n#1,0,0,8\n#2,30,0,8\n", "#1 0.000,0.000 d8.000; #2 30.000,0.000 d8.000"},
		{"id,x_mm,z_mm,d_mm,to_x_mm,to_z_mm\nS,0,0,8,10,0\n", "S 0.000,0.000 d8.000 to 10.000,0.000"},
	} {
		f, err := Read("t.csv", []byte(row.text), Options{})
		if err != nil {
			t.Errorf("%q: %v", row.text, err)
			continue
		}
		if got := spell(f); got != row.want {
			t.Errorf("%q: %s, want %s", row.text, got, row.want)
		}
	}
	for text, want := range map[string]string{
		"x,z,d\n1,2,3\n":                       ErrNoUnit.Error(),
		"x_mm,d_mm\n1,2\n":                     "no column z",
		"x_mm,z_in,d_mm\n1,2,3\n":              "in mm and in inches",
		"x_mm,z_mm,d_mm\n1,2,0\nq,2,3\n":       "row 3: x \"q\"",
		"x_mm,z_mm,d_mm\n1,2,nan\n":            "row 2",
		"":                                     "no circle",
		"x_mm,z_mm,d_mm\n\"1,2,3\n":            "not a table",
		"x_mm,z_mm,d_mm,arc_turn_deg\n1,2,3,9": "needs arc_x",
	} {
		if _, err := Read("t.csv", []byte(text), Options{}); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
	if _, err := Read("t.csv", []byte("x,z,d\n1,2,3\n"), Options{Unit: 1}); err != nil || errors.Is(err, ErrNoUnit) {
		t.Errorf("with a unit: %v", err)
	}
}

// No bytes crash the readers, and what they find is finite.
func FuzzRead(f *testing.F) {
	f.Add([]byte(dxf("4", "0 BLOCK\n2 B\n10 1\n20 1\n0 CIRCLE\n10 3\n20 1\n40 2\n0 ENDBLK", "0 INSERT\n2 B\n10 10\n20 20\n41 2\n42 2\n50 90\n70 3\n44 5")), true)
	f.Add([]byte(dxf("1", "", "0 LWPOLYLINE\n70 1\n10 0\n20 -4\n42 0\n10 20\n20 -4\n42 1\n10 20\n20 4\n42 0\n10 0\n20 4\n42 1\n0 ARC\n10 0\n20 0\n40 1\n50 3\n51 900\n0 TEXT\n1 A\\U+0041")), true)
	f.Add([]byte("0\nSECTION\n2\nENTITIES\n0\nPOLYLINE\n66\n1\n0\nVERTEX\n10\n1\n0\nEOF\n"), true)
	f.Add([]byte(dxf("4", "", rectangle(0, 0, 100, 300)+rectangle(20, 50, 60, 90)+rectangle(30, 60, 50, 80)+rectangle(-9, -9, 190, 390)+"0 CIRCLE\n10 30\n20 20\n40 4\n")), true)
	f.Add([]byte("id;x_mm;z_mm;d_mm;to_x\nA;1,5;2;3;9\n"), false)
	f.Add([]byte(`<svg viewBox="0 0 9 9" width="9mm"><path d="M0 0h9v9a3 3 0 0 1-3 3c1 1 2 2-6 0z"/><circle r="2" transform="scale(2)"/></svg>`), false)
	f.Add([]byte("AutoCAD Binary DXF\r\n\x1a\x00\x00\x00SECTION\x00\x02\x00ENTITIES\x00\x00\x00CIRCLE\x00\x28\x00\x00\x00\x00\x00\x00\x00\x10\x40"), true)
	f.Add([]byte(dxf("4", "", "0 SPLINE\n71 2\n40 0\n40 0\n40 0\n40 1\n40 1\n40 1\n10 0\n20 0\n10 9\n20 9\n10 0\n20 9")), true)
	f.Fuzz(func(t *testing.T, data []byte, isDXF bool) {
		name := "a.csv"
		switch {
		case isDXF:
			name = "a.dxf"
		case bytes.Contains(data, []byte("<svg")):
			name = "a.svg"
		}
		found, err := Read(name, data, Options{})
		if err != nil {
			return
		}
		ids := map[string]bool{}
		check := func(h holes.Hole) {
			if math.IsNaN(h.X+h.Z+h.D) || math.IsInf(h.X+h.Z+h.D, 0) || h.D <= 0 || h.ID == "" || ids[h.ID] {
				t.Fatalf("hole %+v", h)
			}
			ids[h.ID] = true
		}
		for _, h := range found.Holes {
			check(h)
		}
		for _, s := range found.Slots {
			check(s.Hole)
			if l := s.Length(); math.IsNaN(l) || math.IsInf(l, 0) {
				t.Fatalf("slot %+v", s)
			}
		}
		for _, p := range found.Outline {
			if math.IsNaN(p.X+p.Z) || math.IsInf(p.X+p.Z, 0) {
				t.Fatalf("corner %v", p)
			}
		}
		for i, c := range found.Cutouts {
			if _, knot := plane.Knot(c); knot || !plane.Encloses(found.Outline, c) {
				t.Fatalf("cut-out %v of %v", c, found.Outline)
			}
			for _, o := range found.Cutouts[:i] {
				if plane.Overlap(o, c) {
					t.Fatalf("cut-outs %v and %v", o, c)
				}
			}
			for _, h := range found.Holes {
				if h.ReachesInto(c) {
					t.Fatalf("cut-out %v and %+v", c, h)
				}
			}
		}
		if found.Unclear() && found.Outline != nil {
			t.Fatalf("%+v", found.Closed)
		}
	})
}

// A sheet's border or a frame around the part is not its outline: the smallest closed
// outline that holds all holes is. A cut-out that holds some is not either.
func TestBorderIsNotTheOutline(t *testing.T) {
	rect, circle := rectangle, drilled
	plate, inside := rect(0, 0, 100, 300), rect(30, 120, 70, 180)
	for name, entities := range map[string]string{
		"border first": rect(-50, -50, 370, 330) + plate + circle(50, 20) + circle(50, 280),
		"two frames":   plate + rect(-60, -60, 380, 340) + circle(50, 20) + rect(-50, -50, 370, 330) + circle(50, 280),
		"a cut-out":    plate + inside + circle(50, 20) + circle(50, 280),
		"holes in it":  plate + inside + circle(50, 150) + circle(50, 280),
	} {
		f := read(t, dxf("4", "", entities), Options{Scale: 1})
		wide := 0.0
		for _, p := range f.Outline {
			wide = max(wide, p.X)
		}
		if wide != 100 {
			t.Errorf("%s: the outline is %v", name, f.Outline)
		}
	}
	f := read(t, dxf("4", "", rect(-50, -50, 370, 330)+plate+circle(50, 20)+circle(50, 150)+circle(50, 280)+circle(300, 0)), Options{Scale: 1})
	if !f.Unclear() || f.Outline != nil {
		t.Errorf("a circle of the title block hides the part without a word: %+v", f.Closed)
	}
}

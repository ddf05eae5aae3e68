package cad

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stanchion/holes/plane"
	"stanchion/model/units"
)

func fromFile(t *testing.T, name string, o Options) Found {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	f, err := Read(name, data, o)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return f
}

// Drawings by ezdxf (testdata/drawings.py says where everything is): a circle, others of 36 and 72 pieces, in two arcs 0.024 mm
// apart and as a rational spline, a slot with ends of 18 pieces, an outline with a gap of 0.3 mm and a cut-out of one spline.
func TestDrawingsOfAnotherWriter(t *testing.T) {
	const holes = "20.000,20.000 d8.400; 50.000,20.000 d8.400; 80.000,20.000 d8.400; 20.000,60.000 d8.40"
	for _, c := range []struct {
		name    string
		o       Options
		splines bool
	}{
		{"r12.dxf", Options{Unit: 1}, false}, {"r12-binary.dxf", Options{Unit: 1}, false},
		{"r2000.dxf", Options{}, true}, {"r2000-binary.dxf", Options{}, true},
		{"inches-as-mm.dxf", Options{Unit: units.Inch}, true},
	} {
		f := fromFile(t, c.name, c.o)
		want := holes
		if c.splines {
			want += "; 80.000,60.000 d8.400"
		}
		var got []string
		for i, h := range f.Holes {
			digits := 3
			if i == 3 {
				digits = 2 // the arcs that differ
			}
			got = append(got, fmt.Sprintf("%.3f,%.3f d%.*f", h.X, h.Z, digits, h.D))
		}
		if text := strings.Join(got, "; "); text != want {
			t.Errorf("%s: %s, want %s", c.name, text, want)
		}
		if len(f.Slots) != 1 || math.Abs(f.Slots[0].Length()-30) > 0.01 || math.Abs(f.Slots[0].D-8.4) > 0.01 {
			t.Errorf("%s: slots %+v", c.name, f.Slots)
		}
		cutouts := 0
		if c.splines {
			cutouts = 1
		}
		if lo, hi := plane.Box(f.Outline); len(f.Outline) < 5 || len(f.Cutouts) != cutouts || lo.Length() > 0.01 || hi.Distance(plane.Point{X: 100, Z: 200}) > 0.01 {
			t.Errorf("%s: outline of %d from %v to %v, %d cut-outs", c.name, len(f.Outline), lo, hi, len(f.Cutouts))
		}
		if notes := strings.Join(f.Notes, "\n"); !strings.Contains(notes, "in 36 pieces at 50.00, 20.00 is taken as a hole of 8.40 mm") ||
			!strings.Contains(notes, "a gap of 0.30 mm at 0.00, 200.00 is closed") {
			t.Errorf("%s: %s", c.name, notes)
		}
	}
}

// A drawing that Inkscape wrote: circles as arcs in a turned group, a slot and rounded corners as Bézier curves.
func TestDrawingOfInkscape(t *testing.T) {
	f := fromFile(t, "inkscape.svg", Options{})
	if got, want := spell(f), "H1 80.000,-60.000 d8.400; H2 20.000,-20.000 d8.400; H3 50.000,-20.000 d8.400"; !strings.HasPrefix(got, want) {
		t.Errorf("%s, want %s", got, want)
	}
	if len(f.Slots) != 1 || math.Abs(f.Slots[0].Length()-31.6) > 0.01 || math.Abs(f.Slots[0].D-8.4) > 0.01 || len(f.Cutouts) != 1 || len(f.Outline) < 5 {
		t.Errorf("slots %+v, %d cut-outs, outline of %d", f.Slots, len(f.Cutouts), len(f.Outline))
	}
}

// SVG by hand: units of the page, groups, every command of a path, what is not shown.
func TestSVG(t *testing.T) {
	page := func(size, inner string) string {
		return `<svg xmlns="http://www.w3.org/2000/svg" ` + size + ">" + inner + "</svg>"
	}
	const mm = `width="100mm" height="100mm" viewBox="0 0 100 100"`
	for _, c := range []struct{ name, text, want string }{
		{"mm", page(mm, `<circle cx="10" cy="20" r="4.2"/>`), "H1 10.000,-20.000 d8.400"},
		{"inches", page(`width="2in" height="2in" viewBox="0 0 200 200"`, `<circle cx="100" cy="100" r="10"/>`), "H1 25.400,-25.400 d5.080"},
		{"pixels of 1/96 inch", page("", `<circle cx="96" cy="0" r="48"/>`), "H1 25.400,0.000 d25.400"},
		{"moved and turned", page(mm, `<g transform="translate(10,0) rotate(90)"><circle cx="20" cy="0" r="3"/></g>`), "H1 10.000,-20.000 d6.000"},
		{"squeezed round", page(mm, `<g transform="scale(2,1)"><ellipse cx="10" cy="10" rx="2" ry="4"/></g>`), "H1 20.000,-10.000 d8.000"},
		{"arcs of a path", page(mm, `<path d="m6 20a4 4 0 118 0 4 4 0 11-8 0z"/>`), "H1 10.000,-20.000 d8.000"},
		{"curves", page(mm, `<path d="M14 20C14 22.209 12.209 24 10 24S6 22.209 6 20 7.791 16 10 16s4 1.791 4 4Z"/>`), "H1 10.000,-20.000 d8.00"},
		{"slot", page(mm, `<rect x="0" y="0" width="28" height="8" rx="4"/>`), "to"},
		{"not shown", page(mm, `<g style="display: none"><circle r="3"/></g><defs><circle r="4"/></defs><circle cx="1" cy="1" r="5"/>`), "H1 1.000,-1.000 d10.000"},
		{"named", page(mm, `<circle cx="10" cy="20" r="4"/><text x="12" y="15">A3</text>`), "A3 10.000,-20.000 d8.000"},
	} {
		f, err := Read("a.svg", []byte(c.text), Options{})
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if got := spell(f); !strings.HasPrefix(got, c.want) && !(c.want == "to" && len(f.Slots) == 1 && math.Abs(f.Slots[0].Length()-20) < 1e-6) {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
	for text, want := range map[string]string{
		"<html/>": "holds no SVG", page(mm, "<path d='M0 0L"): "valid XML", page(mm, `<circle r="x"/>`): "no circle, slot or closed outline",
		strings.Repeat("<g>", 300): "nested too deep",
	} {
		if _, err := Read("a.svg", []byte(text), Options{}); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%.30s: %v, want %s", text, err, want)
		}
	}
}

// What is no circle stays an outline: a nut's hexagon, an octagon, a D, an ellipse.
func TestNotRound(t *testing.T) {
	polygon := func(n int, a, b float64, upTo float64) loop {
		var l loop
		at := func(i int) plane.Point {
			s, c := math.Sincos(upTo * float64(i%n) / float64(n))
			return plane.Point{X: a * c, Z: b * s}
		}
		for i := range n {
			l.edges = append(l.edges, edge{a: at(i), b: at(i + 1)})
		}
		return l
	}
	for name, l := range map[string]loop{
		"D with a flat of 50° and 0.47 mm": polygon(40, 5, 5, 310*math.Pi/180*40/39), // a bolt of 9.4 mm does not pass
		"hexagon":                          polygon(6, 5, 5, 2*math.Pi), "octagon": polygon(8, 5, 5, 2*math.Pi), "D": polygon(40, 5, 5, 1.5*math.Pi), "ellipse": polygon(72, 5, 4.8, 2*math.Pi),
	} {
		if _, r, off, _, ok := l.roundly(); ok {
			t.Errorf("%s is taken for a circle of %.2f, true to %.3f", name, r, off)
		}
	}
	// By hand: 36 corners on a circle of radius 5; the flats are 5(1 - cos 5°) = 0.019 mm within.
	_, r, off, flat, ok := polygon(36, 5, 5, 2*math.Pi).roundly()
	if !ok || math.Abs(r-5) > 1e-9 || off > 1e-9 || math.Abs(flat-0.01903) > 1e-4 {
		t.Errorf("36 pieces: %v radius %g, off %g, flats %g", ok, r, off, flat)
	}
}

// A circle of any number of pieces anywhere is found where it is, also where its corners are read with errors.
func TestRoundlyAnywhere(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, r := rapid.IntRange(leastSides, 200).Draw(t, "n"), rapid.Float64Range(1, 60).Draw(t, "r")
		c := plane.Point{X: rapid.Float64Range(-900, 900).Draw(t, "x"), Z: rapid.Float64Range(-900, 900).Draw(t, "z")}
		start := rapid.Float64Range(0, 6).Draw(t, "start")
		err := rapid.Float64Range(0, 0.009).Draw(t, "error")
		var places []plane.Point
		for i := range n {
			s, k := math.Sincos(start + 2*math.Pi*float64(i)/float64(n))
			places = append(places, plane.Point{X: c.X + r*k + err*float64(i%3-1), Z: c.Z + r*s - err*float64(i%2)})
		}
		var l loop
		for i, p := range places {
			l.edges = append(l.edges, edge{a: p, b: places[(i+1)%n]})
		}
		at, radius, _, _, ok := l.roundly()
		if !ok || at.Distance(c) > 2*err+1e-6 || math.Abs(radius-r) > 2*err+1e-6 {
			t.Fatalf("%v at %v radius %g, is at %v radius %g", ok, at, radius, c, r)
		}
	})
}

// Gaps of up to 0.5 mm are closed, wider ones are not; a line that ends near nothing stays as it is.
func TestGaps(t *testing.T) {
	square := func(gap float64) string {
		return dxf("4", "", fmt.Sprintf("0 LINE\n10 0\n20 0\n11 100\n21 0\n0 LINE\n10 100\n20 0\n11 100\n21 50\n0 LINE\n10 100\n20 50\n11 %g\n21 50\n0 LINE\n10 0\n20 50\n11 0\n21 0\n0 CIRCLE\n10 20\n20 20\n40 4", gap))
	}
	if f := read(t, square(0.49), Options{}); len(f.Outline) == 0 || !strings.Contains(strings.Join(f.Notes, "\n"), "a gap of 0.49 mm at 0.00, 50.00 is closed") {
		t.Errorf("0.49 mm: outline of %d, %q", len(f.Outline), f.Notes)
	}
	if f := read(t, square(0.51), Options{}); len(f.Outline) != 0 {
		t.Errorf("0.51 mm: outline of %d", len(f.Outline))
	}
}

// The circle of a quadratic rational B-spline is one: Piegl and Tiller, "The NURBS Book", ex. 7.1: nine points of a square, weights
// 1 and 1/√2, knots 0 0 0 ¼ ¼ ½ ½ ¾ ¾ 1 1 1.
func TestSplineCircle(t *testing.T) {
	h := math.Sqrt2 / 2
	s := spline{degree: 2, knots: []float64{0, 0, 0, 0.25, 0.25, 0.5, 0.5, 0.75, 0.75, 1, 1, 1}, weights: []float64{1, h, 1, h, 1, h, 1, h, 1},
		points: []plane.Point{{X: 1}, {X: 1, Z: 1}, {Z: 1}, {X: -1, Z: 1}, {X: -1}, {X: -1, Z: -1}, {Z: -1}, {X: 1, Z: -1}, {X: 1}}}
	if !s.sound() {
		t.Fatal("not sound")
	}
	places := s.straight(1e-4)
	if len(places) < 60 {
		t.Errorf("%d places", len(places))
	}
	for _, p := range places {
		if math.Abs(p.Length()-1) > 1e-12 {
			t.Fatalf("%v is %g from the middle", p, p.Length())
		}
	}
}

func TestDWGIsNamed(t *testing.T) {
	for _, name := range []string{"plate.dwg", "plate.dxf"} {
		if _, err := Read(name, []byte("AC1032\x00\x00\x00"), Options{}); err == nil || !strings.Contains(err.Error(), "save it as DXF") {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := Read("a.dxf", []byte("AutoCAD Binary DXF\r\n\x1a\x00\x00\x00SECTION"), Options{Unit: 1}); err == nil {
		t.Error("a binary DXF that was cut short is read")
	}
}

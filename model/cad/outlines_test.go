package cad

import (
	"fmt"
	"strings"
	"testing"

	"stanchion/holes/plane"
)

// rectangle is a closed polyline.
func rectangle(x0, z0, x1, z1 float64) string {
	return fmt.Sprintf("0 LWPOLYLINE\n90 4\n70 1\n10 %g\n20 %g\n10 %g\n20 %g\n10 %g\n20 %g\n10 %g\n20 %g\n", x0, z0, x1, z0, x1, z1, x0, z1)
}

// drawnLine is a straight line.
func drawnLine(x0, z0, x1, z1 float64) string {
	return fmt.Sprintf("0 LINE\n10 %g\n20 %g\n11 %g\n21 %g\n", x0, z0, x1, z1)
}

// drilled is a circle of 8.4 mm.
func drilled(x, z float64) string { return fmt.Sprintf("0 CIRCLE\n10 %g\n20 %g\n40 4.2\n", x, z) }

// roles spells what each closed outline is taken for, the largest first.
func roles(f Found) string {
	names := map[Role]string{Undecided: "undecided", Candidate: "candidate", PartOutline: "part", Cutout: "cut-out", Border: "border", Beside: "beside",
		Across: "across", WithHoles: "with holes", AtHole: "at hole", AtCutout: "at cut-out", Tangled: "tangled", TooLarge: "too large"}
	var all []string
	for _, c := range f.Closed {
		all = append(all, fmt.Sprintf("%.0fx%.0f %d %s", c.Hi.X-c.Lo.X, c.Hi.Z-c.Lo.Z, c.Holds, names[c.Role]))
	}
	return strings.Join(all, ", ")
}

// Which closed outline is the part's, what the others are, and where that has to be asked: each
// is listed by its size, the holes in it and what it is taken for.
func TestWhichOutline(t *testing.T) {
	plate := rectangle(0, 0, 100, 300)
	three := drilled(50, 20) + drilled(20, 280) + drilled(80, 280)
	windows := rectangle(30, 60, 70, 120) + "0 LWPOLYLINE\n90 3\n70 1\n10 20\n20 150\n10 80\n20 150\n10 50\n20 250\n"
	table := rectangle(250, -50, 370, 0) + rectangle(250, -50, 310, -25) // of a title block
	slot := "0 LWPOLYLINE\n90 4\n70 1\n10 30\n20 262\n42 0\n10 70\n20 262\n42 1\n10 70\n20 270\n42 0\n10 30\n20 270\n42 1\n"
	frame := rectangle(-60, -60, 380, 340)
	round := "0 LWPOLYLINE\n90 4\n70 1\n10 -60\n20 -60\n10 380\n20 -60\n10 400\n20 340\n10 -60\n20 340\n"
	for _, c := range []struct{ what, drawn, want string }{
		{"a plate", plate + three, "100x300 3 part"},
		{"with windows", plate + three + windows, "100x300 3 part, 60x100 0 cut-out, 40x60 0 cut-out"},
		{"in a frame", plate + three + windows + frame, "440x400 3 border, 100x300 3 part, 60x100 0 cut-out, 40x60 0 cut-out"},
		{"in a double frame with a title block", frame + rectangle(-50, -50, 370, 330) + table + plate + three + slot + windows,
			"440x400 4 border, 420x380 4 border, 100x300 4 part, 120x50 0 beside, 60x100 0 cut-out, 40x60 0 cut-out, 60x25 0 beside"},
		{"frame and plate drawn twice", frame + frame + plate + plate + three + windows + windows, "440x400 3 border, 100x300 3 part, 60x100 0 cut-out, 40x60 0 cut-out"},
		{"a larger table beside it", rectangle(200, 0, 500, 300) + plate + three, "300x300 0 beside, 100x300 3 part"},
		{"a second view beside it", frame + plate + three + rectangle(150, 0, 158, 300), "440x400 3 border, 100x300 3 part, 8x300 0 beside"},
		{"a circle in the title block", frame + plate + three + drilled(300, -30), "440x400 4 candidate, 100x300 3 candidate"},
		{"one in a box of it", frame + plate + three + table + drilled(300, -30), "440x400 4 candidate, 100x300 3 candidate, 120x50 1 candidate, 60x25 1 undecided"},
		{"two parts in a frame", frame + plate + three + rectangle(150, 0, 250, 200) + drilled(200, 50) + drilled(200, 90) + drilled(200, 150),
			"440x400 6 candidate, 100x300 3 candidate, 100x200 3 candidate"},
		{"two parts", plate + three + rectangle(150, 0, 250, 200) + drilled(200, 50), "100x300 3 candidate, 100x200 1 candidate"},
		{"a pad with one of three holes", plate + three + rectangle(30, 5, 70, 35), "100x300 3 part, 40x30 1 with holes"},
		{"a pad with most of them", plate + three + rectangle(5, 270, 95, 295), "100x300 3 candidate, 90x25 2 candidate"},
		{"a border that is no rectangle", round + plate + three, "460x400 3 candidate, 100x300 3 candidate"},
		{"no holes, nothing in it", plate, "100x300 0 part"},
		{"no holes, a frame or a plate with windows", frame + plate + windows, "440x400 0 candidate, 100x300 0 candidate, 60x100 0 undecided, 40x60 0 undecided"},
		{"no holes, no rectangle", round + windows, "460x400 0 part, 60x100 0 cut-out, 40x60 0 cut-out"},
		{"a window in a window", plate + three + rectangle(20, 100, 80, 200) + rectangle(30, 110, 70, 190), "100x300 3 part, 60x100 0 cut-out, 40x80 0 at cut-out"},
		{"a window into a hole", plate + three + rectangle(20, 22, 80, 100), "100x300 3 part, 60x78 0 at hole"},
		{"a window across the edge", plate + three + rectangle(60, 60, 120, 100), "100x300 3 part, 60x40 0 across"},
		{"a window at the edge", plate + three + rectangle(60, 60, 100, 100), "100x300 3 part, 40x40 0 across"},
		{"a window that crosses itself", plate + three + "0 LWPOLYLINE\n90 4\n70 1\n10 20\n20 100\n10 80\n20 160\n10 80\n20 100\n10 20\n20 150\n", "100x300 3 part, 60x60 0 tangled"},
	} {
		f := read(t, dxf("4", "", c.drawn), Options{})
		if got := roles(f); got != c.want {
			t.Errorf("%s: %s\nwant %s", c.what, got, c.want)
		}
		cutouts := strings.Count(c.want, "cut-out") - strings.Count(c.want, "at cut-out")
		if strings.Contains(c.want, "part") != (f.Outline != nil) || strings.Contains(c.want, "candidate") != f.Unclear() || len(f.Cutouts) != cutouts {
			t.Errorf("%s: outline %v, unclear %v, %d cut-outs", c.what, f.Outline, f.Unclear(), len(f.Cutouts))
		}
	}
}

// A frame and a title block of loose lines that meet in tees, as drawings have them.
func TestFrameOfLines(t *testing.T) {
	frame := func(by float64) string {
		return drawnLine(-60+by, -60+by, 380-by, -60+by) + drawnLine(380-by, -60+by, 380-by, 340-by) + drawnLine(380-by, 340-by, -60+by, 340-by) + drawnLine(-60+by, 340-by, -60+by, -60+by)
	}
	block := drawnLine(250, -50, 250, 0) + drawnLine(250, 0, 370, 0) + drawnLine(250, -25, 370, -25) + drawnLine(310, -25, 310, 0)
	f := read(t, dxf("4", "", frame(0)+frame(10)+block+rectangle(0, 0, 100, 300)+drilled(50, 20)+drilled(50, 280)+rectangle(30, 60, 70, 120)), Options{})
	if got, want := roles(f), "440x400 2 border, 420x380 2 border, 100x300 2 part, 40x60 0 cut-out"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	if all := strings.Join(f.Ignored, "\n"); !strings.Contains(all, "4 × line or arc that closes no outline on layer 0") {
		t.Errorf("the title block is not listed:\n%s", all)
	}
}

// Chosen by its number an outline is the part's; circles beyond it are another's and are listed.
func TestChosenOutline(t *testing.T) {
	drawn := dxf("4", "", rectangle(-60, -60, 380, 340)+rectangle(0, 0, 100, 300)+drilled(50, 20)+drilled(50, 280)+drilled(50, 150)+drilled(300, -30)+
		rectangle(30, 60, 70, 120))
	if f := read(t, drawn, Options{}); !f.Unclear() || len(f.Holes) != 4 {
		t.Fatalf("%s, %d holes", roles(f), len(f.Holes))
	}
	f := read(t, drawn, Options{Outline: 2})
	if got, want := roles(f), "440x400 4 border, 100x300 3 part, 40x60 0 cut-out"; got != want || len(f.Holes) != 3 {
		t.Errorf("%s and %d holes, want %s", got, len(f.Holes), want)
	}
	if all := strings.Join(f.Ignored, "\n"); !strings.Contains(all, "a circle of 8.40 mm at 300.00, -30.00, outside of closed outline 2") {
		t.Errorf("the circle of the title block is not listed:\n%s", all)
	}
	if f := read(t, drawn, Options{Outline: 1}); len(f.Holes) != 4 || f.Outline[0] != (plane.Point{X: -60, Z: -60}) {
		t.Errorf("the frame, chosen: %s", roles(f))
	}
	for name, o := range map[string]string{"part.dxf": drawn, "part.csv": "id,x_mm,z_mm,d_mm\nA,0,10,8.4\n"} {
		if _, err := Read(name, []byte(o), Options{Outline: 4}); err == nil || !strings.Contains(err.Error(), "there is no closed outline 4 in it") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// An outline that goes around twice in other corners is drawn twice; one that is bent otherwise is not.
func TestSameOutline(t *testing.T) {
	square := []plane.Point{{X: 0}, {X: 10}, {X: 10, Z: 10}, {Z: 10}}
	split := []plane.Point{{X: 10, Z: 10}, {X: 10, Z: 4}, {X: 10}, {X: 5}, {X: 0}, {Z: 10}}
	if !SameOutline(square, split) || SameOutline(square, []plane.Point{{X: 0}, {X: 10}, {X: 10, Z: 10}, {X: 5, Z: 9.9}, {Z: 10}}) {
		t.Error("a square with more corners is the same, one with a notch of 0.1 mm is not")
	}
}

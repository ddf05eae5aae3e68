package carfile

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"stanchion/holes/plane"
)

// plateFile is a car file whose upright is a plate from 0, 0 to 100, 300 with two holes, a slot and
// what else is given.
func plateFile(length, outline, cutouts string) string {
	return `format = 1
name = "plate"
[units]
length = "` + length + `"
[car]
wheelbase = 2500
front_axle_mass = 600
rear_axle_mass = 600
roof_height = 1300
[speed]
chosen = 100
[[part]]
name = "upright"
fixed = { x = 100, z = 300, angle = 0 }
` + outline + `
` + cutouts + `
holes = [ { id = "a", x = 20, z = 20, d = 8 }, { id = "b", x = 80, z = 20, d = 8 },
  { id = "S", x = 20, z = 250, d = 8, to = { x = 80, z = 250 } } ]
[[part]]
name = "wing"
holes = [ { id = "F", x = 50, z = 0, d = 8 }, { id = "R", x = 110, z = 0, d = 8 } ]
[[joint]]
name = "head"
lower = "upright"
upper = "wing"
bolt = "M8"
[wing]
span = 1200
chord = 200
section = "naca 4412"
`
}

const plateOutline = "outline = [ [0, 0], [100, 0], [100, 300], [0, 300] ]"

func TestCutouts(t *testing.T) {
	car, err := Parse("car.toml", []byte(plateFile("mm", plateOutline, "cutouts = [ [ [20, 50], [60, 50], [60, 150], [20, 150], [20, 50] ], # a comment\n  [ [20, 180], [60, 180], [40, 200] ] ]")), nil)
	if err != nil {
		t.Fatal(err)
	}
	p := car.Parts[0]
	if len(p.Cutouts) != 2 || len(p.Cutouts[0]) != 4 || p.Cutouts[1][2] != (plane.Point{X: 40, Z: 200}) {
		t.Errorf("read as %v", p.Cutouts)
	}
	if mm2, _ := p.Area(); math.Abs(mm2-(30000-4000-400)) > 1e-9 { // a triangle of 40 by 20
		t.Errorf("%g mm², by hand 25600", mm2)
	}
	if len(car.Warnings) > 0 {
		t.Errorf("warnings %v", car.Warnings)
	}
	none, err := Parse("car.toml", []byte(plateFile("mm", "", "cutouts = []")), nil)
	if err != nil || none.Parts[0].Cutouts != nil {
		t.Errorf("an empty list: %v", err)
	}
	inches := strings.NewReplacer("wheelbase = 2500", "wheelbase = 98", "roof_height = 1300", "roof_height = 51").Replace(
		plateFile("in", plateOutline, "cutouts = [ [ [20, 50], [60, 50], [60, 150] ] ]"))
	if car, err = Parse("car.toml", []byte(inches), nil); err == nil && car.Parts[0].Cutouts[0][0].Distance(plane.Point{X: 508, Z: 1270}) > 1e-9 {
		t.Errorf("20, 50 in is %v", car.Parts[0].Cutouts[0][0])
	}
}

// Every fault of a cut-out is one line that says where it stands.
func TestCutoutFaults(t *testing.T) {
	const line = 16
	for _, row := range []struct{ name, outline, cutouts, want string }{
		{"no list", plateOutline, `cutouts = 3`, `:16:11: part "upright": cutouts is the number 3; it must be a list`},
		{"a text", plateOutline, `cutouts = [ "round" ]`, `:16:13: part "upright": cut-out 1 is the text "round"; give its corners`},
		{"a table", plateOutline, `cutouts = [ { x = 1, z = 2, d = 30 } ]`, `:16:13: part "upright": cut-out 1 is a table; give its corners`},
		{"one without its list", plateOutline, `cutouts = [ [20, 50], [60, 50], [60, 150] ]`, `:16:13: part "upright": cut-out 1 is a single point; give a list of cut-outs`},
		{"two corners", plateOutline, `cutouts = [ [ [20, 50], [60, 50] ] ]`, `:16:13: part "upright": cut-out 1 has 2 corners; give at least 3`},
		{"no corner", plateOutline, `cutouts = [ [] ]`, `:16:13: part "upright": cut-out 1 has 0 corners; give at least 3`},
		{"not a point", plateOutline, `cutouts = [ [ [20, 50], [60], [60, 150] ] ]`, `:16:25: part "upright": cut-out 1 corner 2 is not a point; give [x, z] in mm`},
		{"not a number", plateOutline, `cutouts = [ [ [20, 50], [60, nan], [60, 150] ] ]`, `cut-out 1 corner 2 is not a point`},
		{"nothing in it", plateOutline, `cutouts = [ [ [20, 50], [60, 50], [20, 50] ] ]`, `:16:13: part "upright": cut-out 1 encloses nothing`},
		{"crossing itself", plateOutline, `cutouts = [ [ [20, 50], [60, 150], [60, 50], [20, 130] ] ]`, `:16:13: part "upright": cut-out 1 crosses or touches itself at `},
		{"outside", plateOutline, `cutouts = [ [ [120, 50], [160, 50], [160, 150] ] ]`, `:16:13: part "upright": cut-out 1 lies outside of the part's outline`},
		{"around the part", plateOutline, `cutouts = [ [ [-20, -50], [160, -50], [160, 350], [-20, 350] ] ]`, `cut-out 1 lies outside of the part's outline`},
		{"across the edge", plateOutline, `cutouts = [ [ [60, 50], [160, 50], [60, 150] ] ]`, `:16:13: part "upright": cut-out 1 reaches the part's edge at 100, 50; keep it within the outline`},
		{"at the edge", plateOutline, `cutouts = [ [ [0, 50], [40, 50], [40, 150] ] ]`, `cut-out 1 reaches the part's edge at `},
		{"over a hole", plateOutline, `cutouts = [ [ [10, 10], [60, 10], [60, 150] ] ]`, `:16:13: part "upright": cut-out 1 runs into hole "a"; keep metal between them`},
		{"at a hole's edge", plateOutline, `cutouts = [ [ [24, 10], [60, 10], [60, 30], [24, 30] ] ]`, `cut-out 1 runs into hole "a"`},
		{"over a slot", plateOutline, `cutouts = [ [ [45, 240], [55, 240], [50, 260] ] ]`, `:16:13: part "upright": cut-out 1 runs into slot "S"`},
		{"beside a slot", plateOutline, `cutouts = [ [ [45, 240], [55, 240], [50, 245.5] ] ]`, ``},
		{"over another", plateOutline, "cutouts = [ [ [20, 50], [60, 50], [60, 150], [20, 150] ],\n [ [30, 60], [50, 60], [50, 140] ] ]", `:17:2: part "upright": cut-out 2 runs into cut-out 1; make them one`},
		{"over another after a faulty one", plateOutline, "cutouts = [ [ [20, 50], [60, 50], [60, 150], [20, 150] ],\n [ [30, 60] ],\n [ [30, 60], [50, 60], [50, 140] ] ]", `cut-out 3 runs into cut-out 1`},
		{"no outline", "", `cutouts = [ [ [20, 50], [60, 50], [60, 150] ] ]`, `:16:11: part "upright": cut-outs without an outline; give the part's outline`},
		{"too many", plateOutline, "cutouts = [" + strings.Repeat("[], ", MaxCutouts+1) + "]", `501 cut-outs; use at most 500`},
		{"too many corners", plateOutline, "cutouts = [ [" + strings.Repeat("[20, 50], ", MaxCutoutPoints+1) + "] ]", `the cut-outs have more than 10000 corners together`},
		{"misspelt", plateOutline, `cutout = []`, `unknown key "cutout"; did you mean "cutouts"?`},
		{"faulty outline alone is told", "outline = [ [0, 0], [100], [100, 300], [0, 300] ]", `cutouts = [ [ [80, 50], [90, 50], [90, 150] ] ]`, `outline corner 2 is not a point`},
	} {
		text := plateFile("mm", row.outline, row.cutouts)
		if !strings.HasPrefix(strings.Split(text, "\n")[line-1], "cutout") {
			t.Fatalf("line %d is %q", line, strings.Split(text, "\n")[line-1])
		}
		_, err := Parse("car.toml", []byte(text), nil)
		if row.want == "" {
			if err != nil {
				t.Errorf("%s: %v", row.name, err)
			}
			continue
		}
		want := 1
		if row.name == "over another after a faulty one" {
			want = 2
		}
		if err == nil || !strings.Contains(err.Error(), row.want) || len(strings.Split(err.Error(), "\n")) != want {
			t.Errorf("%s: %v\nwant %s, in %d line", row.name, err, row.want, want)
		}
	}
}

// No text of a cut-out crashes the reader; what is taken is sound.
func FuzzCutouts(f *testing.F) {
	f.Add("[ [ [20, 50], [60, 50], [60, 150] ] ]")
	f.Add("[ [ [20, 50], [60, 150], [60, 50], [20, 130] ], [ [1, 2], [3, nan], [1e300, 2] ] ]")
	f.Add("[ 1, 'x', {}, [], [[]], [[20,50]] ]")
	f.Fuzz(func(t *testing.T, text string) {
		car, err := Parse("car.toml", []byte(plateFile("mm", plateOutline, "cutouts = "+text)), nil)
		if err != nil || car.Parts[0].Outline == nil {
			return
		}
		p := car.Parts[0]
		for i, c := range p.Cutouts {
			if _, knot := plane.Knot(c); knot || len(c) < 3 || !plane.Encloses(p.Outline, c) {
				t.Fatalf("%v is taken", c)
			}
			for _, o := range p.Cutouts[:i] {
				if plane.Overlap(o, c) {
					t.Fatalf("%v and %v", o, c)
				}
			}
			for _, h := range p.Holes {
				if h.ReachesInto(c) {
					t.Fatalf("%v runs into %+v", c, h)
				}
			}
		}
		whole := fmt.Sprint(p.Cutouts)
		if strings.Contains(whole, "NaN") || strings.Contains(whole, "Inf") {
			t.Fatal(whole)
		}
	})
}

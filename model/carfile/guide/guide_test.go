package guide

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stanchion/holes/plane"
	"stanchion/model/carfile"
	"stanchion/model/units"
)

// With nothing typed the guided start writes a sound file with the settings that it
// asked for: rows of the bracket but one, times the angles.
func TestGuidedFileAsItStands(t *testing.T) {
	text, err := File(Answers{}, units.Metric)
	if err != nil {
		t.Fatal(err)
	}
	c, err := carfile.Parse("new", text, nil)
	if err != nil {
		t.Fatal(err)
	}
	places, err := c.Positions()
	if err != nil {
		t.Fatal(err)
	}
	if len(places) != 3*2 {
		t.Errorf("%d settings, want 3 heights of 2 angles", len(places))
	}
	if len(c.Warnings) > 0 {
		t.Errorf("it is odd: %v", c.Warnings)
	}
	for _, want := range []float64{0, 10} {
		found := false
		for _, p := range places {
			found = found || math.Abs(p.Angle/plane.Deg-want) < 0.01
		}
		if !found {
			t.Errorf("no setting has the angle of %g°", want)
		}
	}
}

// Whatever the answers that pass, the file is sound; what does not pass says what is
// allowed.
func TestGuidedFileIsSound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mm := func(name string, lo, hi float64) string {
			return fmt.Sprintf("%.1f", rapid.Float64Range(lo, hi).Draw(t, name))
		}
		front := rapid.Float64Range(0, 200).Draw(t, "front")
		a := Answers{
			"name": rapid.StringMatching(`[A-Za-zäöü"\\# ]{1,30}`).Draw(t, "name"), "wheelbase": mm("wheelbase", 1500, 4000),
			"rows": fmt.Sprint(rapid.IntRange(2, 20).Draw(t, "rows")), "row_step": mm("step", 15, 90), "column": mm("column", 20, 200),
			"bolt": rapid.SampledFrom([]string{"M5", "m6", "M8", "M10", "M12"}).Draw(t, "bolt"), "pivot": mm("pivot", 200, 900),
			"wing_front": fmt.Sprintf("%.1f", front), "wing_rear": fmt.Sprintf("%.1f", front+rapid.Float64Range(60, 400).Draw(t, "more")),
			"angles": "-3, 8.5° 25", "span": mm("span", 300, 2500), "chord": mm("chord", 60, 800),
		}
		text, err := File(a, units.Metric)
		if err != nil {
			if !strings.Contains(err.Error(), ";") {
				t.Fatalf("%v", err)
			}
			return
		}
		if _, err := carfile.Parse("new", text, nil); err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
	})
}

func TestGuideSaysWhatIsAllowed(t *testing.T) {
	for key, rows := range map[string]map[string]string{
		"wheelbase":  {"12": "1500 to 4000 mm", "two": "not a number", "98in": ""},
		"rows":       {"1": "whole number from 2 to 20", "3.5": "whole number"},
		"bolt":       {"M7": "M5, M6, M8, M10 or M12", "m10": "", "5/16in": "", "5/16-24 UNF": "", "M3": "M5, M6"},
		"wing_rear":  {"55": "at least 20 mm behind"},
		"angles":     {"0 1 2": "would overlap hole A0", "90": "-20 to 30", "": "", "x": "-20 to 30", "0, 5.5, 11": "", "0,5 11": "decimal points"},
		"design":     {"120": "at least the speed of the figures, 160 km/h", "160": "", "100mph": ""},
		"foot_angle": {"2": "", "-2.5deg": "", "60": "-45 to 45 °"},
		"section":    {"wortman": "four or five digits", "naca 23012": ""},
		"name":       {"a\x1bb": "printable"},
	} {
		for _, q := range Questions() {
			if q.Key != key {
				continue
			}
			for text, want := range rows {
				err := q.Check(text, Answers{}, units.Metric)
				if (err == nil) != (want == "") || err != nil && !strings.Contains(err.Error(), want) {
					t.Errorf("%s %q: %v, want %q", key, text, err, want)
				}
			}
		}
	}
}

// What nobody said stands in the file as assumed, and nothing else does: one pivot, the
// wing's bolts on the chord, and every answer that was typed.
func TestGuideInventsNothing(t *testing.T) {
	a := Answers{"wheelbase": "2600", "foot_angle": "3", "pivot_x": "25", "angles": "2 14", "wing_front": "30", "wing_rear": "150"}
	text, err := File(a, units.Metric)
	if err != nil {
		t.Fatal(err)
	}
	c, err := carfile.Parse("new", text, nil)
	if err != nil {
		t.Fatal(err)
	}
	assumed := map[string]bool{}
	for _, k := range c.Assumed {
		assumed[k.What] = true
	}
	for _, q := range Questions() {
		if _, said := a[q.Key]; assumed[q.Name] == said && q.Key != "name" {
			t.Errorf("%s: said %v, listed as assumed %v", q.Key, said, !said)
		}
	}
	fronts := 0
	for _, h := range c.Parts[1].Holes {
		if h.Joint == "head" && h.ID == "A" {
			fronts++
			if h.X != 25 || h.Z != 430 {
				t.Errorf("the pivot is at %g, %g", h.X, h.Z)
			}
		}
	}
	if fronts != 1 || len(c.Parts[1].Holes) != 4+1+2 {
		t.Errorf("%d pivots, %d holes", fronts, len(c.Parts[1].Holes))
	}
	for _, h := range c.Parts[2].Holes {
		if h.Z != 0 {
			t.Errorf("bolt %s is %g mm off the chord", h.ID, h.Z)
		}
	}
	places, err := c.Positions()
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range places { // the bracket stands at 3°, and the angles are to the ground
		if got := p.Angle / plane.Deg; math.Abs(got-2) > 0.02 && math.Abs(got-14) > 0.02 {
			t.Errorf("%s: %.3f°, want 2° or 14°", p.ID, got)
		}
	}
}

// Asked in inches, bare numbers are inches, pounds and mph, what was understood is
// echoed with its unit, and the file is in them.
func TestGuideInInches(t *testing.T) {
	u := units.Imperial
	if got := question("wheelbase").Echo("98 7/16", u) + ", " + question("front_mass").Echo("1300", u) + ", " + question("speed").Echo("160km/h", u); got != "98 7/16 in, 1300 lb, 160km/h" {
		t.Error(got)
	}
	if err := question("wheelbase").Check("2500", nil, u); err == nil || !strings.Contains(err.Error(), "59.1 to 157.5 in") {
		t.Error(err)
	}
	text, err := File(Answers{"wheelbase": "98 7/16", "front_mass": "1300", "speed": "100", "bolt": "5/16in"}, u)
	if err != nil {
		t.Fatal(err)
	}
	c, err := carfile.Parse("new", text, nil)
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	if math.Abs(c.Wheelbase-2500.3) > 0.1 || math.Abs(c.FrontMass-589.67) > 0.01 || math.Abs(c.Speed-44.704) > 1e-6 || c.System() != u || c.Joints[0].Bolt != "5/16-18 UNC" {
		t.Errorf("wheelbase %g mm, mass %g kg, speed %g m/s, bolt %s", c.Wheelbase, c.FrontMass, c.Speed, c.Joints[0].Bolt)
	}
}

package carfile

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stanchion/model"
)

// With nothing typed the guided start writes a sound file with the settings that it
// asked for: rows of the bracket but one, times the angles.
func TestGuidedFileAsItStands(t *testing.T) {
	text, err := GuidedFile(Answers{})
	if err != nil {
		t.Fatal(err)
	}
	c, err := Parse("new", text, nil)
	if err != nil {
		t.Fatal(err)
	}
	places, err := c.Places()
	if err != nil {
		t.Fatal(err)
	}
	if len(places) < 3*3 {
		t.Errorf("%d settings, want at least 9", len(places))
	}
	if len(c.Warnings) > 0 {
		t.Errorf("it is odd: %v", c.Warnings)
	}
	for _, want := range []float64{0, 5, 10} {
		found := false
		for _, p := range places {
			found = found || math.Abs(p.Angle/model.Deg-want) < 0.01
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
		text, err := GuidedFile(a)
		if err != nil {
			if !strings.Contains(err.Error(), ";") {
				t.Fatalf("%v", err)
			}
			return
		}
		if _, err := Parse("new", text, nil); err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
	})
}

func TestGuideSaysWhatIsAllowed(t *testing.T) {
	for key, rows := range map[string]map[string]string{
		"wheelbase": {"12": "1500 to 4000 mm", "two": "not a number", "98in": ""},
		"rows":      {"1": "whole number from 2 to 20", "3.5": "whole number"},
		"bolt":      {"M7": "M5, M6, M8, M10 or M12", "m10": ""},
		"wing_rear": {"65": "at least 20 mm behind"},
		"angles":    {"0 1 2 3 4 5 6 7 8 9 10 11 12 13 14 15 16 17 18": "2.2 diameters", "90": "-20 to 30", "": "", "x": "-20 to 30"},
		"section":   {"wortman": "four or five digits", "naca 23012": ""},
		"name":      {"a\x1bb": "printable"},
	} {
		for _, q := range Questions() {
			if q.Key != key {
				continue
			}
			for text, want := range rows {
				err := q.Check(text, Answers{})
				if (err == nil) != (want == "") || err != nil && !strings.Contains(err.Error(), want) {
					t.Errorf("%s %q: %v, want %q", key, text, err, want)
				}
			}
		}
	}
}

package calibrate

import (
	"math"
	"strings"
	"testing"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/given"
	"stanchion/model/units"
)

// spelt is readings as they were understood, in degrees and mm: side, angle/turned, heights, face and floor.
func spelt(t Typed) string {
	var parts []string
	number := func(label string, n given.Number, size float64) string {
		if x, ok := n.Get(); ok {
			return label + strings.TrimSuffix(units.Fixed(x/size, 1), ".0") + " "
		}
		return ""
	}
	for _, f := range t.Faces {
		parts = append(parts, "face "+f.Name+" "+number("", given.Is(f.Angle), plane.Deg))
	}
	for _, f := range t.Floors {
		parts = append(parts, "floor "+f.Name+" "+number("", given.Is(f.Angle), plane.Deg)+number("/", f.Turned, plane.Deg))
	}
	for _, r := range t.Readings {
		text := r.Side + ": "
		if r.Rebolted {
			text = "anew " + text
		}
		text += number("", r.Angle, plane.Deg) + number("/", r.Turned, plane.Deg) + number("h", r.Height, 1) + number("le", r.Leading, 1) + number("te", r.Trailing, 1)
		if r.Face != "" {
			text += "on " + r.Face + " "
		}
		if r.Floor != "" {
			text += "@" + r.Floor
		}
		parts = append(parts, text)
	}
	var clean []string
	for _, p := range parts {
		clean = append(clean, strings.TrimSpace(strings.ReplaceAll(p, "−", "-")))
	}
	return strings.Join(clean, "; ")
}

// What is typed at the car, on a car with one floor and one face in its file.
func TestReadTyped(t *testing.T) {
	car := &model.Car{Floors: []model.Floor{{Name: "1"}}, Faces: []model.Face{{Name: "top", Angle: 4 * plane.Deg}}}
	for text, want := range map[string]string{
		"6.4":      ": 6.4",
		"6.4 left": "left: 6.4",
		"6.4 6.6":  ": 6.4 /6.6",
		"floor 0.3 0.5 left 6.4 6.6 right 6.2 6.4": "floor 2 0.3 /0.5; left: 6.4 /6.6 @2; right: 6.2 /6.4 @2",
		"floor 0.3 0.5 6.4 6.6":                    "floor 2 0.3 /0.5; : 6.4 /6.6 @2",
		"floor 0.3 wing 6.4 6.6":                   "floor 2 0.3; : 6.4 /6.6 @2",
		"f .3 .5 l 6.4 r 6.2":                      "floor 2 0.3 /0.5; left: 6.4 @2; right: 6.2 @2",
		"floor left 6.4":                           "left: 6.4 @1",
		"left 6.4 floor":                           "left: 6.4 @1",
		"6.4 6.6 left 6.2 6.4 right":               "left: 6.4 /6.6; right: 6.2 /6.4",
		"6.4 left 6.2 right":                       "left: 6.4; right: 6.2",
		"rebolted left 6.4 right 6.2":              "anew left: 6.4; right: 6.2",
		"6.4 6.6 rebolted":                         "anew : 6.4 /6.6",
		"6.4 1342mm left":                          "left: 6.4 h1342",
		"6.4 1342 left 6.2 1338 right":             "left: 6.4 h1342; right: 6.2 h1338",
		"6.4° left 1342":                           "left: 6.4 h1342",
		"le 1312 te 1340":                          ": le1312 te1340",
		"left le 1312 te 1340 h 1319":              "left: h1319 le1312 te1340",
		"te 1340 right":                            "right: te1340",
		"on top 10.4 10.6 left":                    "left: 10.4 /10.6 on top",
		"left 10.4 on TOP right 10.2":              "left: 10.4 on top; right: 10.2 on top",
		"face plate -2.5":                          "face plate -2.5",
		"face plate -2.5 on plate 4":               "face plate -2.5; : 4 on plate",
		"-3.2 -3":                                  ": -3.2 /-3",
		"0.5 -0.3":                                 ": 0.5 /-0.3",
		"floor 0.3":                                "floor 2 0.3",
		"53in":                                     ": h1346.2",
		"1.342m":                                   ": h1342",
	} {
		got, err := ReadTyped(text, car, "a", units.Metric)
		if s := spelt(got); err != nil || s != want {
			t.Errorf("%q is %q, %v; want %q", text, s, err, want)
		}
		for _, r := range got.Readings {
			if r.Setting != "a" {
				t.Errorf("%q: setting %q", text, r.Setting)
			}
		}
	}
	// In inches a number above 30 is a height in inches.
	if got, err := ReadTyped("6.4 52.83", car, "a", units.Imperial); err != nil || math.Abs(got.Readings[0].Height.Value()-1341.9) > 0.1 {
		t.Errorf("%+v, %v", got, err)
	}
	for text, want := range map[string]string{
		"":                      "nothing is read",
		"rebolted floor 0.3":    "rebolted goes with a reading",
		"left":                  "left has nothing read behind it",
		"left right 6.4":        "left has nothing read behind it",
		"wing":                  "wing has nothing read behind it",
		"6.4 -6.6":              "6.4° and −6.6°; type both with the sign of the slope, up at the rear positive; turned end for end they differ by 4° at most",
		"floor 0.3 6.4 6.6":     "say left, right or wing before the wing's angles; turned end for end two of the floor differ by 4° at most",
		"floor floor 0.3":       "floor stands twice",
		"on side 6.4":           `there is no face "side"`,
		"on":                    "needs the name of a face",
		"face":                  "needs a name",
		"face plate":            "needs its angle",
		"face top 4":            "is in the car file already",
		"face plate 95":         "must be -90 to 90",
		"6,4":                   "6.4",
		"6.4 mm":                `"mm"; give angles`,
		"le left":               "le needs a height behind it",
		"le":                    "le needs a height behind it",
		"le 1312 le 1313":       "the height of the leading edge is given twice",
		"left 6.4 1342 1343":    "the height of the quarter-chord point is given twice",
		"h -5":                  "it must be more than 0",
		"left 6.4 6.5 6.6 what": `"what"; give angles`,
	} {
		if got, err := ReadTyped(text, car, "a", units.Metric); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %+v, %v; want %q", text, spelt(got), err, want)
		}
	}
	if _, err := ReadTyped("floor left 6", &model.Car{}, "a", units.Metric); err == nil || !strings.Contains(err.Error(), "no floor is kept yet") {
		t.Errorf("%v", err)
	}
}

// What is typed never panics, and what is taken is finite and together.
func FuzzReadTyped(f *testing.F) {
	for _, s := range []string{"floor 0.3 0.5 left 6.4 6.6 right 6.2 6.4", "le 1312 te 1340", "on top 3", "face a 4 on a 5", "f f f", "6.4 left 1342 right", "−3 -3", "1e9 1/2"} {
		f.Add(s)
	}
	car := &model.Car{Floors: []model.Floor{{Name: "1"}}, Faces: []model.Face{{Name: "top"}}}
	f.Fuzz(func(t *testing.T, text string) {
		got, err := ReadTyped(text, car, "a", units.Metric)
		if err != nil {
			return
		}
		on := got.On(car)
		for _, r := range got.Readings {
			if r.Turned.Known() && !r.Angle.Known() || !hasNumbers(r) {
				t.Fatalf("%q: %+v", text, r)
			}
			if _, ok := on.Floor(r.Floor); r.Floor != "" && !ok {
				t.Fatalf("%q: no floor %q", text, r.Floor)
			}
			if _, ok := on.Face(r.Face); r.Face != "" && !ok {
				t.Fatalf("%q: no face %q", text, r.Face)
			}
			for _, n := range []given.Number{r.Angle, r.Turned, r.Height, r.Leading, r.Trailing} {
				if x, ok := n.Get(); ok && (math.IsNaN(x) || math.IsInf(x, 0)) {
					t.Fatalf("%q: %+v", text, r)
				}
			}
		}
	})
}

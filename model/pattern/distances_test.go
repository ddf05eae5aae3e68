package pattern

import (
	"strings"
	"testing"

	"stanchion/model/units"
)

func TestReadByHand(t *testing.T) {
	told, faults := Read("1-2 60, 2-4 inner 31.6; 1-3 72.1 tape\n3-4 2 3/8in ±0.3, d 4 10.4, 3 above", 8.4, "mm")
	if faults != nil {
		t.Fatal(faults)
	}
	want := []Distance{{"1", "2", 60, Centres, 60, Caliper}, {"2", "4", 31.6, Inner, 41, Caliper}, {"1", "3", 72.1, Centres, 72.1, Tape},
		{"3", "4", 60.325, Centres, 60.325, 0.3}}
	for i, w := range want {
		got := told.Distances[i]
		near(t, got.Pair()+" centres", got.Centres, w.Centres, 1e-9)
		near(t, got.Pair()+" ±", got.StdUnc, w.StdUnc, 1e-9)
		if got.Pair() != w.Pair() || got.By != w.By {
			t.Errorf("%v, want %v", got, w)
		}
	}
	if strings.Join(told.Names, " ") != "1 2 4 3" || len(told.Sides) != 1 || told.Sides[0] != (Side{"3", true, "above"}) {
		t.Errorf("names %v, sides %v", told.Names, told.Sides)
	}
}

// Dashes of any kind, and a colon or an equals sign before the number, are read.
func TestReadAsPeopleType(t *testing.T) {
	for _, text := range []string{"1–2 60", "1−2 60", "1—2 60", "1-2: 60", "1-2=60", "1-2 = 60 mm"} {
		told, faults := Read(text, 8.4, "mm")
		if len(faults) != 0 || len(told.Distances) != 1 || told.Distances[0].Pair() != "1-2" || told.Distances[0].Centres != 60 {
			t.Errorf("%q: %+v %v", text, told.Distances, faults)
		}
	}
}

// Each item that cannot be used is told with what to type.
func TestReadFaults(t *testing.T) {
	for text, want := range map[string]string{
		"1-2":             "1-2: the distance is missing; write two holes",
		"1-2 60,5":        "5: a number alone; use decimal points, not commas",
		"1-1 60":          "1-1 60: a hole's distance from itself",
		"12 60":           "not a distance",
		"1-2 -4":          "a distance must be above 0",
		"1-2 inner":       "the distance is missing",
		"1-2 60 ±0":       "its ± is no length above 0",
		"1-2 60 yards":    "has the unit",
		"1-2 outer 8":     "1-2: the centres would not be apart",
		"1-2 60, 9 above": "9: no distance names this hole",
		"d 4 x":           "not a diameter",
		"1-2\x1b 4":       "not a distance",
		"1-2 60, 3 left":  "3 left: which side is that, seen from the side of the car; write above, below, behind or ahead, such as 3 above",
		":":               "not a distance",
	} {
		_, faults := Read(text, 8.4, "mm")
		if len(faults) != 1 || !strings.Contains(faults[0].Error(), want) {
			t.Errorf("%q: %v, want %q", text, faults, want)
		}
	}
	if _, faults := Read("1-2 x, 3-4 y, 1-3 60", 8.4, "mm"); len(faults) != 2 {
		t.Errorf("two wrong items: %v", faults)
	}
}

// Whatever is typed, each fault is one printable line, and what is taken is finite and solvable.
func FuzzRead(f *testing.F) {
	for _, s := range []string{"1-2 60, 2-4 inner 31.6, 1-3 72.1", "d 4 10, 3 above", "1-2 8' 10\"", "a-b 1/0,;;\n", "1-2 60 ±", "1-2 +-3"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 300 {
			return
		}
		told, faults := Read(text, 8.4, "mm")
		for _, x := range faults {
			if strings.IndexFunc(x.Error(), units.Hidden) >= 0 {
				t.Errorf("%q: %q", text, x.Error())
			}
		}
		for _, d := range told.Distances {
			if !(d.Measured > 0 && d.Measured <= 5000 && d.StdUnc > 0) {
				t.Errorf("%q: %+v", text, d)
			}
		}
		if len(faults) == 0 && len(told.Distances) > 0 && len(told.Names) < 8 {
			s, err := Solve(Problem{Told: told})
			if err != nil {
				t.Fatal(err)
			}
			for _, p := range s.Places {
				if !(p.At.X < 1e6 && p.At.X > -1e6 && p.At.Z < 1e6 && p.At.Z > -1e6 && p.StdUnc >= 0) {
					t.Errorf("%q: %+v", text, p)
				}
			}
		}
	})
}

package carfile

import (
	"bytes"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/given"
)

// levelled is what is typed in a test: a face, a floor and three readings on them, of a setting.
func levelled(setting string) ([]model.Face, []model.Floor, []model.Reading) {
	deg := func(x float64) given.Number { return given.Is(x * plane.Deg) }
	return []model.Face{{Name: "top \"rear\"", Angle: 4.5 * plane.Deg, StdUnc: deg(0.3)}},
		[]model.Floor{{Name: "9", Angle: -0.35 * plane.Deg, Turned: deg(0.1)}},
		[]model.Reading{
			{Setting: setting, Side: "left", Angle: deg(6.4), Turned: deg(6.65), Floor: "9"},
			{Setting: setting, Side: "right", Rebolted: true, Angle: deg(10.95), Face: "top \"rear\"", Floor: "9", ReadingStdUnc: deg(0.1)},
			{Setting: setting, Height: given.Is(1342.25), Leading: given.Is(1330), Trailing: given.Is(1351.5), TapeStdUnc: given.Is(1)},
		}
}

// Readings are added to every sample without another byte changing, in its own units and line ends, read
// back as they were typed, and taken out again one by one until the file is what it was but for the
// face and the floor.
func TestReadingsReadBack(t *testing.T) {
	for name, text := range texts(t) {
		before, err := Parse(name, text, openCars)
		if err != nil {
			t.Fatal(err)
		}
		faces, floors, readings := levelled("x:y")
		edits, err := AddReadings(text, faces, floors, readings)
		if err != nil {
			t.Fatal(err)
		}
		after := Apply(text, edits)
		if !bytes.HasPrefix(after, text) || bytes.Contains(text, []byte("\r\n")) != bytes.Contains(after[len(text):], []byte("\r\n")) {
			t.Errorf("%s: more changes than is added:\n%s", name, after[len(text):])
		}
		car, err := Parse(name, after, openCars)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		n := len(before.Readings)
		if len(car.Readings) != n+3 || len(car.Faces) != len(before.Faces)+1 || len(car.Floors) != len(before.Floors)+1 {
			t.Fatalf("%s: %d readings, %d faces, %d floors", name, len(car.Readings), len(car.Faces), len(car.Floors))
		}
		for i, want := range readings {
			got := car.Readings[n+i]
			if line := bytes.Split(after, []byte("\n"))[got.Line-1]; !bytes.HasPrefix(line, []byte("[[measured]]")) {
				t.Errorf("%s: reading %d is said to stand on line %d: %s", name, i, got.Line, line)
			}
			if !alikeReading(got, want) {
				t.Errorf("%s: read back %+v, want %+v", name, got, want)
			}
		}
		if f := car.Floors[len(car.Floors)-1]; !near(f.Angle, floors[0].Angle) || !near(f.Turned.Value(), floors[0].Turned.Value()) {
			t.Errorf("%s: floor %+v", name, f)
		}
		withoutReadings := Apply(text, must(AddReadings(text, faces, floors, nil)))
		for k := range 3 { // the second, the first, the third
			at := n + []int{1, 0, 0}[k]
			car, err := Parse(name, after, openCars)
			if err != nil {
				t.Fatal(err)
			}
			if _, err := RemoveReading(after, at, model.Reading{Setting: "another"}); err == nil {
				t.Errorf("%s: another reading than is meant is taken out", name)
			}
			edits, err := RemoveReading(after, at, car.Readings[at])
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			after = Apply(after, edits)
		}
		if !bytes.Equal(after, withoutReadings) {
			t.Errorf("%s: after taking all back:\n%q\nwant\n%q", name, after[len(text):], withoutReadings[len(text):])
		}
	}
}

func must(edits []Edit, err error) []Edit {
	if err != nil {
		panic(err)
	}
	return edits
}

// near is alike to a ten-thousandth of a degree or a hundredth of a mm.
func near(a, b float64) bool { return a-b < 2e-6 && b-a < 2e-6 || a > 0.5 && a-b < 0.02 && b-a < 0.02 }

func alikeReading(a, b model.Reading) bool {
	a.Line, b.Line = 0, 0
	for _, pair := range [][2]*given.Number{{&a.Angle, &b.Angle}, {&a.Turned, &b.Turned}, {&a.Height, &b.Height}, {&a.Leading, &b.Leading}, {&a.Trailing, &b.Trailing},
		{&a.ReadingStdUnc, &b.ReadingStdUnc}, {&a.TapeStdUnc, &b.TapeStdUnc}} {
		if pair[0].Known() && pair[1].Known() && near(pair[0].Value(), pair[1].Value()) {
			*pair[0] = *pair[1]
		}
	}
	return reflect.DeepEqual(a, b)
}

// A reading in the middle of a file goes with the comments on its own lines; those above it, and what
// belongs to the next table, stay.
func TestRemoveReadingKeepsComments(t *testing.T) {
	start := string(Start())
	text := start + `
# read on Sunday
[[measured]] # one
setting = "a" # bolts
angle = 6.4
# inside
height = 1300 # tape

# about the second
[[measured]]
setting = "b"
angle = 7
`
	car, err := Parse("car.toml", []byte(text), openCars)
	if err != nil {
		t.Fatal(err)
	}
	edits, err := RemoveReading([]byte(text), 0, car.Readings[0])
	if err != nil {
		t.Fatal(err)
	}
	want := start + `
# read on Sunday

# about the second
[[measured]]
setting = "b"
angle = 7
`
	if after := string(Apply([]byte(text), edits)); after != want {
		t.Errorf("%s\nwant\n%s", after[len(start):], want[len(start):])
	}
	if _, err := RemoveReading([]byte(text), 5, car.Readings[0]); err == nil {
		t.Error("a reading that is not there is taken out")
	}
	inline := strings.Replace(start, "format = 1", "format = 1\nmeasured = [ { setting = \"a\", angle = 6 } ]", 1)
	if _, err := AddReadings([]byte(inline), nil, nil, nil); err == nil || !strings.Contains(err.Error(), "written as a list") {
		t.Errorf("%v", err)
	}
	if _, err := RemoveReading([]byte(inline), 0, model.Reading{Setting: "a", Angle: given.Is(6 * plane.Deg)}); err == nil {
		t.Error("an entry of a list is taken out")
	}
}

// Each fault of a reading gets one line, with its place.
func TestReadingFaults(t *testing.T) {
	text := string(Start())
	lines := strings.Count(text, "\n")
	for added, want := range map[string]string{
		"[[measured]]\nsetting = \"a\"\nangle = 6\nturned = -6.2":                                   `:4:10: measured 1: turned is -6.2°, and angle 6°; they may differ by 4° at most`,
		"[[measured]]\nsetting = \"a\"\nturned = 6\nheight = 1200":                                  `:3:10: measured 1: turned without an angle; give angle as well`,
		"[[measured]]\nsetting = \"a\"\nfloor = \"x\"\nleading = 1200":                              `:3:9: measured 1: floor without an angle`,
		"[[measured]]\nsetting = \"a\"\nangle = 6\nfloor = \"x\"":                                   `:4:9: measured 1: there is no floor "x"; add a table [[floor]] with that name`,
		"[[face]]\nname = \"f\"\nangle = 3\n[[measured]]\nsetting = \"a\"\nangle = 6\nface = \"x\"": `:7:8: measured 1: there is no face "x"; use one of "f"`,
		"[[face]]\nname = \"f\"":                                                 `:1:1: face 1: angle is missing; give a number in °`,
		"[[face]]\nname = \"f\"\nangle = 95":                                     `:3:9: face 1: angle is 95°; it must be -90 to 90`,
		"[[face]]\nname = \"f\"\nangle = 1\n[[face]]\nname = \"f\"\nangle = 1":   `:5:8: face 2: the name "f" is used by another face already`,
		"[[floor]]\nname = \"f\"\nangle = 1\n[[floor]]\nname = \"f\"\nangle = 1": `:5:8: floor 2: the name "f" is used by another floor already`,
		"[[floor]]\nname = \"f\"\nangle = 1\nturned = 6":                         `:4:10: floor 1: turned is 6°, and angle 1°`,
		"[[measured]]\nsetting = \"a\"\nleading = 1200\ntrailing = 1600":         `:4:12: measured 1: leading and trailing edge are 400 mm apart in height, and the chord is`,
		"[[measured]]\nsetting = \"a\"\nleading = 1200\ntape = 0":                `:4:8: measured 1: tape is 0 mm; it must be 0.1 to 50 mm`,
		"[[measured]]\nsetting = \"a\"\nside = \"up\"\nangle = 4":                `:3:8: measured 1: side is "up"`,
		"[[measured]]\nsetting = \"a\"":                                          `:1:1: measured 1: angle is missing`,
		"[[measured]]\nsetting = \"a\"\nangel = 4\nheight = 1200":                `:3:1: measured 1: unknown key "angel"; did you mean "angle"?`,
	} {
		_, err := Parse("c", []byte(text+added+"\n"), openCars)
		if err == nil {
			t.Errorf("%q is sound", added)
			continue
		}
		at, rest, _ := strings.Cut(strings.TrimPrefix(want, ":"), ":")
		line := lines
		for _, d := range at {
			line += int(d - '0')
		}
		if got := err.Error(); strings.Count(got, "\n") > 0 || !strings.HasPrefix(got, "c:"+strconv.Itoa(line)+":"+rest) {
			t.Errorf("%q:\n%s\nwant c:%d:%s", added, got, line, rest)
		}
	}
}

package carfile

import (
	"io/fs"
	"math"
	"strings"
	"testing"

	"stanchion/holes"
	"stanchion/holes/plane"
)

const designFile = `[[part]]
name = "upright" # of plywood
holes = [ # as drilled
  { id = "a", x = 0, z = 0, d = 8.4 }, # worn
]

[[joint]]
name = "foot" # M8
bolt = "M8"

[[joint]]
name = "head"
min_bolts = 2 # two
`

func TestSetHolesAndBolts(t *testing.T) {
	text := []byte(designFile)
	put, err := SetHoles(text, "upright", []holes.Hole{{ID: "k1", X: 1.25, Z: -2, D: 8.4, Joint: "foot"}, {ID: "F1", X: 10, Z: 400, D: 6.4}})
	if err != nil {
		t.Fatal(err)
	}
	foot, err := SetMinBolts(text, "foot", 4)
	if err != nil {
		t.Fatal(err)
	}
	head, err := SetMinBolts(text, "head", 3)
	if err != nil {
		t.Fatal(err)
	}
	want := `[[part]]
name = "upright" # of plywood
holes = [
  { id = "k1", x = 1.25, z = -2, d = 8.4, joint = "foot" },
  { id = "F1", x = 10, z = 400, d = 6.4 },
]

[[joint]]
name = "foot" # M8
min_bolts = 4
bolt = "M8"

[[joint]]
name = "head"
min_bolts = 3 # two
`
	if got := string(Apply(text, []Edit{put, foot, head})); got != want {
		t.Errorf("got\n%s", got)
	}
}

func TestSetHolesSaysWhyNot(t *testing.T) {
	if _, err := SetHoles([]byte(designFile), "bracket", nil); err == nil || !strings.Contains(err.Error(), `no part "bracket"`) {
		t.Error(err)
	}
	if _, err := SetHoles([]byte("[[part]]\nname = \"p\"\n[[part.holes]]\nid = \"1\"\n"), "p", nil); err == nil || !strings.Contains(err.Error(), "tables") {
		t.Error(err)
	}
	if _, err := SetMinBolts([]byte(designFile), "waist", 4); err == nil || !strings.Contains(err.Error(), "by hand") {
		t.Error(err)
	}
	windows := strings.ReplaceAll(designFile, "\n", "\r\n")
	e, err := SetMinBolts([]byte(windows), "foot", 4)
	if err != nil || e.Text != "min_bolts = 4\r\n" {
		t.Errorf("%q %v", e.Text, err)
	}
}

func TestSetBuilt(t *testing.T) {
	text := []byte("[units]\nlength = \"mm\"\n[[part]]\nname = \"upright\"\nholes = [\n  { id = \"a\", x = 0, z = 0, d = 8.4 }, # worn\n  { id = \"b\", x = 60, z = 0, d = 8.4, left = { x = 60.2, z = 0 } },\n]\n")
	edits, err := SetBuilt(text, "upright", "left", []string{"b", "a"}, map[string]plane.Point{"a": {X: 0.25, Z: -0.1}, "b": {X: 59.9}})
	if err != nil {
		t.Fatal(err)
	}
	want := "[units]\nlength = \"mm\"\n[[part]]\nname = \"upright\"\nholes = [\n  { id = \"a\", x = 0, z = 0, d = 8.4, left = { x = 0.25, z = -0.1 } }, # worn\n  { id = \"b\", x = 60, z = 0, d = 8.4, left = { x = 59.9, z = 0 } },\n]\n"
	if got := string(Apply(text, edits)); got != want {
		t.Errorf("got\n%s", got)
	}
	for part, id := range map[string]string{"bracket": "a", "upright": "c"} {
		if _, err := SetBuilt(text, part, "left", []string{id}, nil); err == nil {
			t.Errorf("part %s, hole %s: no error", part, id)
		}
	}
}

// TestBuiltFaults: a slot has no sides, a place 40 mm off is another hole.
func TestBuiltFaults(t *testing.T) {
	demo, err := fs.ReadFile(demos, "demo/coupe.toml")
	if err != nil {
		t.Fatal(err)
	}
	with := func(hole string) string {
		return strings.Replace(string(demo), `{ id = "B", x = 0, z = 470, d = 8.4, joint = "head" }`, hole, 1)
	}
	for hole, want := range map[string]string{
		`{ id = "B", x = 0, z = 470, d = 8.4, left = { x = 0, z = 510 } }`:                          "the hole was measured 40.0 mm from where it is drawn",
		`{ id = "B", x = 0, z = 470, d = 8.4, to = { x = 5, z = 480 }, left = { x = 0, z = 470 } }`: "left and right are given for a slot",
		`{ id = "B", x = 0, z = 470, d = 8.4, right = { x = 0 } }`:                                  "right: z is missing",
	} {
		if _, err := Parse("x", []byte(with(hole)), nil); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %q", hole, err, want)
		}
	}
	car, err := Parse("x", []byte(with(`{ id = "B", x = 0, z = 470, d = 8.4, left = { x = 0.4, z = 470 }, right = { x = 0, z = 470.2 } }`)), nil)
	if err != nil {
		t.Fatal(err)
	}
	b := car.Parts[1].Built["B"]
	if !b.LeftMeasured || !b.RightMeasured || b.Drawn != (plane.Point{Z: 470}) || b.Left != (plane.Point{X: 0.4, Z: 470}) || b.Right != (plane.Point{Z: 470.2}) {
		t.Errorf("%+v", b)
	}
	for _, h := range car.Parts[1].Holes {
		if h.ID == "B" && (math.Abs(h.X-0.2) > 1e-9 || math.Abs(h.Z-470.1) > 1e-9) {
			t.Errorf("the hole is at %v, %v, not half-way", h.X, h.Z)
		}
	}
}

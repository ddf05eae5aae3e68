package carfile

import (
	"strings"
	"testing"

	"stanchion/holes"
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

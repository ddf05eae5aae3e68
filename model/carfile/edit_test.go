package carfile

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stanchion/holes"
	"stanchion/holes/plane"
)

// openCars reads the files that the sample cars name.
func openCars(name string) ([]byte, error) {
	if data, err := os.ReadFile(filepath.Join(cars, name)); err == nil {
		return data, nil
	}
	return demos.ReadFile("demo/" + name)
}

func texts(t *testing.T) map[string][]byte {
	t.Helper()
	all := map[string][]byte{"start": Start()}
	for _, n := range Demos() {
		_, files, err := DemoFiles(n)
		if err != nil {
			t.Fatal(err)
		}
		all[n] = files[n+".toml"]
	}
	hatch, err := os.ReadFile(filepath.Join(cars, "hatch.toml"))
	if err != nil {
		t.Fatal(err)
	}
	all["hatch"] = hatch
	all["cut-outs"] = []byte(plateFile("mm", plateOutline, "cutouts = [ [ [20, 50], [60, 50], # below\n [60, 150] ], # a, b\n [ [20, 180], [60, 180], [40, 200] ] ] # both"))
	all["hatch, windows"] = []byte("\uFEFF" + strings.ReplaceAll(string(hatch), "\n", "\r\n"))
	return all
}

// A hole is added to every part of every sample without another byte changing,
// and reads back where it was put.
func TestAddHolesChangesNothingElse(t *testing.T) {
	for name, text := range texts(t) {
		car, err := Parse(name, text, openCars)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		for i, p := range car.Parts {
			h := holes.Hole{ID: "N1", X: 212.25, Z: -71.5, D: 8.4, Joint: car.Joints[min(i, len(car.Joints)-1)].Name}
			e, err := AddHoles(text, p.Name, []holes.Hole{h, {ID: "N2", X: 250, Z: -60, D: 9}})
			if err != nil {
				t.Fatalf("%s, %s: %v", name, p.Name, err)
			}
			after := Apply(text, []Edit{e})
			if !bytes.Equal(append(append([]byte(nil), after[:e.From]...), after[e.From+len(e.Text):]...), text) {
				t.Errorf("%s, %s: more changes than the holes", name, p.Name)
			}
			again, err := Parse(name, after, openCars)
			if err != nil {
				t.Errorf("%s, %s: %v\n%s", name, p.Name, err, e.Text)
				continue
			}
			got := again.Parts[i].Holes
			if len(got) != len(p.Holes)+2 {
				t.Errorf("%s, %s: %d holes, want %d", name, p.Name, len(got), len(p.Holes)+2)
				continue
			}
			if n := got[len(got)-2]; n.ID != "N1" || n.At() != h.At() && (plane.Point{X: n.X - h.X, Z: n.Z - h.Z} != plane.Point{}) && (abs(n.X-h.X) > 0.002 || abs(n.Z-h.Z) > 0.002) || n.Joint != h.Joint {
				t.Errorf("%s, %s: read back as %+v", name, p.Name, n)
			}
		}
	}
}

// An outline and cut-outs are put into every part of every sample, in the place of those that
// stand there, and read back; nothing else changes.
func TestSetOutlineAndCutouts(t *testing.T) {
	for name, text := range texts(t) {
		car, err := Parse(name, text, openCars)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		for i, p := range car.Parts {
			outline := []plane.Point{{X: -2000, Z: -1000.5}, {X: 1500, Z: -1000.5}, {X: 1500, Z: 2000}, {X: -2000, Z: 2000}}
			var cutouts [][]plane.Point
			for k := range 9 {
				x := -1900 + 100*float64(k)
				cutouts = append(cutouts, []plane.Point{{X: x, Z: -900}, {X: x + 80.25, Z: -900}, {X: x + 40, Z: -800}})
			}
			first, err := SetOutline(text, p.Name, outline)
			if err != nil {
				t.Fatalf("%s, %s: %v", name, p.Name, err)
			}
			second, err := SetCutouts(text, p.Name, cutouts)
			if err != nil {
				t.Fatalf("%s, %s: %v", name, p.Name, err)
			}
			after := Apply(text, []Edit{first, second})
			again, err := Parse(name, after, openCars)
			if err != nil {
				t.Errorf("%s, %s: %v\n%s", name, p.Name, err, second.Text)
				continue
			}
			got := again.Parts[i]
			if len(got.Outline) != 4 || len(got.Cutouts) != len(cutouts) || len(got.Holes) != len(p.Holes) {
				t.Errorf("%s, %s: %d corners, %d cut-outs, %d holes", name, p.Name, len(got.Outline), len(got.Cutouts), len(got.Holes))
				continue
			}
			for k, c := range got.Cutouts {
				for n, q := range c {
					if q.Distance(cutouts[k][n]) > 0.002 {
						t.Errorf("%s, %s: corner %v read back as %v", name, p.Name, cutouts[k][n], q)
					}
				}
			}
			none, err := SetCutouts(after, p.Name, nil)
			if err != nil {
				t.Fatal(err)
			}
			if bare, err := Parse(name, Apply(after, []Edit{none}), openCars); err != nil || bare.Parts[i].Cutouts != nil {
				t.Errorf("%s, %s: with none: %v", name, p.Name, err)
			}
		}
	}
	if _, err := SetCutouts([]byte("[[part]]\nname = \"p\"\n[[part.holes]]\nid = \"a\"\n"), "p", nil); err == nil || !strings.Contains(err.Error(), "add its cutouts by hand") {
		t.Errorf("holes as tables: %v", err)
	}
}

func abs(x float64) float64 { return max(x, -x) }

func TestSetFixed(t *testing.T) {
	for name, text := range texts(t) {
		car, err := Parse(name, text, openCars)
		if err != nil {
			t.Fatal(err)
		}
		want := car.Fixed
		want.Turn += 0.02
		want.Z += 3.4
		edits, err := SetFixed(text, want)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		again, err := Parse(name, Apply(text, edits), openCars)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if g := again.Fixed; abs(g.Turn-want.Turn) > 1e-4 || abs(g.Z-want.Z) > 0.2 || abs(g.X-want.X) > 0.2 {
			t.Errorf("%s: fixed %+v, want %+v", name, g, want)
		}
	}
}

func TestHolesAsTablesAreNotEdited(t *testing.T) {
	text := "[[part]]\nname = \"p\"\n[[part.holes]]\nid = \"a\"\n"
	if _, err := AddHoles([]byte(text), "p", []holes.Hole{{ID: "N1", D: 8}}); err == nil || !strings.Contains(err.Error(), `{ id = "N1", x = 0, z = 0, d = 8 }`) {
		t.Errorf("%v, want the line to add by hand", err)
	}
}

func FuzzAddHoles(f *testing.F) {
	f.Add("[[part]]\nname = 'p'\nholes = [ {id='a'}, # x, y\n {id='b'} ]\n")
	f.Add("[[part]]\nname = 'p'\nholes = []\n")
	f.Fuzz(func(t *testing.T, text string) {
		if _, err := decoded([]byte(text)); err != nil {
			return
		}
		e, err := AddHoles([]byte(text), "p", []holes.Hole{{ID: "N1", D: 8}})
		if err != nil {
			return
		}
		if _, err := decoded(Apply([]byte(text), []Edit{e})); err != nil {
			t.Fatalf("%v:\n%s", err, Apply([]byte(text), []Edit{e}))
		}
	})
}

// Slots read as rows of positions; a slot that is none, or both kinds, is a fault.
func TestSlots(t *testing.T) {
	with := func(slot string) (string, error) {
		text := strings.Replace(string(Start()), `{ id = "A1", x = 110, z = 430, d = 8.4, joint = "head" },`, slot, 1)
		car, err := Parse("s.toml", []byte(text), func(string) ([]byte, error) { return nil, errors.New("none") })
		if err != nil {
			return "", err
		}
		var ids []string
		for _, h := range car.Parts[1].Holes {
			if h.Slot != "" {
				ids = append(ids, h.ID)
			}
		}
		return strings.Join(ids, " "), nil
	}
	got, err := with(`{ id = "S", x = 110, z = 420, d = 8.4, joint = "head", to = { x = 110, z = 440 }, step = 5 },`)
	if err != nil || got != "S@0 S@5 S@10 S@15 S@20" {
		t.Errorf("%q, %v", got, err)
	}
	got, err = with(`{ id = "S", x = 110, z = 430, d = 8.4, joint = "head", arc = { x = 0, z = 430, turn = 2 } },`)
	if err != nil || got != "S@0 S@1.9 S@3.8" {
		t.Errorf("%q, %v", got, err)
	}
	for slot, want := range map[string]string{
		`{ id = "S", x = 110, z = 430, d = 8.4, to = { x = 1, z = 2 }, arc = { x = 0, z = 430, turn = 2 } },`: "both to and arc are given; give one of them",
		`{ id = "S", x = 110, z = 430, d = 8.4, to = { x = 110, z = 430 } },`:                                 "the slot is 0.00 mm long",
		`{ id = "S", x = 110, z = 430, d = 8.4, arc = { x = 0, z = 430, turn = 0 } },`:                        "turn is 0°",
		`{ id = "S", x = 110, z = 430, d = 8.4, step = 2 },`:                                                  "step without to or arc",
		`{ id = "S@1", x = 110, z = 430, d = 8.4 },`:                                                          "id holds an @",
	} {
		if _, err := with(slot); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %s", slot, err, want)
		}
	}
}

// A comment behind the last hole stays behind it, with or without a comma, and line
// ends stay what they are.
func TestCommentsStayWithTheirHole(t *testing.T) {
	for _, end := range []string{"\n", "\r\n"} {
		for _, comma := range []string{",", ""} {
			text := strings.ReplaceAll("format = 1\n[[part]]\nname = \"p\"\nholes = [\n  { id = \"A\", x = 0, z = 0, d = 8 }"+comma+"  # the sloppy one, redrill\n]\n", "\n", end)
			e, err := AddHoles([]byte(text), "p", []holes.Hole{{ID: "B", X: 30.1234, Z: 0, D: 8}})
			if err != nil {
				t.Fatal(err)
			}
			got := string(Apply([]byte(text), []Edit{e}))
			want := strings.ReplaceAll("format = 1\n[[part]]\nname = \"p\"\nholes = [\n  { id = \"A\", x = 0, z = 0, d = 8 },  # the sloppy one, redrill\n  { id = \"B\", x = 30.1234, z = 0, d = 8 }"+comma+"\n]\n", "\n", end)
			if got != want {
				t.Errorf("%q, want %q", got, want)
			}
		}
	}
}

// An outline takes the place of the one that is there, over several lines, or stands
// above the holes; all else stays.
func TestSetOutline(t *testing.T) {
	square := []plane.Point{{X: 0, Z: 0}, {X: 10.5, Z: 0}, {X: 10.5, Z: 20}}
	for text, want := range map[string]string{
		"format = 1\n[[part]]\nname = \"p\"\noutline = [ [0, 0],  # corner\n  [5, 5], [6, 0] ] # old\nholes = []\n":             "format = 1\n[[part]]\nname = \"p\"\noutline = [ [0, 0], [10.5, 0], [10.5, 20] ] # old\nholes = []\n",
		"format = 1\n[units]\nlength = \"in\"\n[[part]]\nname = \"q\"\nholes = []\n[[part]]\nname = \"p\" # mine\nholes = []\n": "format = 1\n[units]\nlength = \"in\"\n[[part]]\nname = \"q\"\nholes = []\n[[part]]\nname = \"p\" # mine\noutline = [ [0, 0], [0.41339, 0], [0.41339, 0.7874] ]\nholes = []\n",
	} {
		e, err := SetOutline([]byte(text), "p", square)
		if err != nil {
			t.Fatal(err)
		}
		if got := string(Apply([]byte(text), []Edit{e})); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if _, err := SetOutline([]byte("format = 1\n"), "p", square); err == nil {
		t.Error("a part that is not there")
	}
}

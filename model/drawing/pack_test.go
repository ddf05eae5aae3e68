package drawing

import (
	"math"
	"strings"
	"testing"

	"stanchion/holes"
	"stanchion/model"
	"stanchion/model/units"
)

// A pack has the edges as DXF and SVG, the part at 1:1, and a sheet that says material, thickness, quantity, every hole and the caution.
func TestPack(t *testing.T) {
	c := cars(t)["coupe"]
	files, err := Pack(c, 1, PackWanted{Wanted: Wanted{Date: day, Units: units.Metric}})
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	sheet := ""
	for _, f := range files {
		names = append(names, f.Name)
		sheet = string(f.Data)
	}
	if got := strings.Join(names, " "); got != "upright.dxf upright.svg upright-template.pdf upright.txt" {
		t.Errorf("the files are %s", got)
	}
	for _, want := range []string{"Material    EN AW-6082-T6\r\n", "Thickness   8.00 mm\r\n", "Quantity    2 ", "all alike", "1.91 kg each", "An estimate, not approval"} {
		if !strings.Contains(sheet, want) {
			t.Errorf("the sheet does not say %q:\n%s", want, sheet)
		}
	}
	for _, h := range c.Parts[1].Holes {
		if !strings.Contains(sheet, "\n  "+h.ID+" ") {
			t.Errorf("hole %s is not listed", h.ID)
		}
	}
	// 8 mm of aluminium at 2700 kg/m³; the plate less its holes.
	p := c.Parts[1]
	area, _ := p.Area()
	if kg := (area - float64(len(p.Holes))*math.Pi/4*8.4*8.4) * 8 * 2.7e-6; math.Abs(kg-1.91) > 0.005 {
		t.Errorf("the plate weighs %.3f kg", kg)
	}
	c.Parts[1].Material = ""
	files, err = Pack(c, 1, PackWanted{Wanted: Wanted{Date: day, Units: units.Metric}})
	if err != nil || !strings.Contains(string(files[3].Data), "Material    NOT GIVEN: ask before cutting") {
		t.Errorf("%v without a material", err)
	}
}

// How far a hole may be off. By hand: two M8 in 8.4 mm holes, 100 mm apart in one part and 100.4 in the other, leave 0.8 - 0.4 of their
// clearance: a quarter of it for each hole, 0.1 mm. With all holes off by that, straight towards one another, they still bolt; by a tenth more
// they do not.
func TestMayBeOff(t *testing.T) {
	car := func(off float64) *model.Car {
		at := func(x, by float64) float64 { return x + by*off }
		lower := model.Part{Part: holes.Part{Name: "lower", Holes: []holes.Hole{{ID: "1", X: at(0, 1), D: 8.4}, {ID: "2", X: at(100, -1), D: 8.4}}}}
		upper := model.Part{Part: holes.Part{Name: "upper", Holes: []holes.Hole{{ID: "a", X: at(0, -1), D: 8.4}, {ID: "b", X: at(100.4, 1), D: 8.4}}}}
		return &model.Car{Parts: []model.Part{lower, upper}, Joints: []model.Joint{{Joint: holes.Joint{Name: "j", Shank: 8, MaxTurn: 0.3}, Bolt: "M8"}}}
	}
	for index, ids := range [][]string{{"1", "2"}, {"a", "b"}} {
		off := mayBeOff(car(0), index)
		for _, id := range ids {
			if math.Abs(off[id]-0.1) > 1e-9 {
				t.Errorf("hole %s may be off by %g mm, want 0.1", id, off[id])
			}
		}
	}
	for off, want := range map[float64]int{0.099: 1, 0.11: 0} {
		if all, err := car(off).Chain().Settings(); err != nil || len(all) != want {
			t.Errorf("off by %g mm: %d settings, want %d", off, len(all), want)
		}
	}
}

// Names of parts make names of files, no two alike.
func TestFileNames(t *testing.T) {
	for name, want := range map[string]string{"upright": "upright", "upright, left/right": "upright--left-right", "../../etc": "etc", "車": "part"} {
		if got := FileName(name); got != want {
			t.Errorf("%q is %q, want %q", name, got, want)
		}
	}
	if got := Folders([]string{"a", "A", "車"}); got[0] != "a" || got[1] != "A-2" || got[2] != "part" {
		t.Errorf("folders %q", got)
	}
}

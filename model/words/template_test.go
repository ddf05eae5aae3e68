package words

import (
	"math"
	"strings"
	"testing"

	"stanchion/model/modeltest"
	"stanchion/model/template"
	"stanchion/model/units"
)

// TestTemplateLines: the caution comes first, and what moves sideways is said on the right side.
func TestTemplateLines(t *testing.T) {
	c := modeltest.Car(t, "coupe")
	for mm, wants := range map[float64][]string{
		9: {"drill 8.0 mm in wood, the bolt's own size; 8.4 mm in the plate", "bolts 35.0 mm long, as for the plate", "1.0 mm longer than for the plate",
			"1.0 mm thicker: mounts on its outer face want 2.0 mm more between them", "±0.45° on it, ±0.89° on the plate", "1.34° off", "over the 150 mm between", "by 0.19° more"},
		6: {"bolts 30.0 mm long; 35.0 mm for the plate", "reach 2.0 mm further", "2.0 mm thinner: pack mounts on its outer face with 2.0 mm of washers on each side"},
		8: {"as thick as the plate: nothing moves", "head, M8: bolts as for the plate."},
	} {
		m, err := template.Of(c, 1, mm)
		if err != nil {
			t.Fatal(err)
		}
		lines := Template(m, units.Metric)
		if lines[0] != TemplateCaution {
			t.Errorf("%v mm begins with %q", mm, lines[0])
		}
		for _, want := range wants {
			if all := strings.Join(lines, "\n"); !strings.Contains(all, want) {
				t.Errorf("%v mm: %q is missing in\n%s", mm, want, all)
			}
		}
	}
	m := template.Template{Part: &c.Parts[1], Thickness: 9, Sideway: math.NaN(), Loose: true, All: 3, Drills: []template.Drill{{Joint: "foot", Plate: 8.4, Wood: 8.4, Holes: 1}},
		Bolts: []template.Bolt{{Joint: "foot", Wood: math.NaN()}}}
	all := strings.Join(Template(&m, units.Metric), "\n")
	for _, want := range []string{"1 hole of the foot: drill 8.4 mm, as in the plate", "as wide as the plate's", "thickness is not given"} {
		if !strings.Contains(all, want) {
			t.Errorf("%q is missing in\n%s", want, all)
		}
	}
	m.Sideway, m.Outer = 3, "upright"
	if all := strings.Join(Template(&m, units.Metric), "\n"); !strings.Contains(all, "3.0 mm thicker: upright lies so much further out on each side") {
		t.Error(all)
	}
}

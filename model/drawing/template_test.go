package drawing

import (
	"slices"
	"strings"
	"testing"
	"time"

	"stanchion/holes"
	"stanchion/model/modeltest"
	"stanchion/model/units"
)

// TestTemplate: the drawing of the part with holes as in wood, and the lines before its table, the first of them large, none wider than they may be.
func TestTemplate(t *testing.T) {
	c := *modeltest.Car(t, "coupe")
	c.Parts = slices.Clone(c.Parts)
	c.Parts[1].Holes = slices.Clone(c.Parts[1].Holes)
	c.Parts[1].Holes[0] = holes.Hole{ID: "k1", D: 8, Joint: "foot"}
	long := strings.Repeat("words and ", 30)
	d := Template(&c, 1, []string{"no load", long}, time.Unix(0, 0), units.Metric)
	said := d.Blocks[0].drawn(1e9)[0].Texts
	if len(said) < 3 || said[0].Text != "no load" || said[0].Size != 4 || said[1].Size != textSize {
		t.Fatalf("%+v", said)
	}
	for i, x := range said {
		if textWidth(x.Text, x.Size) > templateWidth || i > 0 && x.At.Z >= said[i-1].At.Z {
			t.Errorf("%+v", x)
		}
	}
	radius := 0.0
	for _, k := range d.Circles {
		if k.Pen == Hole && k.Centre.X == 0 && k.Centre.Z == 0 {
			radius = k.Radius
		}
	}
	if radius != 4 || !strings.Contains(d.Title, "template of upright") {
		t.Errorf("%q, k1 has a radius of %v mm", d.Title, radius)
	}
}

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

// TestTemplate: the drawing of the part with holes as in wood, and the lines below it, the first of them large, none longer than 90 letters.
func TestTemplate(t *testing.T) {
	c := *modeltest.Car(t, "coupe")
	c.Parts = slices.Clone(c.Parts)
	c.Parts[1].Holes = slices.Clone(c.Parts[1].Holes)
	c.Parts[1].Holes[0] = holes.Hole{ID: "k1", D: 8, Joint: "foot"}
	long := strings.Repeat("words and ", 30)
	d := Template(&c, 1, []string{"no load", long}, time.Unix(0, 0), units.Metric)
	plain := Part(&c, 1, nil, time.Unix(0, 0), units.Metric)
	lo, _ := plain.Bounds()
	var below []Text
	for _, x := range d.Texts {
		if x.At.Z < lo.Z-9 {
			below = append(below, x)
		}
	}
	if len(below) != 5 || below[0].Text != "no load" || below[0].Size != 4 || below[1].Size != textSize {
		t.Fatalf("%+v", below)
	}
	for i, x := range below {
		if len(x.Text) > 90 || i > 0 && x.At.Z >= below[i-1].At.Z {
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
	if got := folded("aa bb cc", 5); !slices.Equal(got, []string{"aa bb", "cc"}) {
		t.Error(got)
	}
	if got := folded("aaaaaaaa b", 5); !slices.Equal(got, []string{"aaaaaaaa", "b"}) {
		t.Error(got)
	}
}

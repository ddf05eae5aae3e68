package template

import (
	"errors"
	"math"
	"slices"
	"testing"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/modeltest"
)

func of(t *testing.T, c *model.Car, part int, mm float64) *Template {
	t.Helper()
	made, err := Of(c, part, mm)
	if err != nil {
		t.Fatal(err)
	}
	return made
}

// TestDemoByHand: holes of 8.4 mm for M8 are drilled 8.0 in wood, so that with 8.4 in bracket and mounts a bolt has 0.2 mm instead of 0.4. The head's two bolts,
// 150 mm apart, turn by 0.4/150 instead of 0.8/150 rad, and the foot's four, at 39.05 mm from their middle (60 by 50 mm), by 0.2/39.05 instead of 0.4/39.05.
// M8 through 10 mm of bracket and the plate, with 2·1.6 of washers, 6.8 of nut and two threads of 1.25: 30.5 mm with 8 mm, 31.5 with 9, 28.5 with 6.
func TestDemoByHand(t *testing.T) {
	c := modeltest.Car(t, "coupe")
	for _, x := range []struct{ thick, bolt, out float64 }{{9, 35, 1}, {6, 30, -2}, {8, 35, 0}, {18, 45, 10}} {
		m := of(t, c, 1, x.thick)
		if want := (0.2/39.05 + 0.4/150); math.Abs(m.Wooden-want) > 0.01*want || math.Abs(m.Metal-2*want) > 0.02*want || math.Abs(m.Apart-3*want) > 0.03*want || !m.Known {
			t.Errorf("play %v on wood, %v on metal, %v together; want %v, twice and three times that", m.Wooden/plane.Deg, m.Metal/plane.Deg, m.Apart/plane.Deg, want/plane.Deg)
		}
		if want := []Drill{{"foot", 8.4, 8, 4}, {"head", 8.4, 8, 10}}; !slices.Equal(m.Drills, want) || m.Loose {
			t.Errorf("drills %v", m.Drills)
		}
		if len(m.Bolts) != 2 || m.Bolts[0].Joint != "foot" || m.Bolts[0].Size != "M8" || m.Bolts[0].Plate != 35 || m.Bolts[0].Wood != x.bolt || !math.IsNaN(m.Bolts[1].Wood) {
			t.Errorf("%v mm: bolts %+v", x.thick, m.Bolts)
		}
		if m.Sideway != x.out || m.Pitch != 150 || m.Outer != "" || m.All != len(modeltest.Table(t, "coupe").Rows) {
			t.Errorf("%v mm: %+v", x.thick, m)
		}
		if p := m.Car.Parts[1]; p.Holes[0].D != 8 || p.Thickness.Value() != x.thick || p.Material != "plywood" || c.Parts[1].Holes[0].D != 8.4 || c.Parts[1].Material == "plywood" {
			t.Error("the plate itself was changed, or the template was not")
		}
	}
}

// TestTightHolesThatDoNotGoIn: mounts drilled 0.5 mm further apart go in with 0.8 mm of clearance and not with 0.4.
func TestTightHolesThatDoNotGoIn(t *testing.T) {
	c := *modeltest.Car(t, "coupe")
	c.Parts = slices.Clone(c.Parts)
	c.Parts[2].Holes = slices.Clone(c.Parts[2].Holes)
	c.Parts[2].Holes[1].X += 0.5
	m := of(t, &c, 1, 9)
	if !m.Loose || m.Drills[0].Wood != 8.4 || !m.Known || math.Abs(m.Wooden-m.Metal) > 1e-9 {
		t.Errorf("%+v", m)
	}
}

// TestWhatIsNoPlate: neither the fixed part nor the wing; a plate between plates has the next one on its outer face; a part without holes has no settings.
func TestWhatIsNoPlate(t *testing.T) {
	c := modeltest.Car(t, "saloon")
	for _, part := range []int{0, len(c.Parts) - 1} {
		if _, err := Of(c, part, 9); !errors.Is(err, ErrNotPlate) {
			t.Errorf("part %d: %v", part, err)
		}
	}
	bare := *modeltest.Car(t, "coupe")
	bare.Parts = slices.Clone(bare.Parts)
	bare.Parts[1].Holes, bare.Parts[1].Thickness = nil, bare.Parts[2].Thickness
	if m := of(t, &bare, 1, 9); m.Known || m.All != 0 || len(m.Drills) != 0 || !math.IsNaN(m.Sideway) {
		t.Errorf("%+v", m)
	}
	for _, h := range []struct {
		joint string
		d     float64
		name  string
		wood  float64
	}{{"foot", 8.4, "foot", 8}, {"head", 9, "head", 8}, {"", 8.4, "foot", 8}, {"foot", 6, "", 6}} {
		name, wood := bolted(modeltest.Car(t, "coupe"), 1, h.d, h.joint, false)
		if name != h.name || wood != h.wood {
			t.Errorf("%+v: %s %v", h, name, wood)
		}
	}
}

// TestBetweenPlates: with an adapter between upright and wing, held to the wing by M6, the upright has the adapter on its outer face, and the adapter the wing.
func TestBetweenPlates(t *testing.T) {
	c := *modeltest.Car(t, "coupe")
	tip := c.Joints[1]
	tip.Name, tip.Bolt, tip.Shank = "tip", "M6", 6
	adapter := c.Parts[1]
	adapter.Name = "adapter"
	adapter.Holes = []holes.Hole{{ID: "a", D: 8.4, Joint: "head"}, {ID: "b", X: 150, D: 8.4, Joint: "head"}, {ID: "c", Z: 60, D: 6.4, Joint: "tip"}, {ID: "d", X: 150, Z: 60, D: 6.4, Joint: "tip"}}
	c.Parts = []model.Part{c.Parts[0], c.Parts[1], adapter, c.Parts[2]}
	c.Joints = []model.Joint{c.Joints[0], c.Joints[1], tip}
	if m := of(t, &c, 1, 9); m.Outer != "adapter" || len(m.Bolts) != 2 || m.Bolts[1].Size != "M8" {
		t.Errorf("the upright: %q outside of it, %+v", m.Outer, m.Bolts)
	}
	m := of(t, &c, 2, 9)
	if want := []Drill{{"head", 8.4, 8, 2}, {"tip", 6.4, 6, 2}}; !slices.Equal(m.Drills, want) || m.Outer != "" {
		t.Errorf("the adapter: %v, %q outside of it", m.Drills, m.Outer)
	}
	if len(m.Bolts) != 2 || m.Bolts[0].Joint != "head" || m.Bolts[0].Size != "M8" || m.Bolts[1].Joint != "tip" || m.Bolts[1].Size != "M6" {
		t.Errorf("%+v", m.Bolts)
	}
}

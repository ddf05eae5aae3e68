package cutting

import (
	"math"
	"math/rand/v2"
	"testing"

	"stanchion/holes/plane"
	"stanchion/model/modeltest"
)

// TestOneByHand: a rectangle of 100 by 40 mm that lies at 30° comes from a sheet of 100 by 40 with 5 mm all around.
func TestOneByHand(t *testing.T) {
	box := []plane.Point{{}, {X: 100}, {X: 100, Z: 40}, {Z: 40}}
	s := One(plane.Pose{Turn: 30 * plane.Deg}.ApplyAll(box), 5)
	if math.Abs(s.Area()-110*50) > 1 {
		t.Errorf("%.1f by %.1f", s.Width, s.Height)
	}
}

// TestPairByHand: two right triangles of 100 by 100 mm make a square; with 5 mm between their long sides, √2 · 5 mm more in length, and 5 mm around.
func TestPairByHand(t *testing.T) {
	s := Pair([]plane.Point{{}, {X: 100}, {Z: 100}}, 5)
	if want := (100 + 5*math.Sqrt2 + 10) * (100 + 10); s.Area() > want*1.03 {
		t.Errorf("%.1f by %.1f, %.0f mm², want %.0f", s.Width, s.Height, s.Area(), want)
	}
	if len(s.At) != 2 || math.Abs(math.Remainder(s.At[1].Turn-s.At[0].Turn-math.Pi, 2*math.Pi)) > 1e-9 {
		t.Errorf("they lie at %v", s.At)
	}
}

// TestPairsLieApart: two plates of any outline lie a gap apart, inside of the sheet, and never take more than two sheets side by side.
func TestPairsLieApart(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 5))
	for range 12 {
		var star []plane.Point
		n := 3 + rng.IntN(5)
		for i := range n {
			r := 40 + 110*rng.Float64()
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			star = append(star, plane.Point{X: r * cos, Z: r * sin})
		}
		const gap = 6
		s := Pair(star, gap)
		a, b := s.At[0].ApplyAll(star), s.At[1].ApplyAll(star)
		if d := plane.Distance(a, b).Distance; d < gap-1e-6 {
			t.Errorf("%.3f mm apart", d)
		}
		for _, p := range append(a, b...) {
			if p.X < gap-1e-6 || p.Z < gap-1e-6 || p.X > s.Width-gap+1e-6 || p.Z > s.Height-gap+1e-6 {
				t.Errorf("%v on a sheet of %.1f by %.1f", p, s.Width, s.Height)
			}
		}
		if one := One(star, gap); s.Area() > 2.02*one.Area() {
			t.Errorf("%.0f mm² for two, %.0f for one", s.Area(), one.Area())
		}
	}
}

// TestListOfTheCoupe: the upright is 196 mm wide and 614 high as drawn; its pins are the holes that are farthest apart, k2 at 60, 0 and C at 0, 520 or others farther; every hole is
// drilled once.
func TestListOfTheCoupe(t *testing.T) {
	c := modeltest.Car(t, "coupe")
	plates, mounts := List(c, 6, false)
	if len(plates) != 1 || plates[0].Part.Name != "upright" || plates[0].Count != 2 || !plates[0].MassOK {
		t.Fatalf("%+v", plates)
	}
	p := plates[0]
	far := 0.0
	seen := map[string]bool{}
	for _, a := range p.Part.Holes {
		for _, b := range p.Part.Holes {
			far = max(far, a.At().Distance(b.At()))
		}
	}
	if !p.Drilling[0].Pin || !p.Drilling[1].Pin || p.Drilling[2].Pin || math.Abs(p.Drilling[0].At().Distance(p.Drilling[1].At())-far) > 1e-9 {
		t.Errorf("pins %v and %v, the farthest are %.1f mm apart", p.Drilling[0], p.Drilling[1], far)
	}
	for _, h := range p.Drilling {
		seen[h.ID] = true
		if want := (plane.Point{X: h.X + 24, Z: h.Z + 22}); h.FromEdge.Distance(want) > 1e-9 { // the outline begins at -24, -22
			t.Errorf("%s at %v from the edges, want %v", h.ID, h.FromEdge, want)
		}
	}
	if len(seen) != len(p.Part.Holes) {
		t.Errorf("%d holes of %d", len(seen), len(p.Part.Holes))
	}
	if p.Pair.Area() >= 2*p.Blank.Area() || !(p.Waste > 0 && p.Waste < 0.5) {
		t.Errorf("two from %.0f mm², one from %.0f, waste %.2f", p.Pair.Area(), p.Blank.Area(), p.Waste)
	}
	if math.Abs(mounts.Apart-150) > 1e-9 || mounts.Holes[0].X != 62 || mounts.Bolt != "M8" {
		t.Errorf("%+v", mounts)
	}
}

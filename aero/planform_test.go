package aero

import (
	"fmt"
	"math"
	"testing"
)

// By hand for 1.6 m of span, 0.3 m of chord and tips of 0.2 m: 0.4 m², aspect ratio 6.4, mean
// chord ⅔·(0.09 + 0.06 + 0.04)/0.5 = 0.2533 m, 0.25 m half-way out.
func TestPlanformByHand(t *testing.T) {
	p := Planform{Span: 1.6, Chord: 0.3, TipChord: 0.2}
	near(t, "area, m²", p.Area(), 0.4, 1e-12)
	near(t, "aspect ratio", p.AspectRatio(), 6.4, 1e-12)
	near(t, "mean chord, m", p.MeanChord(), 0.253333, 1e-6)
	for y, c := range map[float64]float64{0: 0.3, 0.4: 0.25, 0.8: 0.2, 0.9: 0.2} {
		near(t, fmt.Sprintf("chord at %g m", y), p.chordAt(y), c, 1e-12)
	}
	// Strips end a quarter of their width inside the tip, which stands for the tip vortex (J. Moran,
	// "An Introduction to Theoretical and Computational Aerodynamics", 1984), or at the end plate.
	edges := p.stripEdges()
	width := edges[1] - edges[0]
	near(t, "last edge, m", edges[stripsAcross], 0.8-width/4, 1e-12)
	p.Plate = Plate{Length: 0.3, Height: 0.2}
	near(t, "last edge at a plate, m", p.stripEdges()[stripsAcross], 0.8, 1e-12)
	for above, want := range map[float64][2]float64{0: {-0.1, 0.1}, 0.05: {-0.05, 0.15}, 0.3: {0.2, 0.4}, -0.3: {-0.4, -0.2}} {
		p.Plate.Above = above
		zs := p.plateEdges()
		met := false
		for i, z := range zs {
			met = met || z == 0
			if i > 0 && z <= zs[i-1] {
				t.Errorf("%g: edges %v are not in order", above, zs)
			}
		}
		// Free ends lie a quarter of a strip inside.
		first, last := zs[1]-zs[0], zs[len(zs)-1]-zs[len(zs)-2]
		if above <= 0.1 {
			near(t, fmt.Sprintf("%g: lowest", above), zs[0], want[0]+first/4*b2f(zs[0] != want[0]), 1e-9)
		}
		if above >= -0.1 {
			near(t, fmt.Sprintf("%g: highest", above), zs[len(zs)-1], want[1]-last/4*b2f(zs[len(zs)-1] != want[1]), 1e-9)
		}
		if met != (math.Abs(above) < 0.1) {
			t.Errorf("%g: the wing's plane is an edge: %v", above, met)
		}
	}
}

func b2f(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// By hand: two end plates of 0.3 by 0.2 m with two sides each and a friction coefficient of
// 0.005 on 0.4 m² of wing add 4·0.005·0.06/0.4 = 0.003 to CD, at every angle.
func TestFrictionOfEndPlatesByHand(t *testing.T) {
	w := Wing{Planform: Planform{Span: 1.6, Chord: 0.25, Plate: Plate{Length: 0.3, Height: 0.2}}, Section: straight(-4*deg, 2*math.Pi, 0.01, -0.1, -30*deg, 40*deg)}
	without, err := w.Solve()
	if err != nil {
		t.Fatal(err)
	}
	w.Friction = 0.005
	with, err := w.Solve()
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range []float64{-10, 0, 10} {
		k, _ := with.Curve.At(a * deg)
		l, _ := without.Curve.At(a * deg)
		near(t, fmt.Sprintf("CD at %g°", a), k.CD-l.CD, 0.003, 1e-12)
		near(t, fmt.Sprintf("CL at %g°", a), k.CL-l.CL, 0, 1e-12)
	}
}

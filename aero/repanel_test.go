package aero

import (
	"fmt"
	"math"
	"testing"
)

// A section's maximum lift and its angle hang neither on the number of panels nor on the number of
// points of its outline.
func TestPanelsDoNotDecide(t *testing.T) {
	for _, name := range []string{"naca 0006", "naca 2412", "naca 6412", "naca 6409", "naca 23015", "s1223", "clark y"} {
		outline, err := closed(shapeOf(t, name))
		if err != nil {
			t.Fatal(err)
		}
		at := func(panels int) (lift, angle float64) {
			nodes, err := repanel(outline, panels)
			if err != nil {
				t.Fatal(err)
			}
			p, err := NewPanels(nodes)
			if err != nil {
				t.Fatal(err)
			}
			f := formOf(nodes)
			lift, angle, _ = p.top(f, zeroLiftPart*p.ZeroLift(), f.efficiency(5e5)*slopeOf(p), 5e5)
			return lift, angle
		}
		lift, angle := at(panelsOfShape)
		for _, panels := range []int{100, 130, 200, 240} {
			l, a := at(panels)
			if math.Abs(l/lift-1) > 0.015 || math.Abs(a-angle) > 0.5*deg {
				t.Errorf("%s with %d panels: %.3f at %.2f°, with %d %.3f at %.2f°", name, panels, l, a/deg, panelsOfShape, lift, angle/deg)
			}
		}
	}
	for _, name := range []string{"naca 0009", "naca 4412", "naca 6412", "naca 23012"} {
		n, err := ParseNaca(name)
		if err != nil {
			t.Fatal(err)
		}
		s, err := SectionFromShape(name, n.Outline(100), 5e5)
		if err != nil {
			t.Fatal(err)
		}
		for _, half := range []int{30, 40, 60, 80} {
			o, err := SectionFromShape(name, n.Outline(half), 5e5)
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(o.MaxLift/s.MaxLift-1) > 0.015 || math.Abs(o.MaxAngle-s.MaxAngle) > 0.5*deg || math.Abs(o.ZeroLift-s.ZeroLift) > 0.05*deg {
				t.Errorf("%s from %d points: %.3f at %.2f°, from 201 %.3f at %.2f°", name, 2*half+1, o.MaxLift, o.MaxAngle/deg, s.MaxLift, s.MaxAngle/deg)
			}
		}
	}
}

// The new nodes lie on the section, run from trailing edge to trailing edge, and are about a tenth
// of the nose radius apart there: 1.1019·0.12² = 0.0159 chords for the NACA 0012.
func TestRepanelled(t *testing.T) {
	n, err := ParseNaca("naca 0012")
	if err != nil {
		t.Fatal(err)
	}
	outline, err := closed(n.Outline(60))
	if err != nil {
		t.Fatal(err)
	}
	nodes, err := repanel(outline, 160)
	if err != nil {
		t.Fatal(err)
	}
	if len(nodes) != 161 || nodes[0] != nodes[160] {
		t.Fatalf("%d nodes from %v to %v", len(nodes), nodes[0], nodes[160])
	}
	near(t, "nose radius", noseRadius(nodes), 0.0159, 0.0016)
	near(t, "leading edge", math.Hypot(nodes[80].X, nodes[80].Y), 0, 1e-4)
	near(t, "first panel at the nose", math.Hypot(nodes[81].X-nodes[80].X, nodes[81].Y-nodes[80].Y), 0.0016, 0.0006)
	for i, v := range nodes {
		// Closing shears the published trailing edge of 0.126 % shut.
		want := n.thickness(max(v.X, 0)) - 0.00126*v.X
		if math.Abs(math.Abs(v.Y)-want) > 1e-4 {
			t.Errorf("node %d: half thickness %.5f at %.4f, want %.5f", i, math.Abs(v.Y), v.X, want)
		}
	}
	if _, err := repanel(make([]Vec, 40), 160); err == nil {
		t.Error("forty times one point is an outline")
	}
	if _, err := SectionFromShape("few", n.Outline(8), 1e6); err == nil {
		t.Error("17 points are an outline")
	}
	for _, part := range []float64{0, 0.3, 1} {
		near(t, fmt.Sprintf("mirrored nodes at %g", part), spread(part, 1, 0.01), spread(part, 2, 0.01), 0.2)
	}
}

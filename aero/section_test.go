package aero

import (
	"math"
	"testing"
)

// A published section carried to a lower Reynolds number loses maximum lift and
// gains uncertainty; its curve keeps the values it was built from.
func TestPublishedCarriedDown(t *testing.T) {
	p, ok := Lookup("NACA-4412", 9e5)
	if !ok || p.Reynolds != 9e6 {
		t.Fatalf("%+v %v", p, ok)
	}
	s, err := p.At(9e5, nil)
	if err != nil {
		t.Fatal(err)
	}
	if s.MaxLift > 1.45 || s.MaxLift < 1.38 || s.MaxLiftStdUnc < 0.08 || math.Abs(s.MaxAngle-p.MaxAngle) > 1.5*deg {
		t.Errorf("maximum lift %.3f ± %.0f %% at %.1f°", s.MaxLift, 100*s.MaxLiftStdUnc, s.MaxAngle/deg)
	}
	at, cl, ok := s.Curve.Stall()
	if !ok || math.Abs(cl-s.MaxLift) > 1e-6 || math.Abs(at-s.MaxAngle) > 0.01*deg {
		t.Errorf("the curve's top is %.4f at %.2f°, want %.4f at %.2f°", cl, at/deg, s.MaxLift, s.MaxAngle/deg)
	}
	if k, _ := s.Curve.At(s.ZeroLift + 1*deg); math.Abs(k.CL-s.Slope*deg) > 0.005 {
		t.Errorf("cl 1° above zero lift = %.4f, want %.4f", k.CL, s.Slope*deg)
	}
	if _, err := p.At(5e4, nil); err == nil {
		t.Error("a Reynolds number of 5e4 is answered")
	}
	// Nearer measurements lead: at 1e6 the 4415's own run.
	if p, _ := Lookup("naca 4415", 8e5); p.Reynolds != 1e6 {
		t.Errorf("4415 at 8e5 taken from Re %g", p.Reynolds)
	}
}

// Every curve in the table rises to one top and has positive drag.
func TestPublishedCurvesAreSound(t *testing.T) {
	for _, p := range publishedSections {
		s, err := p.At(p.Reynolds, computedFor(t, p, p.Reynolds))
		if err != nil {
			t.Errorf("%s: %v", p.Name, err)
			continue
		}
		before := math.Inf(-1)
		for a, k := range s.Curve.Points() {
			if a >= s.LeastAngle-1e-9 && a <= s.MaxAngle+1e-9 && k.CL < before-1e-6 {
				t.Errorf("%s at Re %.1e: lift falls before the top, at %.1f°", p.Name, p.Reynolds, a/deg)
				break
			}
			if k.CD <= 0 {
				t.Errorf("%s: drag %.4f at %.1f°", p.Name, k.CD, a/deg)
				break
			}
			if a >= s.LeastAngle-1e-9 {
				before = k.CL
			}
		}
	}
}

// Largest lift falls with the Reynolds number in what is computed, too.
func TestComputedTrend(t *testing.T) {
	n, _ := ParseNaca("naca 6412")
	last := math.Inf(1)
	for _, re := range []float64{6e6, 2e6, 7e5} {
		s, err := SectionFromShape("naca 6412", n.Outline(80), re)
		if err != nil {
			t.Fatal(err)
		}
		if s.MaxLift >= last {
			t.Errorf("largest lift %.3f at %.0e is not below %.3f", s.MaxLift, re, last)
		}
		last = s.MaxLift
	}
}

func BenchmarkSectionFromShape(b *testing.B) {
	n, _ := ParseNaca("naca 4412")
	for b.Loop() {
		if _, err := SectionFromShape("naca 4412", n.Outline(80), 1e6); err != nil {
			b.Fatal(err)
		}
	}
}

package aero

import (
	"fmt"
	"math"
	"testing"
)

// Kentfield, AIAA 93-4883: 0.31858 h − 0.07281 h² + 0.00693 h³ for h in % of the chord, and
// 0.135 cd^(−1/3) (h/c)^(4/3): by hand for 0.5, 1 and 2 %, on a drag of 0.008 and 0.015.
func ExampleGurney_Lift() {
	for _, h := range []Gurney{0.005, 0.010, 0.020} {
		cl, _ := h.Lift()
		fmt.Printf("%.1f %%: cl +%.5f, cd +%.5f on 0.008, +%.5f on 0.015\n", 100*h, cl, h.Drag(0.008), h.Drag(0.015))
	}
	// Output:
	// 0.5 %: cl +0.14195, cd +0.00058 on 0.008, +0.00047 on 0.015
	// 1.0 %: cl +0.25270, cd +0.00145 on 0.008, +0.00118 on 0.015
	// 2.0 %: cl +0.40136, cd +0.00366 on 0.008, +0.00297 on 0.015
}

// plain is a section with a stall at 14° and 1.43, straight from −4° on with 0.1 per degree.
func plain(t *testing.T) Section {
	t.Helper()
	s := Section{Summary: Summary{ZeroLift: -4 * deg, Slope: 0.1 / deg, MaxLift: 1.43, MaxAngle: 14 * deg, LeastLift: -0.9, LeastAngle: -14 * deg,
		MinDrag: 0.008, Moment: -0.09}}
	c, err := curveFrom(s.Summary, 0.12, parabola(0.008, 0.3, 0.006))
	if err != nil {
		t.Fatal(err)
	}
	s.Curve = c
	return s
}

// Measured, NACA 0012 at 2.1e6: a strip of about 2 % takes the maximum from 1.37 to 1.74 (Y. Li,
// J. Wang, P. Zhang, Flow, Turbulence and Combustion 68 (2002) 27-39): ours is within its band.
func TestGurneyOnASection(t *testing.T) {
	s := plain(t)
	with := s.With(0.02)
	for _, a := range []float64{-6, -4, 0} {
		was, _ := s.Curve.At(a * deg)
		is, ok := with.Curve.At(a * deg)
		if !ok || math.Abs(is.CL-was.CL-0.40136) > 1e-3 {
			t.Errorf("%g°: cl %.4f after %.4f, want 0.4014 more", a, is.CL, was.CL)
		}
		if want := was.CD + 0.135*math.Pow(was.CD, -1.0/3)*math.Pow(0.02, 4.0/3); math.Abs(is.CD-want) > 2e-5 {
			t.Errorf("%g°: cd %.5f, want %.5f", a, is.CD, want)
		}
		// A quarter chord behind the quarter chord: −0.09 − 0.40136/4 = −0.1903.
		if math.Abs(is.CM+0.1903) > 1e-3 {
			t.Errorf("%g°: cm %.4f, want −0.190", a, is.CM)
		}
	}
	at, most, ok := with.Curve.Stall()
	if !ok || math.Abs(most-1.43-0.40136) > 2e-3 || math.Abs(at-13.5*deg) > 0.1*deg {
		t.Errorf("stall at %.2f° with %.3f, want 13.5° and 1.831", at/deg, most)
	}
	if math.Abs(with.ZeroLift-(-4-4.0136)*deg) > 1e-6 || math.Abs(with.MaxLift-most) > 2e-3 {
		t.Errorf("zero lift at %.3f°, maximum %.3f", with.ZeroLift/deg, with.MaxLift)
	}
	if gain := with.MaxLift - s.MaxLift; math.Abs(gain-0.37) > Gurney(0.02).MaxLiftStdUnc() {
		t.Errorf("gain of the maximum %.3f ± %.3f, measured 0.37", gain, Gurney(0.02).MaxLiftStdUnc())
	}
	if u := Gurney(0.02).MaxLiftStdUnc(); math.Abs(u-0.10034) > 1e-4 {
		t.Errorf("uncertainty %.5f, want a quarter of 0.40136", u)
	}
	// Far past the stall the strip no longer counts.
	was, _ := s.Curve.At(44 * deg)
	if is, _ := with.Curve.At(44 * deg); math.Abs(is.CL-was.CL) > 1e-9 {
		t.Errorf("at 44° %.3f after %.3f", is.CL, was.CL)
	}
	if none := s.With(0); len(none.Notes) != 0 || none.MaxLift != s.MaxLift {
		t.Error("no strip changes the section")
	}
}

// NACA Report 824 (from memory): 4412 1.67 smooth, about 1.37 rough, 0.82 of it; least drag 0.006
// and about 0.010. By hand for ours: dirty 0.785 · 1.43 = 1.1226, used (1 + 0.785)/2 = 0.8925 of it.
func TestSurfaces(t *testing.T) {
	s := plain(t)
	for _, c := range []struct {
		surface                Surface
		most, liftUnc          float64
		drag, dragUnc, atLeast float64 // the stall, degrees
	}{
		{Clean, 1.43, 0, 0.008, 0, 13.99},
		{Used, 1.2763, 0.2150 / 2 / 1.7320508 / 0.8925, 0.0102, 0.55 / 2 / 1.7320508 / 1.275, 12.9},
		{Dirty, 1.1226, 0.085 / 1.7320508 / 0.785, 0.0124, 0.25 / 1.7320508 / 1.55, 11.9},
	} {
		worn := s.OnSurface(c.surface)
		at, most, ok := worn.Curve.Stall()
		wear := c.surface.Wear()
		if !ok || math.Abs(most-c.most) > 2e-3 || math.Abs(worn.MaxLift-c.most) > 1e-3 || at < c.atLeast*deg || at > 14.01*deg {
			t.Errorf("%v: maximum %.4f at %.2f°, want %.4f", c.surface, most, at/deg, c.most)
		}
		if math.Abs(wear.MaxLiftStdUnc-c.liftUnc) > 1e-4 || math.Abs(wear.DragStdUnc-c.dragUnc) > 1e-4 {
			t.Errorf("%v: uncertainties %.4f and %.4f, want %.4f and %.4f", c.surface, wear.MaxLiftStdUnc, wear.DragStdUnc, c.liftUnc, c.dragUnc)
		}
		if math.Abs(worn.MinDrag-c.drag) > 1e-4 {
			t.Errorf("%v: least drag %.5f, want %.5f", c.surface, worn.MinDrag, c.drag)
		}
		// The straight part is the smooth section's.
		if k, _ := worn.Curve.At(0); math.Abs(k.CL-0.4) > 2e-3 {
			t.Errorf("%v: cl(0) %.4f, want 0.4", c.surface, k.CL)
		}
		// So does the negative stall: −0.9 at −14°.
		if down, least, ok := worn.Curve.mirrored().Stall(); !ok || math.Abs(least-0.9*wear.MaxLift) > 2e-3 || math.Abs(worn.LeastLift+0.9*wear.MaxLift) > 1e-9 || math.Abs(down+worn.LeastAngle) > 0.3*deg {
			t.Errorf("%v: negative stall at %.2f° with %.3f, %.3f in the summary", c.surface, -down/deg, -least, worn.LeastLift)
		}
		before := math.Inf(-1)
		for a, k := range worn.Curve.Points() {
			if a >= worn.LeastAngle+deg && a <= at && k.CL < before-1e-9 {
				t.Errorf("%v: lift falls before the stall, at %.1f°", c.surface, a/deg)
				break
			}
			before = k.CL
		}
		if got, err := ParseSurface(c.surface.String()); err != nil || got != c.surface {
			t.Errorf("%q read as %v: %v", c.surface, got, err)
		}
	}
	if _, err := ParseSurface("shiny"); err == nil {
		t.Error("a shiny surface is read")
	}
}

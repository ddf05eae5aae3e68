package aero

import (
	"fmt"
	"math"
	"testing"
)

// Carried to another Reynolds number by hand, for an S1223 at 3.02e5 carried to 6.04e5, its shape
// not known: maximum cl 2.212·2^0.01 = 2.2274, 3.1/3·0.30103 = 0.311° later; slope 0.0915·(1 +
// 0.044·0.30103) = 0.09271; ± √(0.03² + (0.03·ln 2)²) = 3.65 %; drag times 2^−0.12 = 0.92019 at lifts 2^0.01
// as large: 0.0187 at 1.282 becomes 0.017208 at 1.2909. Least lift −1.3 + 1.17 is above −0.3.
func TestCarriedByHand(t *testing.T) {
	p, _ := Lookup("S1223", 3e5)
	s, err := p.At(6.04e5, nil)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "maximum cl", s.MaxLift, 2.2274, 1e-4)
	near(t, "its angle, °", s.MaxAngle/deg, 15.911, 1e-3)
	near(t, "slope, per °", s.Slope*deg, 0.092712, 1e-6)
	near(t, "least cl", s.LeastLift, -0.3, 1e-9)
	near(t, "its uncertainty", s.MaxLiftStdUnc, 0.03650, 1e-5)
	near(t, "its angle's uncertainty, °", s.MaxAngleStdUnc/deg, math.Hypot(0.7, 1.5*0.30103), 1e-4)
	near(t, "slope's uncertainty", s.SlopeStdUnc, math.Hypot(0.02, 0.03*0.30103), 1e-6)
	near(t, "zero lift's uncertainty, °", s.ZeroLiftStdUnc/deg, 0.2, 1e-9)
	near(t, "drag's uncertainty", s.DragStdUnc, math.Hypot(0.05, 0.12*0.30103), 1e-6)
	near(t, "least drag", s.MinDrag, 0.0164*0.92019, 1e-6)
	k, _ := s.Curve.At(s.ZeroLift + 1.2909/s.Slope)
	near(t, "cl on the straight part", k.CL, 1.2909, 1e-3)
	near(t, "cd there", k.CD, 0.017208, 5e-5)
	// Below its published drags, 0.0168 at 0.961: 0.006 for each unit of lift squared.
	k, _ = s.Curve.At(s.ZeroLift)
	near(t, "cd at zero lift", k.CD, 0.0168*0.92019+0.006*square(0.961*math.Pow(2, 0.01)), 5e-5)
	// Values from memory are less sure, and those of a tripped run too.
	for name, want := range map[string][4]float64{
		"naca 23015": {0.25, 0.025, 0.035, 0.8}, "naca 4412": {0.25, 0.03, 0.045, 1},
	} {
		p, _ := Lookup(name, 9e6)
		s, err := p.At(9e6, nil)
		if err != nil {
			t.Fatal(err)
		}
		near(t, name+": zero lift's uncertainty, °", s.ZeroLiftStdUnc/deg, want[0], 1e-9)
		near(t, name+": slope's uncertainty", s.SlopeStdUnc, want[1], 1e-9)
		near(t, name+": maximum's uncertainty", s.MaxLiftStdUnc, want[2], 1e-9)
		near(t, name+": its angle's uncertainty, °", s.MaxAngleStdUnc/deg, want[3], 1e-9)
	}
	p, _ = Lookup("naca 0012", 6e6)
	if s, err = p.At(6e6, nil); err != nil {
		t.Fatal(err)
	}
	near(t, "tripped: maximum's uncertainty", s.MaxLiftStdUnc, math.Hypot(0.03, 0.05), 1e-9)
	near(t, "tripped: its angle's uncertainty, °", s.MaxAngleStdUnc/deg, math.Hypot(0.7, 2), 1e-6)
	near(t, "tripped: least drag", s.MinDrag, 0.0080, 1e-9)
	if s.Transition != p.tripped || p.tripped == "" {
		t.Errorf("transition of the tripped run: %q", s.Transition)
	}
	for _, re := range []float64{1.9e5, 1.21e7} {
		if _, err := p.At(re, nil); err == nil {
			t.Errorf("a published value is carried to %.3g", re)
		}
	}
	p, _ = Lookup("naca 64(2)-415", 9e6)
	if _, err := p.At(9e6, nil); err == nil {
		t.Error("a section without drag, and without a shape, is answered")
	}
	// With only a least drag and no shape, drag is a parabola about 0.3 of the maximum.
	p = printed{name: "a section", re: 1e6, zeroLift: -3, slope: 0.1, maxLift: 1.5, at: 15, minDrag: 0.008, moment: none, sure: Read}.entry()
	if s, err = p.At(1e6, nil); err != nil {
		t.Fatal(err)
	}
	k, _ = s.Curve.At(s.ZeroLift + 0.65/s.Slope)
	near(t, "cd at a cl of 0.65", k.CD, 0.008+0.006*0.04, 1e-5)
	near(t, "its moment", s.Moment, 0, 0)
}

// With a shape: the negative stall is the computed one times the ratio of the maxima, and drag the
// computed one, stretched: a section computed to stall at 1.2 and −0.6, with drag 0.01 + 0.02·cl²,
// published to stall at 1.5, has the drag of 0.6, 0.0172, at 0.75, and stalls at −0.75.
func TestFilledInFromTheShape(t *testing.T) {
	sum := Summary{ZeroLift: -2 * deg, Slope: 0.1 / deg, MaxLift: 1.2, MaxAngle: 12 * deg, LeastLift: -0.6, LeastAngle: -10 * deg, MinDrag: 0.01, Moment: -0.04}
	curve, err := curveFrom(sum, 0.1, parabola(0.01, 0, 0.02))
	if err != nil {
		t.Fatal(err)
	}
	computed := &Section{Summary: sum, Curve: curve, thickness: 0.1}
	p := printed{name: "a section", re: 1e6, zeroLift: -2, slope: 0.1, maxLift: 1.5, at: 16, minDrag: none, moment: none, sure: Read}.entry()
	s, err := p.At(1e6, computed)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "least lift", s.LeastLift, -0.75, 1e-9)
	// Computed: 12° is 2° beyond the line's 10°, −10° 2° beyond −8°; published: 16° is 3° beyond 13°.
	near(t, "its angle, °", s.LeastAngle/deg, -12.5, 1e-6)
	near(t, "moment", s.Moment, -0.04, 1e-9)
	for lift, want := range map[float64]float64{0.75: 0.0172, 0.25: 0.0108, -0.25: 0.0108} {
		k, _ := s.Curve.At(s.ZeroLift + lift/s.Slope)
		near(t, fmt.Sprintf("cd at %g", lift), k.CD, want, 1e-4)
	}
	// Published drags lead where there are any; below the first, 0.02 at 0.75, it
	// goes as the computed ones do: 0.02·0.0108/0.0172 at 0.25.
	p.drag = [][2]float64{{0.75, 0.02}, {1.2, 0.03}}
	if s, err = p.At(1e6, computed); err != nil {
		t.Fatal(err)
	}
	for lift, want := range map[float64]float64{0.9: 0.02 + 0.01/3, 0.25: 0.02 * 0.0108 / 0.0172} {
		k, _ := s.Curve.At(s.ZeroLift + lift/s.Slope)
		near(t, fmt.Sprintf("cd at %g with published drags", lift), k.CD, want, 1e-4)
	}
	p.drag = nil
	// A published least drag lifts all of it.
	p.MinDrag = 0.012
	if s, err = p.At(1e6, computed); err != nil {
		t.Fatal(err)
	}
	k, _ := s.Curve.At(s.ZeroLift + 0.75/s.Slope)
	near(t, "cd at 0.75 with a published least drag", k.CD, 0.0172*1.2, 1e-4)
}

// Between two publications, by hand: one of 1.2 at 12° at 1e5 and one of 1.6 at 16° at 1e7, both on a
// power of 0.09 and 1.0333° per decade: at 1e6 half-way in logarithms, (1.2·10^0.09 + 1.6·10^−0.09)/2 =
// (1.47632 + 1.30048)/2 = 1.3884 at (13.033 + 14.967)/2 = 14°. Known at both ends, it is half as much
// less sure: 0.03·ln 10/2 = 0.03454.
func TestBetweenTwoPublications(t *testing.T) {
	before := publishedSections
	defer func() { publishedSections = before }()
	at := func(re, most, angle float64) printed {
		return printed{name: "between", re: re, zeroLift: -3, slope: 0.1, maxLift: most, at: angle, minDrag: 0.01, moment: none, sure: Read}
	}
	publishedSections = entries([]printed{at(1e5, 1.2, 12), at(1e7, 1.6, 16), at(1e9, 9, 9)})
	for _, p := range publishedSections[:2] {
		s, err := p.At(1e6, nil)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "maximum", s.MaxLift, 1.3884, 1e-4)
		near(t, "its angle, °", s.MaxAngle/deg, 14, 1e-6)
		near(t, "slope, per °", s.Slope*deg, 0.1, 1e-9)
		near(t, "its uncertainty", s.MaxLiftStdUnc, math.Hypot(0.03, 0.03454), 1e-5)
	}
	s, err := publishedSections[0].At(2e5, nil)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "near the lower one", s.MaxLift, 1.2*math.Pow(2, 0.09)*(1-0.150515)+1.6*math.Pow(0.02, 0.09)*0.150515, 1e-4)
}

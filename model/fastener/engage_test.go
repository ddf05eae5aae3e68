package fastener

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// J. H. Bickford, "Introduction to the Design and Behavior of Bolted Joints", 4th ed.: shear
// areas of bolt and nut thread, 6g and 6H, for an engagement of one diameter, mm².
func TestShearAreas(t *testing.T) {
	for name, want := range map[string][2]float64{"M5": {35.366, 49.994}, "M6": {51.875, 73.145}, "M8": {97.290, 134.63}, "M10": {155.80, 214.77},
		"M12": {227.72, 313.41}, "M14": {313.94, 434.47}, "M16": {417.55, 569.12}, "M20": {665.58, 907.76}} {
		s := mustSize(t, name)
		l, _ := s.limits()
		if screw, nut := s.D*l.screwArea(s.Pitch), s.D*l.nutArea(s.Pitch); !near(screw, want[0], 0.001) || !near(nut, want[1], 0.001) {
			t.Errorf("%s: %.3f and %.2f mm², want %v", name, screw, nut, want)
		}
	}
}

// Limits of size of 2A and 2B, ASME B1.1, in; recalled.
func TestThreadLimits(t *testing.T) {
	tolerance := [4]float64{0.0003, 0.0003, 0.0003, 0.0006} // minor diameters are printed to 0.001 in
	for name, want := range map[string][4]float64{"1/4-20": {0.2408, 0.2127, 0.2224, 0.207}, "3/8-16": {0.3643, 0.3287, 0.3401, 0.321},
		"#10-24": {0.1818, 0.1586, 0.1672, 0.156}} {
		l, _ := mustSize(t, name).limits()
		for i, got := range [4]float64{l.ds, l.es, l.en, l.kn} {
			if math.Abs(got/inch-want[i]) > tolerance[i] {
				t.Errorf("%s: limit %d is %.5f in, want %g", name, i, got/inch, want[i])
			}
		}
	}
	for _, s := range allSizes() {
		if l, ok := s.limits(); !ok || !(l.es < l.en && l.kn < l.en && l.en < l.ds && l.ds < s.D && l.nutArea(s.Pitch) > l.screwArea(s.Pitch)) {
			t.Errorf("%s: %+v", s.Name, l)
		}
	}
}

// A published example of the formula: M10 x 1.5, Ds 9.968, En 9.206 mm, bolt load 69 600 N,
// aluminium with a shear strength of 130 MPa: 21.6 mm of engagement.
func TestPublishedEngagement(t *testing.T) {
	l := threadLimits{ds: 9.968, en: 9.206}
	if got := 69600 / (130 * l.nutArea(1.5)); math.Abs(got-21.6) > 0.05 {
		t.Errorf("%.2f mm, want 21.6", got)
	}
}

// By hand: M8 in 6082-T6 (310 MPa): area 134.63/8 = 16.83 mm²/mm; 12 mm less 0.8·1.25 = 11 mm
// bear: 0.6·0.897·310·16.83·11 = 30.9 kN. The bolt, class 8.8, breaks at 800·36.61 = 29.3 kN: 10.4
// mm and 1 mm.
func ExampleEngagementFor() {
	m8, _ := Lookup("M8")
	class, _ := LookupGrade("8.8")
	need, ok := EngagementFor(m8, class, 310)
	fmt.Printf("%.1f kN at 12 mm; %.1f mm %v\n", Stripping(m8, 12, 310)/1000, need, ok)
	// Output: 30.9 kN at 12 mm; 11.4 mm true
}

// A dealer's table of makers' trials, coarse threads, M6 to M16, diameters: trial value and
// the value beside it in brackets.
func TestTrials(t *testing.T) {
	for _, c := range []struct {
		grade      string
		fu         float64
		from, upTo float64
	}{
		{"8.8", 360, 1.0, 1.5}, {"10.9", 360, 1.25, 1.8}, {"12.9", 360, 1.4, 2.1},
		{"8.8", 500, 0.9, 1.3}, {"10.9", 500, 1.0, 1.6}, {"12.9", 500, 1.2, 1.8},
		{"8.8", 800, 0.8, 0.9}, {"8.8", 180, 2.0, 3.0},
	} {
		s := mustSize(t, "M8")
		need, ok := EngagementFor(s, mustGrade(t, c.grade), c.fu)
		if d := need / s.D; !ok || d < c.from || d > c.upTo {
			t.Errorf("%s in %g MPa: %.2f d, want %g to %g", c.grade, c.fu, d, c.from, c.upTo)
		}
	}
}

// A bolt in as far as it needs has the hole hold what the bolt does, or the bolt's own
// thread decides; more engagement, a stronger plate and a weaker bolt never hurt.
func TestEngagement(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, g := rapid.SampledFrom(allSizes()).Draw(t, "size"), rapid.SampledFrom(grades).Draw(t, "grade")
		fu := rapid.Float64Range(100, 900).Draw(t, "fu")
		need, ok := EngagementFor(s, g, fu)
		holds, breaks := Stripping(s, need, fu), g.Ultimate*s.StressArea()
		if !ok || holds < breaks*(1-1e-9) || fu < 0.6*g.Ultimate && !near(holds, breaks, 1e-9) {
			t.Fatalf("%s %s in %g MPa: %g mm holds %g of %g N", s.Name, g.Name, fu, need, holds, breaks)
		}
		if more, _ := EngagementFor(s, g, 1.1*fu); more > need || Stripping(s, need+1, fu) <= holds {
			t.Fatalf("%s %s: %g mm in a stronger plate, %g in %g MPa", s.Name, g.Name, more, need, fu)
		}
	})
}

// By hand, where the bolt's own thread strips first: M8 8.8 in 800 MPa, 97.29/8 = 12.16
// mm²/mm: 36.61/(0.6·0.897·12.16) + 1 = 6.59 mm.
func TestStrongPlate(t *testing.T) {
	if got, _ := EngagementFor(mustSize(t, "M8"), mustGrade(t, "8.8"), 800); math.Abs(got-6.59) > 0.03 {
		t.Errorf("%.3f mm", got)
	}
	m8 := mustSize(t, "M8")
	if Stripping(m8, 0.9, 300) != 0 || Stripping(Size{D: 8}, 10, 300) != 0 || Stripping(m8, 1.1, 300) <= 0 {
		t.Error("0.8 threads of 1.25 mm bear nothing, the next do")
	}
	for _, c := range []struct {
		size  Size
		grade Grade
		fu    float64
	}{{Size{D: 8}, mustGrade(t, "8.8"), 300}, {m8, Grade{}, 300}, {m8, mustGrade(t, "8.8"), 0}} {
		if got, ok := EngagementFor(c.size, c.grade, c.fu); ok || got != 0 {
			t.Errorf("%s %s in %g MPa is known", c.size.Name, c.grade.Name, c.fu)
		}
	}
}

// By hand, in: 3/8-16, p^(2/3) 0.157490: tolerance 0.0015·0.721125 + 0.0015·0.612372 + 0.015·0.157490 =
// 0.0043626, allowance 0.0013088; d2 0.3344051, D1 0.3073418, hole 0.015625 - 0.0015625. Below 1/4
// in, #10-24: hole 0.05·0.120187 + 0.03·0.0416667/0.19 - 0.002 = 0.0105883.
func TestUnifiedLimitsByHand(t *testing.T) {
	coarse, _ := mustSize(t, "3/8-16").limits()
	quarter, _ := mustSize(t, "1/4-20").limits()
	ten, _ := mustSize(t, "#10-24").limits()
	for _, c := range [][2]float64{{coarse.ds, 0.3642418}, {coarse.es, 0.3287337}, {coarse.en, 0.3400765}, {coarse.kn, 0.3214043},
		{quarter.kn, 0.2073734}, {ten.kn, 0.1554828}} {
		if math.Abs(c[0]/inch-c[1]) > 2e-6 {
			t.Errorf("%.7f in, want %.7f", c[0]/inch, c[1])
		}
	}
}

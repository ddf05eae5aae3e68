package fastener

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// Nominal stress areas: ISO 898-1:2013 Table 4 for metric threads; for unified ones
// ASME B1.1, in², recalled from its tables.
func TestStressAreas(t *testing.T) {
	for name, want := range map[string]float64{"M3": 5.03, "M4": 8.78, "M5": 14.2, "M6": 20.1, "M8": 36.6, "M10": 58.0, "M12": 84.3, "M14": 115, "M16": 157, "M20": 245} {
		if s, ok := Lookup(name); !ok || math.Abs(s.StressArea()/want-1) > 0.006 {
			t.Errorf("%s: %.3f mm², want %g", name, s.StressArea(), want)
		}
	}
	for name, want := range map[string]float64{"1/4-20 UNC": 0.0318, "5/16in": 0.0524, "5/16-24": 0.0580, "3/8 UNC": 0.0775, "3/8-24 UNF": 0.0878, "1/2-13": 0.1419, "#10-32 UNF": 0.0200,
		"#10-24": 0.0175, "1/4-28": 0.0364, "7/16-14": 0.1063, "7/16-20": 0.1187, "1/2-20": 0.1599, "9/16-12": 0.182, "9/16-18": 0.203, "5/8-11": 0.226, "5/8-18": 0.256} {
		s, ok := Lookup(name)
		if got := s.StressArea() / (inch * inch); !ok || math.Abs(got-want) > 5e-4 { // the tables follow from two diameters, rounded
			t.Errorf("%s: %.5f in², want %g", name, got, want)
		}
	}
}

func ExampleLookup() {
	for _, name := range []string{"m8", `5/16"`, "5/16-24", "5/16-20", "M7"} {
		s, ok := Lookup(name)
		fmt.Printf("%s: %s %.4f mm %v\n", name, s.Name, s.D, ok)
	}
	// Output:
	// m8: M8 8.0000 mm true
	// 5/16": 5/16-18 UNC 7.9375 mm true
	// 5/16-24: 5/16-24 UNF 7.9375 mm true
	// 5/16-20:  0.0000 mm false
	// M7:  0.0000 mm false
}

func TestNext(t *testing.T) {
	for name, want := range map[string]string{"M8": "M10", "M20": "", "5/16-24 UNF": "3/8-24 UNF", "#10": "1/4-20 UNC", "5/8": ""} {
		s, _ := Lookup(name)
		if next, ok := s.Next(); next.Name != want || ok != (want != "") {
			t.Errorf("after %s: %q, want %q", name, next.Name, want)
		}
	}
}

// SAE J429: grade 5 has 120 ksi = 827 MPa, grade 8 150 ksi = 1034 MPa tensile.
func TestGrades(t *testing.T) {
	for text, want := range map[string]float64{"8.8": 800, "10.9": 1000, "SAE 5": 827, "grade 8": 1034, "Gr. 5": 827, "5": 827, "sae J429 grade 8": 1034, "A4-80": 800} {
		name, ok := GradeName(text)
		g, known := LookupGrade(name)
		if !ok || !known || math.Abs(g.Ultimate-want) > 0.5 {
			t.Errorf("%q: %q %.1f MPa, want %g", text, name, g.Ultimate, want)
		}
	}
	for _, text := range []string{"strong", "9", "88", ""} {
		if name, ok := GradeName(text); ok {
			t.Errorf("%q is taken for grade %q", text, name)
		}
	}
}

// By hand, EN 1993-1-8 Table 3.3, for a hole of 8.4 mm: 10.08 mm to an edge, 18.48 mm
// along the force, 20.16 mm across it; what may be loaded in any direction needs both.
func TestSpacing(t *testing.T) {
	for got, want := range map[float64]float64{Edge(8.4).Min: 10.08, Spacing(8.4, Along).Min: 18.48, Spacing(8.4, Across).Min: 20.16, Spacing(8.4, AnyDirection).Min + 1e-9: 20.16} {
		if math.Abs(got-want) > 1e-6 {
			t.Errorf("%g mm, want %g", got, want)
		}
	}
}

// A property class says its strengths in its name: the first number times 100 is fub,
// both numbers' product times 10 fyb (ISO 898-1:2013 clause 5). αv with the thread in
// the shear plane is 0.6 for 4.6, 5.6 and 8.8, 0.5 for 4.8, 5.8, 6.8 and 10.9
// (EN 1993-1-8 Table 3.4). A stainless grade's second number times 10 is its tensile
// strength; proof strengths of classes 50, 70 and 80 are 210, 450 and 600 MPa (ISO 3506-1).
func TestGradesSayTheirStrengths(t *testing.T) {
	soft := map[string]bool{"4.6": true, "5.6": true, "8.8": true, "SAE 5": true}
	proof := map[float64]float64{500: 210, 700: 450, 800: 600}
	for _, g := range grades {
		var a, b float64
		want := map[bool]float64{true: 0.6, false: 0.5}[soft[g.Name]]
		if g.Shear != want {
			t.Errorf("%s: αv %g, want %g", g.Name, g.Shear, want)
		}
		switch {
		case strings.HasPrefix(g.Name, "A"):
			if _, err := fmt.Sscanf(g.Name[3:], "%g", &a); err != nil || g.Ultimate != 10*a || g.Yield != proof[g.Ultimate] {
				t.Errorf("%s: %g and %g MPa", g.Name, g.Ultimate, g.Yield)
			}
		case strings.HasPrefix(g.Name, "SAE"):
			ksi5, ksi8 := [2]float64{827, 634}, [2]float64{1034, 896} // SAE J429 in MPa
			want := map[string][2]float64{"SAE 5": ksi5, "SAE 8": ksi8}[g.Name]
			if math.Abs(g.Ultimate-want[0]) > 0.5 || math.Abs(g.Yield-want[1]) > 0.5 {
				t.Errorf("%s: %g and %g MPa, want %v", g.Name, g.Ultimate, g.Yield, want)
			}
		default:
			if _, err := fmt.Sscanf(strings.Replace(g.Name, ".", " ", 1), "%g %g", &a, &b); err != nil || g.Ultimate != 100*a || g.Yield != 10*a*b {
				t.Errorf("%s: %g and %g MPa", g.Name, g.Ultimate, g.Yield)
			}
		}
		if next, ok := LookupGrade(g.Stronger); g.Stronger != "" && (!ok || next.Ultimate <= g.Ultimate) {
			t.Errorf("%q is no stronger than %s", g.Stronger, g.Name)
		}
	}
}

// Heads across flats, ISO 4014 and ASME B18.2.1, and washers, ISO 7089 and ASME B18.21.1
// type A narrow: spanners of a garage, 5.5 to 30 mm and 5/16 to 15/16 in.
func TestHeadsAndWashers(t *testing.T) {
	for name, want := range map[string][2]float64{
		"M3": {5.5, 7}, "M4": {7, 9}, "M5": {8, 10}, "M6": {10, 12}, "M8": {13, 16}, "M10": {16, 20}, "M12": {18, 24}, "M14": {21, 28}, "M16": {24, 30}, "M20": {30, 37},
		"#10": {7.938, 12.7}, "1/4": {11.113, 15.875}, "5/16": {12.7, 17.475}, "3/8": {14.288, 20.625}, "7/16": {15.875, 23.419}, "1/2": {19.05, 26.975}, "9/16": {20.638, 29.362}, "5/8": {23.813, 33.325},
	} {
		s, ok := Lookup(name)
		if !ok || math.Abs(s.Flats-want[0]) > 0.001 || math.Abs(s.Washer-want[1]) > 0.001 {
			t.Errorf("%s: %.3f across flats, washer %.3f, want %v", name, s.Flats, s.Washer, want)
		}
	}
	// M8: 13 mm over flats, 13·2/√3 = 15.011 over points, 14.006 in the mean.
	if m8, _ := Lookup("M8"); math.Abs(m8.HeadMean()-14.0056) > 1e-3 {
		t.Errorf("mean of the head %.4f mm", m8.HeadMean())
	}
}

// Common practice: 2 diameters to an edge and 3 between holes, whatever the force.
func TestUsualDistances(t *testing.T) {
	if e, a, b := Edge(8).Usual, Spacing(8, Along).Usual, Spacing(8, Across).Usual; e != 16 || a != 24 || b != 24 {
		t.Errorf("%g, %g, %g mm", e, a, b)
	}
}

package fastener

import (
	"fmt"
	"math"
	"testing"
)

// Nominal stress areas: ISO 898-1:2013 Table 4 for metric threads; for unified ones
// ASME B1.1, in², recalled from its tables: 1/4-20 0.0318, 5/16-18 0.0524, 5/16-24
// 0.0580, 3/8-16 0.0775, 3/8-24 0.0878, 1/2-13 0.1419, #10-32 0.0200.
func TestStressAreas(t *testing.T) {
	for name, want := range map[string]float64{"M4": 8.78, "M6": 20.1, "M8": 36.6, "M12": 84.3} {
		if s, ok := Lookup(name); !ok || math.Abs(s.StressArea()/want-1) > 0.006 {
			t.Errorf("%s: %.3f mm², want %g", name, s.StressArea(), want)
		}
	}
	for name, want := range map[string]float64{"1/4-20 UNC": 0.0318, "5/16in": 0.0524, "5/16-24": 0.0580, "3/8 UNC": 0.0775, "3/8-24 UNF": 0.0878, "1/2-13": 0.1419, "#10-32 UNF": 0.0200} {
		s, ok := Lookup(name)
		if got := s.StressArea() / (inch * inch); !ok || math.Abs(got-want) > 1e-4 { // the tables follow from two diameters, rounded
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

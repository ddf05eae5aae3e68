package fastener

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// By hand: two plates of 6 mm and two washers of 1.6 mm, nut 6.8 mm, two threads of 1.25
// mm: 12 + 3.2 + 6.8 + 2.5 = 24.5 mm, so M8 x 25.
func ExampleStack_Length() {
	m8, _ := Lookup("M8")
	length, ok := Stack{Parts: []float64{6, 6}, Washers: 2}.Length(m8)
	fmt.Println(length, ok)
	// Output: 25 true
}

func TestLength(t *testing.T) {
	for _, c := range []struct {
		size    string
		grip    float64
		washers int
		want    float64 // mm, 0 for none
	}{
		{"M8", 12.5, 2, 25},       // 25.0 exactly
		{"M8", 12.51, 2, 30},      // 25.01
		{"M8", 12.5, 1, 25},       // 23.4
		{"M6", 6, 2, 20},          // 6 + 3.2 + 5.2 + 2 = 16.4
		{"M3", 2.6, 0, 6},         // 2.6 + 2.4 + 1 = 6.0
		{"M8", 200, 0, 0},         // longer than the list
		{"M8", -1, 0, 0},          // no stack
		{"M8", 10, -1, 0},         // no stack
		{"5/16", 12, 2, 25.4},     // 12 + 3.302 + 6.9342 + 2.8222 = 25.058, 1 in
		{"5/16", 12.4, 2, 31.75},  // 25.458, 1 1/4 in
		{"1/4-20", 140, 0, 152.4}, // 140 + 5.7404 + 2.54 = 148.28, 6 in
		{"1/4-20", 145, 0, 0},     // 153.28
		{"#10-24", 1, 0, 9.525},   // 1 + 3.302 + 2.1167 = 6.42, 3/8 in
	} {
		got, ok := Length(mustSize(t, c.size), c.grip, c.washers)
		if math.Abs(got-c.want) > 1e-9 || ok != (c.want != 0) {
			t.Errorf("%s, %g mm, %d washers: %g mm %v, want %g", c.size, c.grip, c.washers, got, ok, c.want)
		}
	}
	if _, ok := Length(Size{D: 7}, 10, 2); ok {
		t.Error("a size that is not known has a length")
	}
}

// A bolt reaches through what it holds, and one length less would not; what is thicker
// takes no shorter one.
func TestLengthReaches(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.SampledFrom(allSizes()).Draw(t, "size")
		grip, washers := rapid.Float64Range(0, 100).Draw(t, "grip"), rapid.IntRange(0, 4).Draw(t, "washers")
		l, ok := Length(s, grip, washers)
		if !ok || l < grip+float64(washers)*s.WasherThickness()+s.NutHeight()+2*s.Pitch-1e-5 {
			t.Fatalf("%s: %g mm %v", s.Name, l, ok)
		}
		if longer, ok := Length(s, grip+1, washers); ok && longer < l {
			t.Fatalf("%s: %g mm for more", s.Name, longer)
		}
	})
}

// Thread lengths b of ISO 4014 for l up to 125 mm and up to 200 mm, mm, and of ASME
// B18.2.1 up to 6 in, in.
func TestThreadLength(t *testing.T) {
	for name, want := range map[string][2]float64{"M3": {12, 18}, "M4": {14, 20}, "M5": {16, 22}, "M6": {18, 24}, "M8": {22, 28}, "M10": {26, 32}, "M12": {30, 36},
		"M14": {34, 40}, "M16": {38, 44}, "M20": {46, 52}} {
		s := mustSize(t, name)
		if a, b := ThreadLength(s, 125), ThreadLength(s, 150); a != want[0] || b != want[1] {
			t.Errorf("%s: %g and %g mm, want %v", name, a, b, want)
		}
	}
	for name, want := range map[string]float64{"1/4": 0.75, "5/16": 0.875, "3/8": 1, "7/16": 1.125, "1/2": 1.25, "9/16": 1.375, "5/8": 1.5, "#10": 1.5} {
		if got := ThreadLength(mustSize(t, name), 4*inch) / inch; math.Abs(got-want) > 1e-9 {
			t.Errorf("%s: %g in, want %g", name, got, want)
		}
	}
	m8, quarter := mustSize(t, "M8"), mustSize(t, "1/4-20")
	for _, c := range []struct {
		size         Size
		length, want float64
	}{
		{m8, 35, 35}, {m8, 40, 22}, {m8, 130, 28}, {m8, 220, 41},
		{quarter, inch, 0.75 * inch},                    // 3/4 + 5/20 = 1 in: here the shank begins
		{quarter, 0.875 * inch, 0.875 * inch},           // and has no room below
		{quarter, 7 * inch, inch},                       // 2/4 + 1/2
		{mustSize(t, "#10-24"), 2 * inch, 2 * inch},     // machine screw
		{mustSize(t, "#10-24"), 2.5 * inch, 1.5 * inch}, // a longer one
	} {
		if got := ThreadLength(c.size, c.length); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s x %g: %g mm, want %g", c.size.Name, c.length, got, c.want)
		}
	}
}

// By hand: M8 x 40 has 22 mm of thread and up to 5·1.25 = 6.25 mm of run-out, so 11.75 mm
// of sound shank.
func TestThreadInShear(t *testing.T) {
	m8 := mustSize(t, "M8")
	for _, c := range []struct {
		length, at float64
		want       bool
	}{{40, 11.7, false}, {40, 11.8, true}, {40, 30, true}, {35, 0.1, true}, {80, 51, false}, {80, 52, true}} {
		if got := ThreadInShear(m8, c.length, c.at); got != c.want {
			t.Errorf("M8 x %g at %g mm: %v", c.length, c.at, got)
		}
	}
}

// Lengths in stock, by their rules: ISO 4014 and ISO 4017 by 5 mm from 20 to 70 mm and by 10 mm
// to 160 mm; inches by eighths to 1 in, by quarters to 4 in, by halves to 6 in. A stack that
// just takes a length gets it.
func TestStock(t *testing.T) {
	mm := []float64{6, 8, 10, 12, 16}
	for l := 20.0; l < 70; l += 5 {
		mm = append(mm, l)
	}
	for l := 70.0; l <= 160; l += 10 {
		mm = append(mm, l)
	}
	mm = append(mm, 180, 200)
	var in []float64
	for eighths := 3; eighths <= 48; eighths++ {
		if eighths <= 8 || eighths <= 32 && eighths%2 == 0 || eighths%4 == 0 {
			in = append(in, float64(eighths)/8*inch)
		}
	}
	for name, stock := range map[string][]float64{"M3": mm, "#10-32": in} {
		s, before := mustSize(t, name), 0.0
		for _, want := range stock {
			for _, grip := range []float64{want, before + 0.1} {
				if grip -= s.NutHeight() + 2*s.Pitch; grip < 0 {
					continue
				}
				if got, ok := Length(s, grip, 0); !ok || math.Abs(got-want) > 1e-9 {
					t.Errorf("%s with %g mm: %g mm, want %g", name, grip, got, want)
				}
			}
			before = want
		}
	}
	if got := (Stack{Parts: []float64{6, 4.5}}).Thickness(); got != 10.5 {
		t.Errorf("6 and 4.5 mm: %g mm", got)
	}
}

// The ends of the ranges, by hand: M8 x 200 still 28 mm; 1/4 in x 6 in still 3/4 in, longer 1 in.
// 1/4-20 has 3/4 + 5/20 = 1 in before there is a shank, 5/16-18 7/8 + 5/18 = 1.153 in.
func TestThreadLengthAtTheEnds(t *testing.T) {
	for _, c := range []struct {
		size         string
		length, want float64
	}{
		{"M8", 200, 28}, {"1/4-20", 6 * inch, 0.75 * inch}, {"1/4-20", 6.25 * inch, inch}, {"1/4-20", 24.5, 24.5},
		{"5/16-18", 1.125 * inch, 1.125 * inch}, {"5/16-18", 1.25 * inch, 0.875 * inch},
	} {
		if got := ThreadLength(mustSize(t, c.size), c.length); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s x %g: %g mm, want %g", c.size, c.length, got, c.want)
		}
	}
	if ThreadInShear(mustSize(t, "M8"), 40, 11.75) {
		t.Error("the shank of M8 x 40 is sound to 11.75 mm")
	}
}

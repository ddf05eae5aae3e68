package fastener

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// allSizes are all sizes that are known, coarse and fine.
func allSizes() []Size {
	all := append([]Size(nil), metric...)
	for _, u := range unified {
		for _, series := range []string{"UNC", "UNF"} {
			s, _ := Lookup(u.name + " " + series)
			all = append(all, s)
		}
	}
	return all
}

func mustSize(t testing.TB, name string) Size {
	t.Helper()
	s, ok := Lookup(name)
	if !ok {
		t.Fatalf("no size %s", name)
	}
	return s
}

// Head height, nut height, washer thickness and bore. Metric: ISO 4014, ISO 4032 style 1
// (max), ISO 7089, mm. Inch: ASME B18.2.1 and B18.6.3, B18.2.2 (max), B18.21.1 type A
// narrow, in.
func TestHardware(t *testing.T) {
	for name, want := range map[string][4]float64{
		"M3": {2, 2.4, 0.5, 3.2}, "M4": {2.8, 3.2, 0.8, 4.3}, "M5": {3.5, 4.7, 1, 5.3}, "M6": {4, 5.2, 1.6, 6.4}, "M8": {5.3, 6.8, 1.6, 8.4},
		"M10": {6.4, 8.4, 2, 10.5}, "M12": {7.5, 10.8, 2.5, 13}, "M14": {8.8, 12.8, 2.5, 15}, "M16": {10, 14.8, 3, 17}, "M20": {12.5, 18, 3, 21},
	} {
		s := mustSize(t, name)
		if got := [4]float64{s.HeadHeight(), s.NutHeight(), s.WasherThickness(), s.WasherHole()}; got != want {
			t.Errorf("%s: %v mm, want %v", name, got, want)
		}
	}
	for name, want := range map[string][4]float64{
		"#10": {0.120, 0.130, 0.049, 0.219}, "1/4": {0.15625, 0.226, 0.065, 0.281}, "5/16": {0.203125, 0.273, 0.065, 0.344},
		"3/8": {0.234375, 0.337, 0.065, 0.406}, "7/16": {0.28125, 0.385, 0.065, 0.469}, "1/2": {0.3125, 0.448, 0.095, 0.531},
		"9/16": {0.359375, 0.496, 0.095, 0.594}, "5/8": {0.390625, 0.559, 0.095, 0.656},
	} {
		s := mustSize(t, name)
		for i, got := range [4]float64{s.HeadHeight(), s.NutHeight(), s.WasherThickness(), s.WasherHole()} {
			if math.Abs(got/25.4-want[i]) > 1e-9 {
				t.Errorf("%s: value %d is %.4f in, want %g", name, i, got/25.4, want[i])
			}
		}
	}
}

// Least width across corners of ISO 4014 heads, grade A, mm, and the greatest one of
// ASME B18.2.2 nuts, in. Ours is the sharp hexagon's, which is the greatest.
func TestCorners(t *testing.T) {
	for name, least := range map[string]float64{"M3": 6.01, "M4": 7.66, "M5": 8.79, "M6": 11.05, "M8": 14.38, "M10": 17.77, "M12": 20.03,
		"M14": 23.36, "M16": 26.75, "M20": 33.53} {
		if got := mustSize(t, name).Corners(); got < least || got > 1.06*least {
			t.Errorf("%s: %.3f mm, least is %g", name, got, least)
		}
	}
	for name, most := range map[string]float64{"#10": 0.433, "1/4": 0.505, "5/16": 0.577, "3/8": 0.650, "7/16": 0.794, "1/2": 0.866, "9/16": 1.010, "5/8": 1.083} {
		if got := mustSize(t, name).Corners() / 25.4; math.Abs(got-most) > 1e-3 {
			t.Errorf("%s: %.4f in, want %g", name, got, most)
		}
	}
}

// By hand: M8, 13 mm across flats: spanner (1.4·13 + 2)/2 = 10.1 mm, corners 15.011 mm;
// M6, 10 mm: 8 mm and 11.547 mm. Washers 16 and 12 mm: 14 mm apart. Spanner on the M8
// past the M6: 10.1 + 5.774 = 15.874 mm; on the M6 past the M8: 8 + 7.506 = 15.506 mm.
func ExampleRoom() {
	m8, _ := Lookup("M8")
	m6, _ := Lookup("M6")
	washers, spanner := Room(m8, m6)
	fmt.Printf("%.1f mm and %.3f mm, %.1f mm to a wall\n", washers, spanner, m8.SpannerRoom())
	// Output: 14.0 mm and 15.874 mm, 10.1 mm to a wall
}

// The 7/16 nut is 11/16 in across flats, its bolt's head 5/8: (1.4·17.4625 + 2)/2 mm.
func TestSpannerTakesTheNut(t *testing.T) {
	s := mustSize(t, "7/16")
	if got := s.SpannerRoom(); math.Abs(got-13.22375) > 1e-6 {
		t.Errorf("%.5f mm", got)
	}
}

func TestRoomIsTheSameEitherWay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := rapid.SampledFrom(allSizes()).Draw(t, "a"), rapid.SampledFrom(allSizes()).Draw(t, "b")
		w, s := Room(a, b)
		if v, r := Room(b, a); v != w || r != s {
			t.Fatalf("Room(%s, %s) = %g, %g and %g, %g", a.Name, b.Name, w, s, v, r)
		}
		if s <= (a.Corners()+b.Corners())/2 {
			t.Fatalf("%s beside %s: %g mm, and the heads touch", a.Name, b.Name, s)
		}
	})
}

// Whatever stands in the tables of sizes has its hardware.
func TestEverySizeHasHardware(t *testing.T) {
	for _, s := range allSizes() {
		h := hardwareOf(s)
		if h.head <= 0 || h.nut <= 0 || h.washer <= 0 || h.bore <= s.D || h.hole <= s.D || h.bearing <= h.hole || h.bearing > s.Flats || h.shank <= 0 {
			t.Errorf("%s: %+v", s.Name, h)
		}
	}
	if (Size{D: 7}).NutHeight() != 0 {
		t.Error("an unknown size has a nut")
	}
}

package fastener

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// By hand: m 20, e 30 so that n = 25, leff 100 mm, fy 235 MPa, M8 8.8 with Ft,Rd 21 082 N.
//
//	4 mm:  Mpl 94 000 N·mm, 2·94000/20 = 9400 N; (94000 + 25·21082)/45 = 13 801 N
//	6 mm:  Mpl 211 500, 21 150 N; (211500 + 527050)/45 = 16 412 N
//	10 mm: Mpl 587 500, 58 750 N; 24 768 N
func ExampleTStub_Capacity() {
	for _, t := range []float64{4, 6, 10} {
		force, mode := TStub{M: 20, E: 30, Length: 100, Thickness: t, Yield: 235, Part: 1}.Capacity(21082)
		fmt.Printf("%.0f mm: %.0f N, mode %d\n", t, force, mode)
	}
	// Output:
	// 4 mm: 9400 N, mode 1
	// 6 mm: 16412 N, mode 2
	// 10 mm: 21082 N, mode 3
}

// As above with e 15, which is n: (211500 + 15·21082)/35 = 15 078 N; with γM1 1.1 at 4 mm,
// 9400/1.1 = 8545.5 N.
func TestCapacity(t *testing.T) {
	s := TStub{M: 20, E: 15, Length: 100, Thickness: 6, Yield: 235}
	if f, mode := s.Capacity(21082); math.Abs(f-15078) > 0.5 || mode != BoltAndPlate {
		t.Errorf("%.1f N, mode %d", f, mode)
	}
	s.Thickness, s.Part = 4, 1.1
	if f, mode := s.Capacity(21082); math.Abs(f-8545.45) > 0.01 || mode != PlateYields {
		t.Errorf("%.2f N, mode %d", f, mode)
	}
	whole := TStub{M: 20, E: 15, Length: 100, Thickness: 6, Yield: 235, Part: 1}
	for i, spoil := range []func(*TStub){func(s *TStub) { s.M = 0 }, func(s *TStub) { s.E = 0 }, func(s *TStub) { s.Length = 0 }, func(s *TStub) { s.Thickness = 0 },
		func(s *TStub) { s.Yield = 0 }, func(s *TStub) { s.Yield = math.NaN() }, func(s *TStub) { s.Part = -1 }} {
		s := whole
		spoil(&s)
		if f, mode := s.Capacity(21082); f != 0 || mode != NoMode {
			t.Errorf("spoilt %d: %g N, mode %d", i, f, mode)
		}
	}
	if f, mode := whole.Capacity(0); f != 0 || mode != NoMode {
		t.Errorf("no bolt: %g N, mode %d", f, mode)
	}
}

func drawStub(t *rapid.T) (TStub, float64) {
	return TStub{M: rapid.Float64Range(5, 60).Draw(t, "m"), E: rapid.Float64Range(5, 60).Draw(t, "e"), Length: rapid.Float64Range(10, 300).Draw(t, "leff"),
		Thickness: rapid.Float64Range(1, 25).Draw(t, "t"), Yield: rapid.Float64Range(80, 500).Draw(t, "fy"), Part: 1}, rapid.Float64Range(1e3, 1e5).Draw(t, "Ft")
}

// A thicker plate bears no less, and no joint more than its bolt alone; the modes come in
// turn, and a millionth more thickness makes no jump.
func TestCapacityIsMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, bolt := drawStub(t)
		f, mode := s.Capacity(bolt)
		if f <= 0 || f > bolt || mode == BoltAlone != (f == bolt) {
			t.Fatalf("%+v with %g N: %g N, mode %d", s, bolt, f, mode)
		}
		s.Thickness *= 1 + 1e-6
		g, next := s.Capacity(bolt)
		if g < f || g > f*(1+3e-6) || next < mode {
			t.Fatalf("%+v with %g N: %g and %g N, modes %d and %d", s, bolt, f, g, mode, next)
		}
	})
}

// Where the plate yields first the moments at both lines are equal to Mpl; at the bolt's line
// the prying force times its lever is, by balance: (B - F) n = Mpl and B = Mpl/n + F.
func TestModeOneBalances(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, bolt := drawStub(t)
		f, mode := s.Capacity(bolt)
		moment, n := s.Length*s.Thickness*s.Thickness/4*s.Yield, min(s.E, 1.25*s.M)
		switch mode {
		case PlateYields: // the bolt's own force stays below what it bears
			if f+moment/n > bolt*(1+1e-9) {
				t.Fatalf("%+v: bolt at %g of %g N", s, f+moment/n, bolt)
			}
		case BoltAndPlate: // about the pried edge: F (m + n) = Mpl + B n
			if math.Abs(f*(s.M+n)-moment-bolt*n) > 1e-6*bolt*n {
				t.Fatalf("%+v: no balance at %g N", s, f)
			}
		}
	})
}

// By hand: 8.8·20³·36.6/(100·6³) = 119.3 mm. EN 1993-1-8 Table 6.4 with m 20, e 25: 2π·20 =
// 125.66, 4·20 + 31.25 = 111.25; 10 mm from an end 62.83 + 20 = 82.83, 40 + 15.625 + 10 = 65.63.
func TestPryingLimitAndEffectiveLength(t *testing.T) {
	if got := (TStub{M: 20, Length: 100, Thickness: 6}).PryingLimit(36.6); math.Abs(got-119.289) > 0.001 {
		t.Errorf("%.3f mm", got)
	}
	for _, c := range []struct{ m, e, end, want float64 }{
		{20, 25, math.Inf(1), 111.25}, {20, 40, math.Inf(1), 125.6637}, {20, 25, 10, 65.625}, {20, 60, 10, 82.8319},
	} {
		if got := EffectiveLength(c.m, c.e, c.end); math.Abs(got-c.want) > 1e-3 {
			t.Errorf("m %g, e %g, end %g: %.4f mm, want %g", c.m, c.e, c.end, got, c.want)
		}
	}
}

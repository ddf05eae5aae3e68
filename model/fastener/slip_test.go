package fastener

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"
)

// Design tables after EN 1993-1-8, class 8.8, ultimate limit state, one friction plane, kN,
// for slip factors of 0.2, 0.3, 0.4 and 0.5; two planes hold twice as much.
func TestSlipTable(t *testing.T) {
	for name, want := range map[string][4]float64{"M12": {7.55, 11.3, 15.1, 18.9}, "M16": {14.1, 21.1, 28.1, 35.2}, "M20": {22.0, 32.9, 43.9, 54.9}} {
		for i, mu := range []float64{ClassD, ClassC, ClassB, ClassA} {
			for planes := 1; planes <= 2; planes++ {
				got, ok := SlipResistance(mustSize(t, name), mustGrade(t, "8.8"), NormalHole, mu, planes, 0)
				if !ok || !near(got, 1000*want[i]*float64(planes), 0.005) {
					t.Errorf("%s at %g, %d planes: %.0f N, want %g kN each", name, mu, planes, got, want[i])
				}
			}
		}
	}
}

func ExampleSlipResistance() {
	// EN 1993-1-8 design tables: M20 8.8, plates as rolled, μ 0.2: 22.0 kN.
	m20, _ := Lookup("M20")
	class, _ := LookupGrade("8.8")
	force, ok := SlipResistance(m20, class, NormalHole, ClassD, 1, 0)
	fmt.Printf("%.1f kN %v\n", force/1000, ok)
	// Output: 21.9 kN true
}

// By hand, M8 8.8: 0.7·800·36.6085 = 20500.8 N; with 5 kN on it (20500.8 - 4000)·0.2/1.25 =
// 2640.1 N, and 0.85, 0.7, 0.76 and 0.63 of that; nothing from 25.6 kN.
func TestSlipUnderTension(t *testing.T) {
	m8, g := mustSize(t, "M8"), mustGrade(t, "8.8")
	for hole, ks := range map[Opening]float64{NormalHole: 1, Oversize: 0.85, LongSlotAcross: 0.7, ShortSlotAlong: 0.76, LongSlotAlong: 0.63} {
		if got, ok := SlipResistance(m8, g, hole, 0.2, 1, 5000); !ok || !near(got, ks*2640.1, 1e-4) {
			t.Errorf("opening %d: %.2f N, want %.2f", hole, got, ks*2640.1)
		}
	}
	if got, ok := SlipResistance(m8, g, NormalHole, 0.2, 1, 26000); !ok || got != 0 {
		t.Errorf("%g N under 26 kN", got)
	}
	for _, c := range []struct {
		grade string
		hole  Opening
	}{{"4.6", NormalHole}, {"A2-70", NormalHole}, {"12.9", NormalHole}, {"8.8", -1}, {"8.8", openings}} {
		if f, ok := SlipResistance(m8, mustGrade(t, c.grade), c.hole, 0.2, 1, 0); ok || f != 0 {
			t.Errorf("%s in opening %d grips", c.grade, c.hole)
		}
	}
	if f, ok := ControlledPreload(m8, mustGrade(t, "5.6")); ok || f != 0 {
		t.Errorf("5.6 is preloaded to %g N", f)
	}
}

// 10 kN, 0.15, two planes: 3000 N; with 2 kN on it 0.3·(10000 - 1600) = 2520 N.
func TestGrip(t *testing.T) {
	if a, b := Grip(10000, 0, 0.15, 2), Grip(10000, 2000, 0.15, 2); !near(a, 3000, 1e-12) || !near(b, 2520, 1e-12) {
		t.Errorf("%g and %g N", a, b)
	}
	rapid.Check(t, func(t *rapid.T) {
		f, ft := rapid.Float64Range(1, 1e5).Draw(t, "F"), rapid.Float64Range(0, 1e5).Draw(t, "Ft")
		mu, n := rapid.Float64Range(0.01, 0.5).Draw(t, "mu"), rapid.IntRange(0, 4).Draw(t, "n")
		g := Grip(f, ft, mu, n)
		if g < 0 || g > Grip(f, 0, mu, n) || !near(Grip(f, 0, mu, n), float64(n)*Grip(f, 0, mu, 1), 1e-12) {
			t.Fatalf("Grip(%g, %g, %g, %d) = %g", f, ft, mu, n, g)
		}
	})
}

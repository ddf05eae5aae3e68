package pattern

import (
	"math"
	"testing"

	"stanchion/holes/plane"
)

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %.4f, want %.4f", what, got, want)
	}
}

// Holes of 8.4 and 10.4 mm whose centres are 60 mm apart: 60 − 9.4 between the inner edges,
// 60 + 9.4 over both, 60 − 1 from the first's outer edge (−4.2) to the second's nearer one
// (60 − 5.2), 60 + 1 from the first's inner edge (4.2) to the second's farther one (65.2).
func TestCentreByHand(t *testing.T) {
	for by, measured := range map[Edges]float64{Centres: 60, Inner: 50.6, Outer: 69.4, Near: 54.8 + 4.2, Far: 65.2 - 4.2} {
		near(t, "centres", Centre(measured, 8.4, 10.4, by), 60, 1e-9)
	}
	near(t, "to the near edge", FromEdge(14, 8.4, Near), 18.2, 1e-9)
	near(t, "to the far edge", FromEdge(22.4, 8.4, Far), 18.2, 1e-9)
	near(t, "to the centre", FromEdge(18.2, 8.4, Centres), 18.2, 1e-9)
	near(t, "slot", SlotCentres(48.4, 8.4), 40, 1e-9)
}

// Three rows over 70 mm are 35 mm apart, two columns over 62 mm are 62 apart; ±0.5 over the
// two gaps is ±0.25 at the middle row.
func TestGridByHand(t *testing.T) {
	g := Grid{Rows: 3, Columns: 2, Up: 70, Along: 62, StdUnc: 0.5}
	want := []plane.Point{{X: 0, Z: 0}, {X: 62, Z: 0}, {X: 0, Z: 35}, {X: 62, Z: 35}, {X: 0, Z: 70}, {X: 62, Z: 70}}
	got := g.Points()
	if len(got) != len(want) {
		t.Fatalf("%d holes", len(got))
	}
	for i := range want {
		near(t, "x", got[i].X, want[i].X, 1e-9)
		near(t, "z", got[i].Z, want[i].Z, 1e-9)
	}
	x, z := g.StdUncOf(1, 1)
	near(t, "± of x", x, 0.5, 1e-9)
	near(t, "± of z", z, 0.25, 1e-9)
	near(t, "one row", Step(70, 1), 0, 0)
}

// On a radius of 100 mm, 30° up is 86.60 behind and 50 above the pivot.
func TestArcByHand(t *testing.T) {
	at := Arc(plane.Point{X: 5, Z: 420}, 100, []float64{0, 30 * plane.Deg})
	near(t, "x at 0°", at[0].X, 105, 1e-9)
	near(t, "z at 0°", at[0].Z, 420, 1e-9)
	near(t, "x at 30°", at[1].X, 91.6025, 1e-4)
	near(t, "z at 30°", at[1].Z, 470, 1e-9)
	if s := Spread(0, 20, 5); len(s) != 5 || s[1] != 5 || s[4] != 20 {
		t.Errorf("0 to 20 in five: %v", s)
	}
}

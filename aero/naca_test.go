package aero

import (
	"fmt"
	"math"
	"testing"
)

// Half thickness of the NACA 0012, % of chord: Abbott and von Doenhoff,
// "Theory of Wing Sections" (1959), app. III, recomputed by R. Carmichael (2017).
func TestNaca0012Thickness(t *testing.T) {
	n, err := ParseNaca("NACA 0012")
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range [][2]float64{
		{0.5, 1.2213}, {1.25, 1.8939}, {5, 3.5547}, {10, 4.6828}, {20, 5.7375}, {30, 6.0017},
		{40, 5.8030}, {60, 4.5634}, {80, 2.6231}, {95, 0.8066}, {100, 0.1260},
	} {
		if u, _ := n.Surface(row[0] / 100); math.Abs(100*u.Y-row[1]) > 0.0005 {
			t.Errorf("x = %g %%: %.4f %%, want %.4f", row[0], 100*u.Y, row[1])
		}
	}
}

// NACA 4412, % of chord, same source.
func TestNaca4412Surface(t *testing.T) {
	n, err := ParseNaca("naca4412")
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range []struct{ x, ux, uy, lx, ly float64 }{
		{1.25, 0.8898, 2.1054, 1.6102, -1.6132},
		{10, 9.3054, 6.3810, 10.6946, -2.8810},
		{30, 29.7003, 9.7442, 30.2997, -2.2442},
		{40, 40, 9.8030, 40, -1.8030},
		{60, 60.2026, 8.1144, 59.7974, -1.0033},
		{95, 95.0979, 1.4395, 94.9021, -0.1617},
	} {
		u, l := n.Surface(row.x / 100)
		for _, d := range []float64{100*u.X - row.ux, 100*u.Y - row.uy, 100*l.X - row.lx, 100*l.Y - row.ly} {
			if math.Abs(d) > 0.0002 {
				t.Errorf("x = %g %%: upper %.4f, %.4f lower %.4f, %.4f; want %v", row.x, 100*u.X, 100*u.Y, 100*l.X, 100*l.Y, row)
				break
			}
		}
	}
}

// Thin-airfoil theory in closed form for 24xx and 44xx; the 23012 from
// J. D. Anderson, "Fundamentals of Aerodynamics", ch. 4, worked example:
// -1.09°, -0.0127 (recomputed: -1.0935°, -0.0128).
func TestThinAirfoil(t *testing.T) {
	for _, row := range []struct {
		name                     string
		zero, moment, within, cm float64
	}{
		{"naca 2412", -2.0772, -0.05312, 0.0005, 2e-5},
		{"naca 4415", -4.1545, -0.10624, 0.0005, 2e-5},
		{"naca 23012", -1.0935, -0.0128, 0.005, 2e-4},
	} {
		n, err := ParseNaca(row.name)
		if err != nil {
			t.Fatal(err)
		}
		if got := n.Thin(); math.Abs(got.ZeroLift/deg-row.zero) > row.within || math.Abs(got.Moment-row.moment) > row.cm {
			t.Errorf("%s: zero lift %.4f°, cm %.5f; want %.4f°, %.5f", row.name, got.ZeroLift/deg, got.Moment, row.zero, row.moment)
		}
	}
}

func ExampleParseNaca() {
	for _, name := range []string{"naca 6412", "naca 12", "naca 2012", "naca 99912"} {
		n, err := ParseNaca(name)
		fmt.Println(n.Code, err)
	}
	// Output:
	// 6412 <nil>
	//  section "naca 12"; use "naca" with four digits, such as "naca 6412", or five, "naca 23012"
	//  section "naca 2012" has camber without its place, or the reverse: the first two digits are both 0 or neither
	//  section "naca 99912": of the five-digit sections 210xx, 220xx, 230xx, 240xx and 250xx are known
}

func printN(down, back float64) { fmt.Printf("%.1f N, %.1f N\n", down, back) }

package model

import (
	"math"
	"strings"
	"testing"

	"stanchion/aero"
	"stanchion/holes/plane"
)

// Where a section comes from: the user's polar before all; a published one with its drag from
// the shape, and the computed values beside it; a shape alone; and what is missing otherwise.
func TestWhereTheSectionComesFrom(t *testing.T) {
	shape := func(name string) []aero.Vec {
		n, err := aero.ParseNaca(name)
		if err != nil {
			t.Fatal(err)
		}
		return n.Outline(60)
	}
	polar := *plainTable(t, 0).Car.Wing.Table
	for _, c := range []struct {
		what   string
		wing   Wing
		origin aero.Origin
		beside bool
		fault  string
	}{
		{"a polar", Wing{Polar: &polar, Section: "naca 4412", Shape: shape("naca 4412")}, aero.Given, false, ""},
		{"published, with its shape", Wing{Section: "naca 4412", Shape: shape("naca 4412")}, aero.FromTable, true, ""},
		{"published, with its drag", Wing{Section: "clark y"}, aero.FromTable, false, ""},
		{"published without drag, its digits its shape", Wing{Section: "naca 4412"}, aero.FromTable, false, ""},
		{"published without drag, no shape", Wing{Section: "naca 65-410"}, 0, false, "no drag is published"},
		{"a shape alone", Wing{Source: "mine.dat", Shape: shape("naca 6412")}, aero.Computed, false, ""},
		{"a name that nobody published", Wing{Section: "naca 9921"}, 0, false, "nothing is published here"},
		{"a shape that cannot be solved", Wing{Source: "mine.dat", Shape: []aero.Vec{{X: 1}, {X: 0}, {X: 1}}}, 0, false, "at least 20"},
	} {
		s, err := c.wing.section(4e5)
		switch {
		case c.fault != "":
			if err == nil || !strings.Contains(err.Error(), c.fault) {
				t.Errorf("%s: %v, want a fault on %q", c.what, err, c.fault)
			}
		case err != nil:
			t.Errorf("%s: %v", c.what, err)
		case s.Origin != c.origin || (s.Beside != nil) != c.beside:
			t.Errorf("%s: origin %v, computed beside it %v", c.what, s.Origin, s.Beside != nil)
		}
	}
	s, err := Wing{Polar: &polar}.section(4e5)
	if err != nil || math.Abs(s.MaxLift-1.4625) > 1e-3 || math.Abs(s.MaxAngle/plane.Deg-17) > 0.3 || math.Abs(s.Slope*plane.Deg-0.075) > 1e-3 {
		t.Errorf("a polar: maximum %.4f at %.2f°, slope %.4f per degree; %v", s.MaxLift, s.MaxAngle/plane.Deg, s.Slope*plane.Deg, err)
	}
}

package model

import (
	"math"
	"testing"
)

// With its speed, a credible claim scales the curve to the maker's lift; one
// that no wing can keep does not.
func TestClaimScales(t *testing.T) {
	c := plainTable(t, 0).Car
	polar := *c.Wing.Table
	c.Wing.Table, c.Wing.Polar, c.Wing.Source = nil, &polar, "p.csv"
	plain, err := c.SolveWing(50)
	if err != nil {
		t.Fatal(err)
	}
	q := 0.5 * c.Air.Density() * 50 * 50
	c.Claim = Claim{Downforce: 0.9 * plain.MaxLift * q * 0.35, Speed: 50}
	scaled, err := c.SolveWing(50)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(scaled.MaxLift/plain.MaxLift-0.9) > 1e-3 {
		t.Errorf("largest lift %.3f, want 0.9 of %.3f", scaled.MaxLift, plain.MaxLift)
	}
	c.Claim.Downforce *= 4
	wild, err := c.SolveWing(50)
	if err != nil {
		t.Fatal(err)
	}
	if wild.MaxLift != plain.MaxLift || len(wild.Notes) == 0 {
		t.Errorf("an incredible claim changes the largest lift to %.3f (%q)", wild.MaxLift, wild.Notes)
	}
}

package model_test

import (
	"math"
	"testing"

	"stanchion/holes/plane"
	"stanchion/model/clearance"
)

// A lid that lies through the upright when it is shut touches it at 0°, whichever
// part of the setting it meets later, and whether or not the upright is the fixed
// part; slots in the lid take that back.
func TestLidThroughTheUpright(t *testing.T) {
	for _, name := range []string{"coupe", "saloon"} {
		car := demo(t, name)
		up := car.Parts[len(car.Parts)-2].Outline
		places, err := car.Positions()
		if err != nil {
			t.Fatal(err)
		}
		pose := car.PartPoses(places[0].Setting)[len(car.Parts)-2]
		at := pose.Apply(plane.Point{X: (up[0].X + up[1].X) / 2, Z: up[0].Z + 200})
		car.Body = nil
		car.Lid = clearance.Lid{Hinge: plane.Point{X: at.X - 200, Z: at.Z}, Outline: []plane.Point{{X: at.X - 190, Z: at.Z}, {X: at.X + 150, Z: at.Z}}, Open: 80 * plane.Deg}
		places, err = car.Positions()
		if err != nil {
			t.Fatal(err)
		}
		if g := places[0].Gap; g.Distance != 0 || g.Turn != 0 || g.From != "upright" {
			t.Errorf("%s: %+v", name, g)
		}
		car.Lid.Slotted = true
		if places, err = car.Positions(); err != nil {
			t.Fatal(err)
		}
		if g := places[0].Gap; g.From == "upright" {
			t.Errorf("%s, slotted: %+v", name, g)
		}
	}
}

// Turning the whole car by its rake changes no distance.
func TestRakeChangesNoGap(t *testing.T) {
	car := demo(t, "coupe")
	before, err := car.Positions()
	if err != nil {
		t.Fatal(err)
	}
	car.RakeChange += 3 * plane.Deg
	after, err := car.Positions()
	if err != nil {
		t.Fatal(err)
	}
	gaps := map[string]float64{}
	for _, p := range before {
		gaps[p.ID] = p.Gap.Distance
	}
	for _, p := range after {
		if math.Abs(gaps[p.ID]-p.Gap.Distance) > 1e-6 {
			t.Errorf("%s: %g mm becomes %g mm", p.ID, gaps[p.ID], p.Gap.Distance)
		}
	}
}

// Package modeltest opens the demo cars for the tests of model's rooms.
package modeltest

import (
	"path/filepath"
	"runtime"
	"testing"

	"stanchion/aero"
	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/carfile"
)

// Car returns a demo car.
func Car(t testing.TB, name string) *model.Car {
	t.Helper()
	car, err := carfile.Demo(name)
	if err != nil {
		t.Fatal(err)
	}
	return car
}

// Table returns all settings of a demo car at its own speed.
func Table(t testing.TB, name string) *model.Table {
	t.Helper()
	return TableOf(t, Car(t, name))
}

// TableOf returns all settings of a car at its own speed.
func TableOf(t testing.TB, car *model.Car) *model.Table {
	t.Helper()
	table, err := car.Map(car.Speed)
	if err != nil {
		t.Fatal(err)
	}
	return table
}

// File returns the car of a file in testdata/cars.
func File(t testing.TB, name string) *model.Car {
	t.Helper()
	_, here, _, _ := runtime.Caller(0)
	car, err := carfile.Load(filepath.Join(filepath.Dir(here), "../../testdata/cars", name))
	if err != nil {
		t.Fatal(err)
	}
	return car
}

// Plain returns a car with a table of the whole wing whose lift is CL = 0.075 (α + 5) up to
// 12° and tops out at 1.4625 at 17°, on 0.35 m², so that it needs no car file.
func Plain(t testing.TB) *model.Car {
	t.Helper()
	var alpha, cl, cd, cm []float64
	for a := -15.0; a <= 30; a++ {
		l := 0.075 * (a + 5)
		if a > 12 {
			l = 0.075*17 + 0.075*(a-12) - 0.0075*(a-12)*(a-12)
		}
		alpha, cl, cd, cm = append(alpha, a*plane.Deg), append(cl, l), append(cd, 0.015+0.05*l*l), append(cm, -0.09)
	}
	curve, err := aero.NewCurve(alpha, cl, cd, cm)
	if err != nil {
		t.Fatal(err)
	}
	return &model.Car{
		Wheelbase: 2500, FrontMass: 600, RearMass: 560, RearDownforceArea: -0.1, RoofHeight: 1300,
		Air: aero.Air{Pressure: 101325, Temperature: 293.15}, Wing: model.Wing{Span: 1400, Chord: 250, Table: &curve},
		Uncertainty: model.DefaultUncertainty(true),
		TrackFit:    model.NoFit(),
	}
}

// Lever returns the plain car with a bracket 1200 mm up, turned by an angle in rad, that has two
// holes 100 mm apart, and a wing with two: bolted in one way, p:F+q:R, so that all of it can be
// worked out by hand.
func Lever(t testing.TB, turn float64) *model.Car {
	t.Helper()
	car := Plain(t)
	hole := func(id string, x float64) holes.Hole { return holes.Hole{ID: id, X: x, D: 8.4} }
	car.Parts = []model.Part{
		{Part: holes.Part{Name: "bracket", Holes: []holes.Hole{hole("p", 0), hole("q", 100)}}},
		{Part: holes.Part{Name: "wing", Holes: []holes.Hole{hole("F", 0), hole("R", 100)}}},
	}
	car.Joints = []model.Joint{{Joint: holes.Joint{Name: "j", Shank: 8, MinBolts: 2, MaxTurn: 30 * plane.Deg}, Bolt: "M8"}}
	car.Fixed = plane.Pose{X: 400, Z: 1200, Turn: turn}
	return car
}

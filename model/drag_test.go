package model

import (
	"math"
	"testing"

	"stanchion/holes/plane"

	"pgregory.net/rapid"
)

// By hand, for 516.5 N of lift and 38.5 N of drag in a flow that comes down at 1.94° on a
// car with a lift area of 0.15 m² and a wing of 1.48 m: the lean is 516.5·sin 1.94° =
// 17.49 N; Munk's mutual drag 2·516.5·0.15/(π·1.48²) = 22.52 N is more, so all of it may
// be a gain: 38.48 - 17.49/2 = 29.73 N. With 0.05 m² it is 7.51 N: 38.48 - 3.75 = 34.72 N.
func TestDragByHand(t *testing.T) {
	const lift, drag, eps = 516.5, 38.5, 1.94 * plane.Deg
	own, lean := drag*math.Cos(eps), -lift*math.Sin(eps)
	for _, row := range []struct{ front, rear, credit, want float64 }{
		{-0.04, -0.11, 17.49, 29.73},
		{-0.02, -0.03, 7.51, 34.72},
		{0, 0, 0, 38.48},
		{0.05, 0.10, 0, 38.48}, // a car with downforce of its own has no such downwash
	} {
		c := &Car{FrontDownforceArea: row.front, RearDownforceArea: row.rear, Wing: Wing{Span: 1480}}
		credit := c.leanCredit(lift, eps, 0)
		if math.Abs(credit-row.credit) > 0.01 {
			t.Errorf("area %.2f m²: credit %.3f N, want %.2f", -row.front-row.rear, credit, row.credit)
		}
		if got := carDrag(own, lean, credit, 0); math.Abs(got-row.want) > 0.01 {
			t.Errorf("area %.2f m²: drag %.3f N, want %.2f", -row.front-row.rear, got, row.want)
		}
	}
	// A flow that rises leans the lift rearwards, which counts whole: 38.48 + 17.49.
	if got := carDrag(own, -lean, 0, 0); math.Abs(got-55.97) > 0.01 {
		t.Errorf("leaning rearwards %.3f N, want 55.97", got)
	}
	// All of the credit paid for leaves the own drag, none of it paid takes it off whole.
	if all, none := carDrag(own, lean, 17.49, 0.5), carDrag(own, lean, 17.49, -0.5); math.Abs(all-own) > 1e-9 || math.Abs(none-(own-17.49)) > 1e-9 {
		t.Errorf("paid for %.2f N, not paid for %.2f N", all, none)
	}
}

// No wing, in whatever flow on whatever car, drives the car.
func TestNoWingDrives(t *testing.T) {
	base := plainTable(t, -10, 0, 5, 12, 25)
	rapid.Check(t, func(t *rapid.T) {
		c := *base.Car
		c.FrontDownforceArea, c.RearDownforceArea = rapid.Float64Range(-5, 5).Draw(t, "front"), rapid.Float64Range(-5, 5).Draw(t, "rear")
		c.Flow, _ = flowOf(rapid.Float64Range(-30, 30).Draw(t, "flow")*plane.Deg, rapid.Float64Range(0.5, 1.2).Draw(t, "ratio"))
		table := NewTable(&c, placesOf(base), base.Wing, 45)
		for i := range table.Rows {
			r := &table.Rows[i]
			if math.IsNaN(r.Drag) {
				continue
			}
			if r.Drag < 0 {
				t.Fatalf("%g°: drag %.2f N", r.Angle/plane.Deg, r.Drag)
			}
			if r.Lean < 0 && (r.Drag > r.OwnDrag+1e-9 || r.Drag < r.OwnDrag+r.Lean/2-1e-9 && r.Drag > 0) {
				t.Fatalf("%g°: drag %.2f N of own %.2f and lean %.2f", r.Angle/plane.Deg, r.Drag, r.OwnDrag, r.Lean)
			}
		}
	})
}

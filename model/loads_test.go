package model

import (
	"math"
	"testing"

	"stanchion/aero"
	"stanchion/holes/plane"
)

// For loads: past the stall at 17° of attack the maximum of 1.4625 stays, short of it the lift is its own.
// With a fit of 0.9 that has a body's 0.4 of the downforce left out of it, 0.9/0.6 = 1.5 times as much,
// of which the fit's own 0.9 is taken back where loads are unscaled: the curve's CL grows by 1.5.
func TestMostLiftByHand(t *testing.T) {
	table := plainTable(t, 5, 17) // 8° and 20° of attack
	car := table.Car.ForLoads()
	loads := *table
	loads.Car = car
	for i, want := range []float64{0.975, table.Wing.MaxLift} {
		if r := loads.RowAt(table.Rows[i].Position); math.Abs(r.CL-want) > 1e-6 {
			t.Errorf("%.0f° of attack: CL %.4f, want %.4f", r.Attack/plane.Deg, r.CL, want)
		}
	}
	if plain := table.Rows[1]; !(plain.CL < table.Wing.MaxLift-0.01) {
		t.Errorf("past the stall CL %.4f, not for loads", plain.CL)
	}
	p := *table.Rows[0].Position
	p.Deck = DeckEffect{Known: true, Low: DeckEnd{Lift: 0.3}, High: DeckEnd{Lift: 0.5}}
	car.TrackFit.Downforce = Scale{0.9, 0.05}
	if r := loads.RowAt(&p); math.Abs(r.CL-0.975*1.5) > 1e-9 {
		t.Errorf("with a fit and a body CL %.4f, want %.4f", r.CL, 0.975*1.5)
	}
	car.TrackFit.Downforce = Scale{0.5, 0.05} // 0.5/0.6 is less than was expected of the wing
	if r := loads.RowAt(&p); math.Abs(r.CL-0.975) > 1e-9 {
		t.Errorf("with a low fit CL %.4f, want 0.975", r.CL)
	}
}

// A flow that is guessed from the body's shape, 0.93 ± 0.06 behind a notchback, is that of the car's own
// speed at least; one that was measured stays. The wing is clean.
func TestForLoads(t *testing.T) {
	table := plainTable(t, 5)
	car := *table.Car
	car.Wing.Surface, car.BodyShape, car.FlowGuessed = aero.Dirty, Notchback, true
	most := car.ForLoads()
	if p, _ := most.Flow.At(0); p.Ratio != 1 || math.Abs(p.Angle-4*plane.Deg) > 1e-12 || most.Wing.Surface != aero.Clean || !most.Loads || !most.Wing.Loads {
		t.Errorf("flow %+v, surface %v", p, most.Wing.Surface)
	}
	if car.Loads || car.Wing.Surface != aero.Dirty {
		t.Error("asking changes the car")
	}
	car.FlowGuessed = false
	if p, _ := car.ForLoads().Flow.At(0); p.Ratio != 0.95 {
		t.Errorf("a measured flow becomes %+v", p)
	}
}

// By hand on the plain curve of 0.075 per degree: what 2° more or 1.5° less would make is found again;
// more than the maximum is not.
func TestTurnForByHand(t *testing.T) {
	table := plainTable(t, 5)
	r := &table.Rows[0]
	for _, turn := range []float64{2, -1.5, 0.1} {
		want := table.Turned(r, turn*plane.Deg).Downforce
		if by, ok := table.TurnFor(r, want); !ok || math.Abs(by/plane.Deg-turn) > 1e-6 {
			t.Errorf("%.1f°: found %.4f°, %v", turn, by/plane.Deg, ok)
		}
	}
	for _, never := range []float64{3 * r.Downforce, -10 * r.Downforce, math.NaN()} {
		if by, ok := table.TurnFor(r, never); ok {
			t.Errorf("%g N at %.2f°", never, by/plane.Deg)
		}
	}
	// A stall that comes sooner over a body: 8° of attack with a rise of a tenth feel 8 + 0.1·13 = 9.3°.
	p := *r.Position
	p.Deck = DeckEffect{Known: true, Low: DeckEnd{Rise: 0.1}, High: DeckEnd{Rise: 0.1}}
	if got := table.RowAt(&p); math.Abs(got.CL-0.075*(9.3+5)) > 1e-6 {
		t.Errorf("over a body CL %.4f, want %.4f", got.CL, 0.075*14.3)
	}
}

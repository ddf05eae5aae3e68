package measure_test

import (
	"math"
	"testing"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/given"
	"stanchion/model/measure"
	"stanchion/model/modeltest"
)

func downforce(c model.Contribution) float64 { return c.Downforce }

// By hand on the plain car: what a measurement leaves is the square root of what the others
// are, and what it reaches itself, squared.
func TestGainByHand(t *testing.T) {
	table := modeltest.Table(t, "coupe")
	i, ok := table.Index("1:k1+7:k2+3:k3+9:k4/A:F+A1:R")
	if !ok {
		t.Fatal("no such setting")
	}
	r := &table.Rows[i]
	b := table.Budget(r)
	if b.Drawn {
		t.Fatal("the setting is near the stall")
	}
	of := func(what string) float64 {
		for _, p := range b.Parts {
			if p.What == what {
				return p.Downforce
			}
		}
		t.Fatalf("nothing from the %s", what)
		return 0
	}
	want := map[measure.Kind]float64{
		// The file's flow is known to 1°, the measured one to 0.3°.
		measure.FlowAngle:  math.Sqrt(b.Downforce*b.Downforce - of(model.FromFlowAngle)*of(model.FromFlowAngle)*(1-0.09)),
		measure.SpeedRatio: math.Sqrt(b.Downforce*b.Downforce - of(model.FromSpeedRatio)*of(model.FromSpeedRatio)*(1-1./9)),
	}
	found := 0
	last := 0.0
	for _, g := range measure.One(table, r, downforce) {
		if g.After.Downforce < last {
			t.Errorf("%v leaves %.2f N after one that leaves %.2f N", g.Kind, g.After.Downforce, last)
		}
		last = g.After.Downforce
		if g.After.Downforce > 0.98*b.Downforce+1e-9 {
			t.Errorf("%v narrows ±%.2f to ±%.2f N, which is not worth telling", g.Kind, b.Downforce, g.After.Downforce)
		}
		if w, ok := want[g.Kind]; ok {
			found++
			if math.Abs(g.After.Downforce-w) > 0.02*w {
				t.Errorf("%v leaves %.2f N, want %.2f", g.Kind, g.After.Downforce, w)
			}
		}
	}
	if found != len(want) {
		t.Errorf("%d of %d measurements found", found, len(want))
	}
	if after := table.Budget(r); after.Downforce != b.Downforce || table.Car.Uncertainty.SetWithLevel {
		t.Error("asking changes the car")
	}
}

// What is known already is not asked for again, and of two settings only what differs counts:
// the speed ratio is off for both alike.
func TestWhatIsKnownIsNotAsked(t *testing.T) {
	car := modeltest.Car(t, "coupe")
	car.Uncertainty.SetWithLevel, car.Uncertainty.FlowAngle, car.Uncertainty.SpeedRatio = true, 0.2*plane.Deg, 0.005
	table, err := car.Map(car.Speed)
	if err != nil {
		t.Fatal(err)
	}
	r := &table.Rows[0]
	for _, g := range measure.One(table, r, downforce) {
		switch g.Kind {
		case measure.FlowAngle, measure.SpeedRatio, measure.Level, measure.FittedBolts:
			t.Errorf("%v is asked for again", g.Kind)
		}
	}
	plain := modeltest.Table(t, "coupe")
	a, _ := plain.Find("1:k1+7:k2+3:k3+9:k4/A:F+A1:R")
	b, _ := plain.Find("1:k1+7:k2+3:k3+9:k4/A:F+A2:R")
	if len(measure.Between(plain, a, b, downforce)) == 0 {
		t.Error("nothing tells two settings apart better")
	}
	// A joint that is not undone between them has no part in it: with the foot's holes alone off,
	// measuring them tells nothing.
	exact := *plain.Car
	exact.Uncertainty = model.Uncertainty{Default: map[string]bool{}, HolePosition: 0.3, SectionLift: given.Is(0)}
	exact.Uncertainty.PlayTaken = 1
	known, err := exact.Map(exact.Speed)
	if err != nil {
		t.Fatal(err)
	}
	a, b = known.RowAt(a.Position), known.RowAt(b.Position)
	foot := func(parts []model.Contribution) float64 {
		for _, p := range parts {
			if p.What == model.FromHoles+" of the foot" {
				return math.Abs(p.Downforce)
			}
		}
		t.Fatal("nothing from the holes of the foot")
		return 0
	}
	alone, apart := foot(known.Budget(a).Parts), foot(model.DifferenceParts(known.Budget(a), known.Budget(b)))
	if apart > 0.25*alone {
		t.Errorf("the foot is not undone, and its holes give ±%.2f N to the difference, ±%.2f N to each", apart, alone)
	}
}

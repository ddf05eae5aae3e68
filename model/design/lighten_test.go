package design

import (
	"context"
	"math"
	"os"
	"testing"

	"stanchion/holes/plane"
	"stanchion/model/fastener"
	"stanchion/model/given"
	"stanchion/model/modeltest"
	"stanchion/model/strength"
)

// TestLightened cuts openings into a plate for one angle, and looks at what is left by itself: lighter by the openings' area, no weaker, with the usual
// distances.
func TestLightened(t *testing.T) {
	p, _ := byHand(t, modeltest.Car(t, "coupe"), Wish{Low: 3 * plane.Deg, High: 3 * plane.Deg}, 3)
	top := math.Inf(1)
	for i := range p.Table.Rows {
		top = min(top, p.Table.Rows[i].Top)
	}
	p.Car.Limits.Top = given.Is(top + 1) // leaves one height to solve
	whole := p.Area
	l, err := p.Lighten(context.Background())
	if err != nil || l.Why != Lighter || len(l.Rounds) == 0 {
		t.Fatalf("%+v, %v", l, err)
	}
	cut := 0.0
	for i, r := range l.Rounds {
		area, _ := plane.Area(p.Plate().Cutouts[i])
		cut += area
		for _, h := range p.Plate().Holes {
			if metal := r.At.Distance(h.At()) - r.Radius - h.D/2; metal < fastener.Edge(h.D).Usual {
				t.Errorf("%.1f mm of metal between %s and a cut-out", metal, h.ID)
			}
		}
	}
	if kg, _ := strength.PlateMass(p.Plate()); l.After >= l.Before || kg != l.After || p.Area > whole-cut+1 || p.Area < whole-cut-1 {
		t.Errorf("%.3f kg after %.3f, area %.0f mm² after %.0f less %.0f", l.After, l.Before, p.Area, whole, cut)
	}
	if l.Uses > min(mostUsed, l.Used)+1e-3 {
		t.Errorf("%.3f of the strength used, %.3f before", l.Uses, l.Used)
	}
	if os.Getenv("DESIGN_LIGHTENED") == "" { // solved anew, from the car alone: some seconds
		return
	}
	f, err := strength.New(p.Car)
	if err != nil {
		t.Fatal(err)
	}
	s, err := f.SolveAll(context.Background(), false, strength.MostSolved)
	if err != nil || s.Verdict() != strength.Passes {
		t.Fatal(err, s.Verdict())
	}
	if used, _ := s.Worst.Used(); used.Utilisation() > l.Uses+1e-6 {
		t.Errorf("%.3f of the strength used, told %.3f", used.Utilisation(), l.Uses)
	}
}

// TestNotLightened: a plate of unknown material stays whole.
func TestNotLightened(t *testing.T) {
	p, _ := overTheLid(t)
	car := *p.Car
	car.Parts = append(car.Parts[:0:0], car.Parts...)
	car.Parts[1].Material = ""
	p.Car = &car
	l, err := p.Lighten(context.Background())
	if err != nil || l.Why != NotSettled || p.Plate().Cutouts != nil {
		t.Errorf("%+v, %v", l, err)
	}
}

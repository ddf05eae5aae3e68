package calibrate

import (
	"fmt"
	"math"
	"testing"

	"stanchion/holes/plane"
	"stanchion/model/given"
	"stanchion/model/logbook"
	"stanchion/model/modeltest"
)

// One rear ride height that is far off, near the stall, where the curve bends within a step: the fit settles
// or leaves it out, names it, and keeps the other.
func TestReadingFarOffIsNamed(t *testing.T) {
	car := modeltest.Car(t, "coupe")
	car.FrontRate, car.RearRate = given.Is(50), given.Is(45)
	table := modeltest.TableOf(t, car)
	setting := ""
	for i := range table.Rows {
		if r := &table.Rows[i]; r.StallMargin > 0 && r.StallMargin < 3*plane.Deg {
			setting = r.ID
		}
	}
	for _, rear := range []float64{18, 20, 26} {
		note := logbook.Blank()
		note.ID, note.Setting, note.Sink = "1", setting, logbook.Sink{Speed: 50, Front: -4, Rear: rear}
		l, err := Learn(table, []logbook.Note{note})
		if err != nil {
			t.Errorf("rear %g mm: %v", rear, err)
			continue
		}
		if s := l.Suspects(); len(s) != 1 || s[0].Kind != RearSink || !(s[0].Off > 2) {
			t.Errorf("rear %g mm: suspects %+v", rear, s)
		}
	}
}

// A problem whose plain steps from 0 overshoot, as the slope there is a hundredth of that where it ends, and whose
// bend is narrower than the differences: it ends where it predicts what is read, and a small step either
// way fits worse.
func TestStepsAreDamped(t *testing.T) {
	p := trackProblem{prior: []float64{10}, measured: []float64{4}, stdUnc: []float64{0.01}, predict: func(off []float64) []float64 {
		return []float64{3*math.Atan(5*(off[0]-3)) + 3*math.Atan(15)}
	}}
	sum := func(x float64) float64 {
		left := (p.measured[0] - p.predict([]float64{x})[0]) / p.stdUnc[0]
		return x*x/100 + left*left
	}
	s, err := p.solve()
	if err != nil {
		t.Fatal(err)
	}
	if at := sum(s.off[0]); at > sum(s.off[0]+0.01)+1e-6 || at > sum(s.off[0]-0.01)+1e-6 || math.Abs(p.predict(s.off)[0]-4) > 0.1 {
		t.Errorf("x = %.4f after %d steps, where it is %.4f", s.off[0], s.steps, p.predict(s.off)[0])
	}
}

// By hand: an unknown known to 2, read thrice to 1 as 1, 9 and −2: off by 1/√5, 9/√5 and −2/√5.
func TestFurthestReadingByHand(t *testing.T) {
	p := linear([]float64{2}, []float64{1, 9, -2}, []float64{1, 1, 1}, []float64{1}, []float64{1}, []float64{1})
	if at, off := p.furthest(); at != 1 || math.Abs(off-9/math.Sqrt(5)) > 1e-9 {
		t.Error(fmt.Sprint("reading ", at, " is ", off, " off"))
	}
	if at, _ := linear([]float64{2}, nil, nil).furthest(); at != -1 {
		t.Errorf("of none it is %d", at)
	}
}

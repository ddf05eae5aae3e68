package calibrate_test

import (
	"math"
	"strings"
	"testing"
	"time"

	"stanchion/model"
	"stanchion/model/calibrate"
	"stanchion/model/given"
	"stanchion/model/logbook"
	"stanchion/model/modeltest"
)

func noteOf(setting string) logbook.Note {
	n := logbook.Blank()
	n.ID, n.At, n.Setting = "2026-11-25.1", time.Date(2026, 11, 25, 10, 0, 0, 0, time.UTC), setting
	return n
}

// Ride heights and top speeds made with 0.85 of the downforce and 1.3 of the drag
// give those factors back, and the bands shrink when they are taken.
func TestLearn(t *testing.T) {
	car := modeltest.Car(t, "coupe")
	car.FrontRate, car.RearRate = given.Is(60), given.Is(50)
	truth := *car
	truth.TrackFit = model.TrackFit{Downforce: model.Scale{Factor: 0.85}, Drag: model.Scale{Factor: 1.3}}
	at := func(c *model.Car, id string, v float64) (*model.Table, *model.Row) {
		table, err := c.Map(v)
		if err != nil {
			t.Fatal(err)
		}
		i, ok := table.Index(id)
		if !ok {
			t.Fatalf("no setting %s", id)
		}
		return table, &table.Rows[i]
	}
	var notes []logbook.Note
	for _, id := range []string{"1:k1+7:k2+3:k3+9:k4/A:F+A2:R", "1:k1+7:k2+3:k3+9:k4/B:F+B2:R"} {
		n := noteOf(id)
		table, r := at(&truth, id, 55)
		q := 0.5 * table.Density * 55 * 55
		n.Sink = logbook.Sink{Speed: 55, Front: math.NaN(), Rear: (r.Change.Rear + q*car.RearDownforceArea) / 50}
		// Top speed by hand: P = ½ρ·CdA·v³ with the wing's drag in CdA.
		v := 60.0
		for range 20 {
			_, r := at(&truth, id, v)
			v = math.Cbrt(2 * car.Power.Value() / (table.Density * (car.DragArea.Value() + r.Drag/(0.5*table.Density*v*v))))
		}
		n.TopSpeed = v
		notes = append(notes, n)
	}
	l, err := calibrate.Learn(car, notes)
	if err != nil {
		t.Fatal(err)
	}
	// The true drag, 1.3 times what is estimated, leans a little on the rear axle too.
	if math.Abs(l.Downforce.Factor-0.85) > 0.01 || l.Downforce.StdUnc <= 0 || len(l.Used) != 4 {
		t.Errorf("downforce × %.4f ± %.4f, used %q", l.Downforce.Factor, l.Downforce.StdUnc, l.Used)
	}
	if math.Abs(l.Drag.Factor-1.3) > 0.02 {
		t.Errorf("drag × %.3f ± %.3f, want 1.3; %q", l.Drag.Factor, l.Drag.StdUnc, l.Notes)
	}
	// More lift is more induced drag, less of it less.
	_, plain := at(car, notes[0].Setting, 55)
	more := *car
	more.TrackFit.Downforce = model.Scale{Factor: 1.3}
	if _, r := at(&more, notes[0].Setting, 55); r.CD <= plain.CD {
		t.Errorf("CD %.4f with 1.3 of the lift, %.4f without", r.CD, plain.CD)
	}
	one := *car
	one.TrackFit.Downforce = model.Scale{Factor: 1, StdUnc: 0.1}
	table, err := one.Map(55)
	if err != nil {
		t.Fatal(err)
	}
	fitted := *car
	fitted.TrackFit = model.TrackFit{Downforce: model.Scale{Factor: 0.85, StdUnc: 0.02}, Drag: model.NoScale()}
	after, err := fitted.Map(55)
	if err != nil {
		t.Fatal(err)
	}
	i, _ := table.Index("1:k1+7:k2+3:k3+9:k4/A:F+A2:R")
	a, b := &table.Rows[i], &after.Rows[i]
	if math.Abs(b.CL/a.CL-0.85) > 1e-9 || !strings.Contains(after.Wing.From, "FITTED") {
		t.Errorf("CL %.4f from %.4f, %s", b.CL, a.CL, after.Wing.From)
	}
	if after.Budget(b).CL/b.CL >= table.Budget(a).CL/a.CL {
		t.Error("the band does not shrink")
	}
	if _, err := calibrate.Learn(car, []logbook.Note{noteOf(a.ID)}); err == nil {
		t.Error("nothing measured teaches something")
	}
}

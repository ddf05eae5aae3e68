package plan_test

import (
	"context"
	"math"
	"testing"
	"time"

	"stanchion/model/logbook"
	"stanchion/model/modeltest"
	"stanchion/model/plan"
)

// A day that is driven on a line of drift, B 0.4 s faster: the notes tell it to the hundredth, and what is not noted is left out.
func TestOutcomesByHand(t *testing.T) {
	table := modeltest.Table(t, "saloon")
	w := byFormulas()
	w.Date = time.Date(2026, 5, 31, 0, 0, 0, 0, time.UTC)
	p, err := plan.Make(context.Background(), table, w)
	if err != nil || p.Outcomes() != nil {
		t.Fatal(err, p.Outcomes())
	}
	k := p.Keep(plan.Kept{})
	var notes []logbook.Note
	for i, s := range p.Runs {
		if err := k.Mark(i+1, plan.Run, ""); err != nil {
			t.Fatal(err)
		}
		n := logbook.Blank()
		n.At, n.Setting = w.Date.Add(time.Duration(9+i)*time.Hour), p.Candidates[s.Setting].Row.ID
		at := 100 + 0.3*float64(i) - 0.4*float64(s.Setting)
		for _, d := range []float64{0.2, -0.2, -0.2, 0.2} {
			n.Laps = append(n.Laps, logbook.LapTime{Seconds: at + d})
		}
		n.Laps = append(n.Laps, logbook.LapTime{Seconds: 140, Mark: "in"})
		notes = append(notes, n)
	}
	follow := func(notes []logbook.Note) plan.Outcome {
		w, _ := k.Follow(table)
		w.Formulas, w.Notes = true, notes
		p, err := plan.Make(context.Background(), table, w)
		if err != nil || len(p.Outcomes()) != 1 {
			t.Fatal(err, p.Outcomes())
		}
		return p.Outcomes()[0]
	}
	if o := follow(notes); math.Abs(o.Difference+0.4) > 1e-9 || o.Half > 1e-6 || !o.Clear() || o.Runs != 6 {
		t.Errorf("got %+v, want −0.4 ± 0 by 6 runs", o)
	}
	if o := follow(notes[:5]); math.Abs(o.Difference+0.4) > 1e-9 || o.Runs != 5 {
		t.Errorf("without the last run: %+v", o)
	}
	if o := follow(notes[:3]); !math.IsNaN(o.Half) || o.Clear() {
		t.Errorf("by three runs: %+v", o)
	}
	notes[3].At = notes[3].At.AddDate(0, 0, 1)
	if o := follow(notes); o.Runs != 5 {
		t.Errorf("a note of another day counts: %+v", o)
	}
	notes[3].At = notes[3].At.AddDate(0, 0, -1)
	// Rain in the middle of the day: the laps of a wet track are 5 s slower whatever the setting. The last run was dry.
	for _, i := range []int{1, 2} {
		notes[i].ID, notes[i].Track = "wet", logbook.TrackWet
		for j := range notes[i].Laps {
			notes[i].Laps[j].Seconds += 5
		}
	}
	if o := follow(notes); math.Abs(o.Difference+0.4) > 1e-9 || o.Runs != 4 {
		t.Errorf("laps of a wet track count against those of a dry one: %+v", o)
	}
	w2, _ := k.Follow(table)
	w2.Formulas, w2.Notes = true, notes
	if p, err := plan.Make(context.Background(), table, w2); err != nil || len(p.LeftOut()) != 2 || p.LeftOut()[0].Note != "wet" {
		t.Errorf("left out: %+v, %v", p.LeftOut(), err)
	}
}

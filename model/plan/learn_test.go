package plan

import (
	"math"
	"testing"
	"time"

	"stanchion/model/laps"
	"stanchion/model/logbook"
)

// By hand: 12 min for 3 bolts and 8 min for 2 are 20 min for 5, 4 min each.
func TestPerBoltByHand(t *testing.T) {
	nan := math.NaN()
	if v := PerBolt([]float64{12, 8, nan, 5}, []float64{3, 2, 2, nan}); v.Of != 4 || v.From != 2 || v.Assumed() {
		t.Errorf("got %+v, want 4 by 2 notes", v)
	}
	if v := PerBolt([]float64{nan}, []float64{2}); !v.Assumed() || v.Of != UsualPerBolt {
		t.Errorf("without a note: %+v", v)
	}
}

// By hand: runs of four laps at m − d, m + d, m + d, m − d have a variance of 4d²/3 each, without a trend: with d = 0.3, 0.3464 s of laps.
// Two settings, each in runs of means 100, 101, 99 and 102, 103, 101: 1 s² between runs, less 0.12/4 by laps.
func TestScattersByHand(t *testing.T) {
	var day []laps.Run
	for _, r := range []struct {
		setting string
		mean    float64
	}{{"a", 100}, {"a", 101}, {"a", 99}, {"b", 102}, {"b", 103}, {"b", 101}} {
		one := laps.Run{Setting: r.setting}
		for _, d := range []float64{-0.3, 0.3, 0.3, -0.3} {
			one.Laps = append(one.Laps, laps.Lap{Time: r.mean + d})
		}
		day = append(day, one)
	}
	lap, run := Scatters([][]laps.Run{day})
	if math.Abs(lap.Of-math.Sqrt(4*0.09/3)) > 1e-9 || lap.From != 6 {
		t.Errorf("laps scatter by %+v, want %.4f", lap, math.Sqrt(0.12))
	}
	if want := math.Sqrt(1 - 0.12/4); math.Abs(run.Of-want) > 1e-9 || run.From != 6 {
		t.Errorf("runs scatter by %+v, want %.4f", run, want)
	}
	if lap, run := Scatters(nil); !lap.Assumed() || !math.IsNaN(run.Of) {
		t.Errorf("without runs: %+v, %+v", lap, run)
	}
}

// Notes of a day that say that something was run, and the times of one person.
func TestFromNotes(t *testing.T) {
	day := time.Date(2026, 5, 31, 9, 0, 0, 0, time.UTC)
	note := func(change func(*logbook.Note)) logbook.Note {
		n := logbook.Blank()
		n.At, n.Setting = day, "x"
		change(&n)
		return n
	}
	notes := []logbook.Note{
		note(func(n *logbook.Note) { n.Minutes, n.BoltsMoved, n.ChangedBy = 12, 2, "Kim" }),
		note(func(n *logbook.Note) { n.Minutes, n.BoltsMoved, n.ChangedBy, n.LapsRun = 4, 2, "Sam", 8 }),
		note(func(n *logbook.Note) { n.Fitted = true }),
		note(func(n *logbook.Note) { n.Feel.Fast, n.Setting = logbook.Whole(1), "y" }),
		note(func(n *logbook.Note) { n.TopSpeed, n.At = 50, day.AddDate(0, 0, 1) }),
	}
	if v, _, _ := LearnFrom(notes, "sam", 2); v.Of != 1 {
		t.Errorf("Sam takes %g min for a bolt, want 1: 4 min for 2 bolts at each of two uprights", v.Of)
	}
	if v, _, _ := LearnFrom(notes, "", 1); v.Of != 4 {
		t.Errorf("all take %g min, want 4", v.Of)
	}
	if ids := RunsNoted(notes, "2026-05-31"); len(ids) != 2 || ids[0] != "x" || ids[1] != "y" {
		t.Errorf("run that day: %v", ids)
	}
}

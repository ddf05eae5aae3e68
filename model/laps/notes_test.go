package laps

import (
	"math"
	"slices"
	"testing"

	"stanchion/model/logbook"
)

// By hand: laps of 100.0 and 100.4 s, an out-lap, and a lap that is 20 s off the others: what counts spans 100.0 to 100.4 s. A single lap is
// no run.
func TestRunsOfNotes(t *testing.T) {
	note := func(id, setting string, laps ...logbook.LapTime) logbook.Note {
		n := logbook.Blank()
		n.ID, n.Setting, n.Laps = id, setting, laps
		return n
	}
	only := note("c", "2", logbook.LapTime{Seconds: 90})
	bolted := note("d", "2", logbook.LapTime{Seconds: 90}, logbook.LapTime{Seconds: 91})
	bolted.Fitted = true
	runs := OfNotes([]logbook.Note{
		note("a", "1", logbook.LapTime{Seconds: 110, Mark: logbook.MarkOut}, logbook.LapTime{Seconds: 100}, logbook.LapTime{Seconds: 100.4}, logbook.LapTime{Seconds: 100.2}, logbook.LapTime{Seconds: 120.2}),
		note("b", "1"), only, bolted, note("e", "", logbook.LapTime{Seconds: 90}),
	})
	if len(runs) != 2 || runs[0].Name != "a" || runs[1].Name != "c" || runs[0].Setting != "1" || !slices.Equal(runs[0].Laps[:2], []Lap{{Time: 110, Mark: "out"}, {Time: 100}}) {
		t.Fatalf("runs %+v", runs)
	}
	a := Analyse(runs)
	if lo, hi := a.Span(); lo != 100 || hi != 100.4 {
		t.Errorf("from %.2f to %.2f", lo, hi)
	}
	sum := 0.0
	a.Runs[0].Counting(func(s float64) { sum += s })
	if math.Abs(sum-300.6) > 1e-9 || len(a.Differences()) != 0 {
		t.Errorf("what counts is %.2f s, %d differences", sum, len(a.Differences()))
	}
	if lo, _ := Analyse(nil).Span(); !math.IsNaN(lo) {
		t.Error("no laps span something")
	}
	// Three settings: each pair once, the two fastest first.
	three := Analyse([]Run{flat("c", 102, 3), flat("a", 100, 3), flat("b", 101, 3)}).Differences()
	if len(three) != 3 || three[0].A != "a" || three[0].B != "b" || three[1].B != "c" || three[2].A != "b" {
		t.Errorf("%+v", three)
	}
}

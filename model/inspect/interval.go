package inspect

import "stanchion/model"

// Intervals are after how much each thing is due again.
type Intervals struct {
	Laps      int // torque, cracks, inserts, end plates
	Sessions  int // runs: what is quick to look at
	Days      int // everything
	FirstLaps int // of a newly bolted setting: torque
	RunLaps   int // what a run counts as whose note has no laps
}

// usual is what holds where a car file says nothing. Common practice, no source: torque once more after the first laps, since
// paint and surfaces settle; a look around after each run; a spanner on everything about once a track day of four runs.
var usual = Intervals{Laps: 40, Sessions: 1, Days: 30, FirstLaps: 5, RunLaps: 10}

// IntervalsOf are a car's.
func IntervalsOf(c *model.Car) Intervals {
	k := c.Checks
	or := func(x interface{ Or(float64) float64 }, otherwise int) int { return int(x.Or(float64(otherwise))) }
	return Intervals{or(k.Laps, usual.Laps), or(k.Sessions, usual.Sessions), or(k.Days, usual.Days), or(k.FirstLaps, usual.FirstLaps),
		or(k.RunLaps, usual.RunLaps)}
}

package plan

import (
	"math"

	"stanchion/model/laps"
)

// Value is a number and where it comes from.
type Value struct {
	Of    float64
	Given bool // by the person
	From  int  // how many notes or runs it was learned from; 0 for none
}

// Assumed reports whether nobody said it and nothing told it.
func (v Value) Assumed() bool { return !v.Given && v.From == 0 }

// What is taken where nothing tells. Common practice, no source: a bolt out, over and in again, with washers and torque, in a paddock; a
// driver at track days, on worn tyres, in traffic; and about half as much again from run to run, by tyres, fuel, traffic and the driver.
const (
	UsualPerBolt = 3.0 // minutes
	UsualScatter = 0.4 // s
	runsOfLaps   = 0.5
)

// leastFree is from how many degrees of freedom on a scatter is taken from notes.
const leastFree = 4

// PerBolt is how long a bolt takes by changes that were noted: minutes and bolts of each.
func PerBolt(minutes, bolts []float64) Value {
	var sum, moved float64
	n := 0
	for i := range minutes {
		if minutes[i] > 0 && bolts[i] > 0 {
			sum, moved, n = sum+minutes[i], moved+bolts[i], n+1
		}
	}
	if n == 0 {
		return Value{Of: UsualPerBolt}
	}
	return Value{Of: sum / moved, From: n}
}

// Scatters are those of laps within a run and of runs beyond that, by timed runs of days; each day is a list of runs. A scatter that they
// do not tell is the usual one.
func Scatters(days [][]laps.Run) (lap, run Value) {
	var lapSquares, lapFree, runSquares, runFree, byLaps float64
	timed, repeated := 0, 0
	for _, day := range days {
		a := laps.Analyse(day)
		if free := a.Free(); free > 0 && !math.IsNaN(a.Scatter) {
			lapSquares, lapFree = lapSquares+a.Scatter*a.Scatter*float64(free), lapFree+float64(free)
		}
		for _, setting := range a.Settings {
			var means, shares []float64
			for i := range a.Runs {
				if j := &a.Runs[i]; j.Setting == setting && j.N >= 2 {
					means, shares = append(means, j.Mean), append(shares, 1/float64(j.N))
					timed++
				}
			}
			if len(means) < 2 {
				continue
			}
			repeated += len(means)
			middle := sum(means) / float64(len(means))
			for _, m := range means {
				runSquares += (m - middle) * (m - middle)
			}
			free := float64(len(means) - 1)
			runFree += free
			byLaps += free * sum(shares) / float64(len(shares))
		}
	}
	lap, run = Value{Of: UsualScatter}, Value{Of: math.NaN()}
	if lapFree >= leastFree {
		lap = Value{Of: math.Sqrt(lapSquares / lapFree), From: timed}
	}
	if runFree >= leastFree {
		run = Value{Of: math.Sqrt(max(0, runSquares/runFree-lap.Of*lap.Of*byLaps/runFree)), From: repeated}
	}
	return lap, run
}

func sum(all []float64) (s float64) {
	for _, x := range all {
		s += x
	}
	return s
}

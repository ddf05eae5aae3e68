package inspect

import (
	"math"

	"stanchion/model/logbook"
)

// Driven is how much was driven by what is noted. What was not noted is not in it.
type Driven struct {
	Runs    int
	Laps    int  // those that are noted, and RunLaps for each run that says none
	Known   int  // those that are noted
	Silent  int  // runs that say no laps
	Checked bool // torque was checked after the first of them
}

// and is with what one note says was driven.
func (d Driven) and(n *logbook.Note, every Intervals) Driven {
	if n.Setting == "" || n.Fitted {
		return d
	}
	d.Runs++
	laps, ok := LapsOf(n)
	if ok {
		d.Known += laps
	} else {
		d.Silent++
		laps = every.RunLaps
	}
	d.Laps += laps
	return d
}

// LapsOf is how many laps a run was, by its note: the number, or how many were timed, whichever is more; ok is false where it says
// neither.
func LapsOf(n *logbook.Note) (laps int, ok bool) {
	x := n.LapsRun
	if timed := float64(len(n.Laps)); timed > 0 && !(x >= timed) {
		x = timed
	}
	if !(x >= 0) {
		return 0, false
	}
	return int(math.Ceil(x)), true
}

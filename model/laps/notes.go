package laps

import (
	"math"

	"stanchion/model/logbook"
)

// OfNotes makes runs of the notes that have lap times and a setting, in their order. A run goes by the id of its note.
func OfNotes(notes []logbook.Note) (runs []Run) {
	for _, n := range notes {
		if len(n.Laps) == 0 || n.Setting == "" || n.Fitted {
			continue
		}
		r := Run{Name: n.ID, Setting: n.Setting}
		for _, l := range n.Laps {
			r.Laps = append(r.Laps, Lap{Time: l.Seconds, Mark: l.Mark})
		}
		runs = append(runs, r)
	}
	return runs
}

// Differences compares all settings that have a mean, each with those that were slower, the two fastest first.
func (a *Analysis) Differences() (all []Difference) {
	order := a.Fastest()
	for i, one := range order {
		for _, other := range order[i+1:] {
			all = append(all, a.Compare(one, other))
		}
	}
	return all
}

// Counting visits the laps of a run that count, s.
func (j *Judged) Counting(visit func(time float64)) {
	j.each(func(_ int, t float64) { visit(t) })
}

// Span is from the fastest to the slowest lap that counts, of runs that have a mean, s; NaN where there are none.
func (a *Analysis) Span() (least, most float64) {
	least, most = math.NaN(), math.NaN()
	for i := range a.Runs {
		if a.Runs[i].N >= leastLaps {
			a.Runs[i].Counting(func(t float64) {
				if !(least <= t) {
					least = t
				}
				if !(most >= t) {
					most = t
				}
			})
		}
	}
	return least, most
}

package choose

import (
	"math"
	"slices"

	"stanchion/model"
	"stanchion/model/logbook"
)

// BoltsMoved returns how many bolts are moved at one of the two uprights from the setting of the last of the notes
// to the one with the id; NaN where no note has a setting that the car has still, or the id is none.
func BoltsMoved(t *model.Table, notes []logbook.Note, id string) float64 {
	to, ok := t.Find(id)
	if !ok {
		return math.NaN()
	}
	for i := len(notes) - 1; i >= 0; i-- {
		if notes[i].Setting == "" {
			continue
		}
		from, ok := t.Find(notes[i].Setting)
		if !ok {
			return math.NaN()
		}
		return float64(Moves(from.Setting, to.Setting))
	}
	return math.NaN()
}

// MinutesPerBolt is what one bolt moved at one upright takes, with the same at the other, as the notes have it: the median over
// changes with minutes and bolts noted, and how many those are; NaN where there is none. by is whose changes count, all where it is "".
func MinutesPerBolt(notes []logbook.Note, by string) (minutes float64, changes int) {
	var each []float64
	for _, n := range notes {
		if n.Minutes > 0 && n.BoltsMoved > 0 && (by == "" || by == n.ChangedBy) {
			each = append(each, n.Minutes/n.BoltsMoved)
		}
	}
	slices.Sort(each)
	if n := len(each); n > 0 {
		return (each[(n-1)/2] + each[n/2]) / 2, n
	}
	return math.NaN(), 0
}

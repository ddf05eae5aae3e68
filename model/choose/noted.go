package choose

import (
	"math"

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

package choose

import (
	"fmt"
	"math"

	"stanchion/model"
	"stanchion/model/logbook"
	"stanchion/model/units"
)

// Advice is which setting to try next, after what was noted.
type Advice struct {
	From *model.Row // the setting that was noted, with its own bolts; nil when it is gone
	To   *model.Row // in the way that moves the fewest bolts; nil when the wing cannot help
	Why  string
}

// Next works out the next setting to try from the last note that says how a
// setting felt: the smallest change of front share in the wanted direction that
// is larger than it is uncertain, within the limits and short of the stall. Too
// much grip in front asks for a smaller front share, that is for more wing.
// A setting that earlier notes found to be too much of the change is not gone
// back to, nor beyond; one that lifts or is stalled is never proposed. Common practice, no source: a wing is judged in fast
// corners.
func Next(t *model.Table, notes []logbook.Note) (Advice, error) {
	for i := len(notes) - 1; i >= 0; i-- {
		n := notes[i]
		k, ok := t.Find(n.Setting)
		if !n.Feel.Known() {
			continue
		}
		if !ok {
			return Advice{nil, nil, fmt.Sprintf("Note %s is the last that says how a setting felt, and the car file no longer gives its setting %s. Note the setting that is on the car now.", n.ID, units.Printable(n.Setting))}, nil
		}
		balance, both := n.Feel.Balance()
		_, fast := n.Feel.FastBalance()
		switch {
		case !both || !fast && (n.Feel.FrontFast != logbook.NoFeel || n.Feel.RearFast != logbook.NoFeel):
			return Advice{k, nil, fmt.Sprintf("Note %s says how one end felt and not the other. Note both, best in fast corners.", n.ID)}, nil
		case balance == 0:
			return Advice{k, k, fmt.Sprintf("In note %s both ends felt alike. There is nothing for the wing to change.", n.ID)}, nil
		case !fast:
			return Advice{k, nil, fmt.Sprintf("Note %s is about slow corners, where the wing does little. Change something else first, or note fast corners.", n.ID)}, nil
		}
		return nextFrom(t, k, balance, n.ID, overshot(t, notes[:i], k, balance)), nil
	}
	return Advice{}, fmt.Errorf("no note says how a setting felt")
}

// overshot returns the nearest setting in the wanted direction that a note found
// to be too far the other way.
func overshot(t *model.Table, notes []logbook.Note, from *model.Row, balance int) bound {
	b := bound{math.Inf(1), nil, ""}
	for _, n := range notes {
		k, ok := t.Find(n.Setting)
		other, felt := n.Feel.FastBalance()
		if !ok || !felt || other*balance >= 0 {
			continue
		}
		if c := wanted(balance, k.Share-from.Share); c > 0 && c < b.change {
			b = bound{c, k, n.ID}
		}
	}
	return b
}

// bound is a change that was too much, and the note that says so.
type bound struct {
	change float64
	row    *model.Row // nil for none
	note   string
}

// wanted is a change of front share, positive in the direction that is asked for:
// with more grip in front, a smaller share.
func wanted(balance int, change float64) float64 {
	if balance > 0 {
		return -change
	}
	return change
}

func nextFrom(t *model.Table, r *model.Row, balance int, id string, tooMuch bound) Advice {
	bands := t.Budget(r)
	best, work, way := -1, 0, ""
	for i := range t.Rows {
		o := &t.Rows[i]
		change := wanted(balance, o.Share-r.Share)
		if k := tooMuch.row; k != nil && tooMuch.change-change <= model.DifferenceStdUnc(t.Budget(o), t.Budget(k)).Share {
			continue // no less than what was too much
		}
		if !o.Within() || o.Stalled || o.Lifts() || math.IsNaN(change) || change <= model.DifferenceStdUnc(t.Budget(o), bands).Share {
			continue
		}
		as, w := FewestMoves(r.Setting, o.Setting)
		if best >= 0 {
			than := math.Abs(t.Rows[best].Share - r.Share)
			if change > than+balanceStep/2 || change > than-balanceStep/2 && w >= work {
				continue
			}
		}
		best, work, way = i, w, as
	}
	felt, wants := "the front had more grip than the rear", "more wing"
	if balance < 0 {
		felt, wants = "the rear had more grip than the front", "less wing"
	}
	if best < 0 && tooMuch.note != "" {
		return Advice{r, nil, fmt.Sprintf("In note %s %s in fast corners, in note %s it was the other way. No setting between the two can be told from both: run the one you prefer and change something else, the wing cannot do finer.", id, felt, tooMuch.note)}
	}
	if best < 0 {
		return Advice{r, nil, fmt.Sprintf("In note %s %s in fast corners, which asks for %s. No setting within the limits has enough of it to be felt: change something else, the wing cannot do this.", id, felt, wants)}
	}
	less := ""
	o, _ := t.Find(way)
	if tooMuch.row != nil {
		less = ", short of what note " + tooMuch.note + " found too much"
	}
	return Advice{r, o, fmt.Sprintf("In note %s %s in fast corners, which asks for %s. This is the smallest step that is larger than it is uncertain%s: front share %s points.",
		id, felt, wants, less, units.Signed(100*(o.Share-r.Share), 1))}
}

// AdviceCautions go with every advice.
const AdviceCautions = "One change at a time, build up speed, and look at every bolt after the first laps."

package choose

import (
	"fmt"
	"math"

	"stanchion/model"
	"stanchion/model/logbook"
)

// Finding is what notes say of the next setting to try.
type Finding int

// The findings.
const (
	TryNext       Finding = iota // To is the smallest step that can be felt
	SettingGone                  // the setting that was noted is no longer in the car file
	OneEndOnly                   // the note says how one end felt and not the other
	FeltNeutral                  // there is nothing for the wing to change
	SlowOnly                     // the note is about slow corners, where the wing does little
	NoneBetween                  // no setting lies between two that were too much either way
	NoneFarEnough                // no setting that keeps all limits changes enough
)

// Advice is which setting to try next, after what was noted.
type Advice struct {
	Finding   Finding
	Note      string     // id of the note that it rests on
	Setting   string     // id of the setting that was noted
	From      *model.Row // that setting, with its own bolts; nil when it is gone
	To        *model.Row // in the way that moves the fewest bolts; nil when the wing cannot help
	Oversteer bool       // in fast corners; else understeer
	TooMuch   string     // id of the note that found a step too much; "" for none
}

// Proposes reports whether there is another setting to try.
func (a Advice) Proposes() bool { return a.Finding == TryNext }

// Next works out the next setting to try from the last note that says how a
// setting felt: the smallest change of front share in the wanted direction that
// is larger than it is uncertain, that keeps all limits and is short of the stall.
// Oversteer asks for a smaller front share, that is for more wing. A setting that earlier
// notes found to be too much of the change is not gone back to, nor beyond; one that lifts
// or is stalled is never proposed. Common practice, no source: a wing is judged in fast
// corners.
func Next(t *model.Table, notes []logbook.Note) (Advice, error) {
	for i := len(notes) - 1; i >= 0; i-- {
		n := notes[i]
		if !n.Feel.Known() {
			continue
		}
		a := Advice{Note: n.ID, Setting: n.Setting}
		k, ok := t.Find(n.Setting)
		if !ok {
			a.Finding = SettingGone
			return a, nil
		}
		a.From = k
		balance, both := n.Feel.Balance()
		_, fast := n.Feel.FastBalance()
		switch {
		case !both || !fast && (n.Feel.FrontFast != logbook.NoFeel || n.Feel.RearFast != logbook.NoFeel):
			a.Finding = OneEndOnly
		case balance == 0:
			a.Finding, a.To = FeltNeutral, k
		case !fast:
			a.Finding = SlowOnly
		default:
			a.Oversteer = balance > 0
			return a.from(t, balance, overshot(t, notes[:i], k, balance)), nil
		}
		return a, nil
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

// from finds the smallest step from the setting that was noted.
func (a Advice) from(t *model.Table, balance int, tooMuch bound) Advice {
	r := a.From
	budget := t.Budget(r)
	best, work, way := -1, 0, ""
	for i := range t.Rows {
		o := &t.Rows[i]
		change := wanted(balance, o.Share-r.Share)
		if k := tooMuch.row; k != nil && tooMuch.change-change <= model.DifferenceStdUnc(t.Budget(o), t.Budget(k)).Share {
			continue // no less than what was too much
		}
		if !o.Within() || o.Stalled || o.Lifts() || math.IsNaN(change) || change <= model.DifferenceStdUnc(t.Budget(o), budget).Share {
			continue
		}
		as, least := LeastWork(r.Setting, o.Setting)
		w := least.Moved
		if best >= 0 {
			than := math.Abs(t.Rows[best].Share - r.Share)
			if change > than+balanceStep/2 || change > than-balanceStep/2 && w >= work {
				continue
			}
		}
		best, work, way = i, w, as
	}
	a.TooMuch = tooMuch.note
	switch {
	case best < 0 && tooMuch.note != "":
		a.Finding = NoneBetween
	case best < 0:
		a.Finding = NoneFarEnough
	default:
		a.Finding = TryNext
		a.To, _ = t.Find(way)
	}
	return a
}

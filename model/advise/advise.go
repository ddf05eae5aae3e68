// Package advise answers: what to try next, does it hold, and would a new hole do better? It puts
// beside the step that notes ask for (model/choose) what strength says of it, and, where no setting
// lies between two that were too much either way, the hole that would give one (model/drill).
package advise

import (
	"context"
	"slices"

	"stanchion/model"
	"stanchion/model/choose"
	"stanchion/model/logbook"
	"stanchion/model/strength"
)

// Advice is what to try next.
type Advice struct {
	choose.Advice

	Analysis      *strength.Analysis // nil where strength cannot be checked
	WhyUnchecked  error              // why it cannot
	Now, Proposed strength.Verdict   // of the setting noted and of the proposed one
	PassedOver    []choose.Candidate // less work or nearer to what is wanted, and weaker than what is on the car

	Hole *Hole // of choose.NoneBetween: nil where none was asked for
}

// Weaker reports whether the proposed setting has a weaker verdict than the one noted.
func (a *Advice) Weaker() bool { return a.Proposes() && rank(a.Proposed) < rank(a.Now) }

// rank orders verdicts, the weakest first.
func rank(v strength.Verdict) int {
	return map[strength.Verdict]int{strength.DoesNotHold: 0, strength.NotChecked: 1, strength.Passes: 2}[v]
}

// maxTried is how many steps that count as equal are looked at for one that is no weaker.
const maxTried = 6

// Next works out the next setting to try, and its strength. Of the steps that count as equal it
// takes the first whose verdict is no weaker than that of the setting noted, or the first of all
// where each is weaker. Where drill is not nil and no setting lies between two that were too much
// either way, it looks for a hole that gives one. It ends with the context's error when that is
// cancelled.
func Next(ctx context.Context, t *model.Table, notes []logbook.Note, w choose.Wish, drill *Drill) (Advice, error) {
	step, err := choose.Next(t, notes, w)
	a := Advice{Advice: step}
	if err != nil {
		return a, err
	}
	switch {
	case a.Proposes():
		err = a.hold(ctx, t)
	case a.Finding == choose.NoneBetween && drill != nil:
		a.Hole, err = drill.between(ctx, t, &a.Advice)
	}
	return a, err
}

// hold looks up how the setting noted and the steps that count as equal hold, and chooses among these.
func (a *Advice) hold(ctx context.Context, t *model.Table) (err error) {
	a.Analysis, a.WhyUnchecked = strength.Single(t.Car)
	if a.Analysis == nil || a.Analysis.Slower(t.Speed) {
		return nil // nothing is checked of either
	}
	return a.weigh(func(r *model.Row) (strength.Verdict, error) { return a.verdict(ctx, r) })
}

// weigh takes the first of the steps that count as equal that is no weaker than the setting noted.
func (a *Advice) weigh(verdict func(*model.Row) (strength.Verdict, error)) (err error) {
	if a.Now, err = verdict(a.From); err != nil {
		return err
	}
	if a.Proposed, err = verdict(a.To); err != nil {
		return err
	}
	for i := 0; i < min(len(a.Equal), maxTried-1) && a.Weaker(); i++ {
		c := a.Equal[i]
		v, err := verdict(c.Row)
		if err != nil {
			return err
		}
		if rank(v) >= rank(a.Now) {
			a.PassedOver = append([]choose.Candidate{a.Candidate}, a.Equal[:i]...)
			a.Candidate, a.To, a.Proposed = c, c.Row, v
			a.Equal = a.Equal[i+1:]
			a.notNamedTwice()
			break
		}
	}
	return nil
}

// notNamedTwice drops what is named beside the step for its size or work where it is the step now, or was
// passed over.
func (a *Advice) notNamedTwice() {
	named := func(c *choose.Candidate) bool {
		return c != nil && (c.Row.ID == a.To.ID || slices.ContainsFunc(a.PassedOver, func(p choose.Candidate) bool { return p.Row.ID == c.Row.ID }))
	}
	if named(a.Nearer) {
		a.Nearer = nil
	}
	if named(a.Lighter) {
		a.Lighter = nil
	}
}

// verdict says how a row of the table holds. One whose strength cannot be worked out is not checked.
func (a *Advice) verdict(ctx context.Context, r *model.Row) (strength.Verdict, error) {
	res, err := a.Analysis.Enough(ctx, a.Analysis.Table.RowAt(r.Position))
	if ctx.Err() != nil {
		return strength.NotChecked, ctx.Err()
	}
	if err != nil {
		return strength.NotChecked, nil
	}
	return res.Verdict(), nil
}

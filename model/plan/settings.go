package plan

import (
	"cmp"
	"context"
	"math"
	"slices"

	"stanchion/model"
	"stanchion/model/choose"
	"stanchion/model/strength"
)

// Candidate is a setting that is planned.
type Candidate struct {
	Row     *model.Row
	Verdict strength.Verdict
	Tight   []choose.Tight // limits that it keeps, but not clearly
}

// Bar is why a setting is not planned.
type Bar int

// The reasons.
const (
	BreaksLimit Bar = iota
	FiguresUnknown
	WingLifts
	WingStalled
	NotStrong
	NoChangeInBreak // every change to it takes longer than the break
)

// Barred is a setting that was named and is not planned.
type Barred struct {
	Row *model.Row
	Why Bar
}

// mostWeighed is how many settings are looked at, evenly from all that may be run by their figures.
const mostWeighed = 60

// atLeast is the part of the largest difference that one with less work must have to be taken in its place.
const atLeast = 0.8

// chooser picks settings.
type chooser struct {
	p        *Plan
	ctx      context.Context
	budgets  map[*model.Row]model.Budget
	verdicts map[*model.Row]strength.Verdict
}

// candidates finds the settings of the day, the safest first.
func (p *Plan) candidates(ctx context.Context) error {
	c := &chooser{p, ctx, map[*model.Row]model.Budget{}, map[*model.Row]strength.Verdict{}}
	rows := p.Named
	if len(rows) == 0 {
		var err error
		if rows, err = c.chosen(); err != nil {
			return err
		}
	}
	for _, r := range rows {
		why, barred, err := c.barred(r)
		if err != nil {
			return err
		}
		if !barred && p.index(r.ID) < 0 {
			v, _ := c.verdict(r)
			b := c.budget(r)
			p.Candidates = append(p.Candidates, Candidate{r, v, choose.TightLimits(p.Table, r, &b)})
		} else if barred {
			p.Barred = append(p.Barred, Barred{r, why})
		}
	}
	p.withoutChange()
	if len(p.Candidates) < 2 {
		if len(p.Named) > 0 {
			return barredError{p.Barred}
		}
		return ErrFew
	}
	if len(p.Past) == 0 { // once a session is over, A stays A: a printed sheet goes by the letters
		slices.SortStableFunc(p.Candidates, safer)
	}
	return nil
}

// barredError is ErrBarred with what is barred.
type barredError struct{ Barred []Barred }

func (barredError) Error() string   { return ErrBarred.Error() }
func (barredError) Is(e error) bool { return e == ErrBarred }

// BarredOf lists what kept a plan with named settings from being made.
func BarredOf(err error) []Barred {
	if b, ok := err.(barredError); ok {
		return b.Barred
	}
	return nil
}

// withoutChange bars what no change to fits a break.
func (p *Plan) withoutChange() {
	if len(p.Candidates) < 2 {
		return
	}
	all := slices.Clone(p.Candidates)
	p.Candidates = slices.DeleteFunc(p.Candidates, func(c Candidate) bool {
		can := slices.ContainsFunc(all, func(o Candidate) bool {
			return o.Row != c.Row && p.fits(choose.WorkOf(o.Row.Setting, c.Row.Setting))
		})
		if !can {
			p.Barred = append(p.Barred, Barred{c.Row, NoChangeInBreak})
		}
		return !can
	})
}

// kept is how clearly a candidate keeps the limit, or stays off the stall, that it keeps least.
func (c Candidate) kept() choose.Clarity {
	least := choose.Clear
	for _, l := range c.Tight {
		least = min(least, max(choose.NoClearDifference, choose.ClarityOf(l.Have-l.Allowed, l.StdUnc)))
	}
	return least
}

// safer orders candidates: what passes for strength first, then what keeps its limits more clearly, then the most load at the rear, which is
// the most stable at speed while the wing does not stall.
func safer(a, b Candidate) int {
	rank := map[strength.Verdict]int{strength.Passes: 0, strength.NotChecked: 1, strength.DoesNotHold: 2}
	return cmp.Or(cmp.Compare(rank[a.Verdict], rank[b.Verdict]), cmp.Compare(b.kept(), a.kept()),
		cmp.Compare(a.Row.Share, b.Row.Share), cmp.Compare(b.Row.Downforce, a.Row.Downforce))
}

func (c *chooser) budget(r *model.Row) model.Budget {
	b, ok := c.budgets[r]
	if !ok {
		b = c.p.Table.Budget(r)
		c.budgets[r] = b
	}
	return b
}

// verdict says how a setting holds; above the design speed it is not checked, save where it does not hold anyway.
func (c *chooser) verdict(r *model.Row) (strength.Verdict, error) {
	f := c.p.Analysis
	if f == nil {
		return strength.NotChecked, nil
	}
	if v, ok := c.verdicts[r]; ok {
		return v, nil
	}
	row := f.Table.RowAt(r.Position)
	res, err := f.Best(row)
	if !c.p.Formulas {
		res, err = f.Enough(c.ctx, row)
	}
	if c.ctx.Err() != nil {
		return strength.NotChecked, c.ctx.Err()
	}
	v := strength.NotChecked
	if err == nil {
		if v = res.Verdict(); v == strength.Passes && f.Slower(c.p.Table.Speed) {
			v = strength.NotChecked
		}
	}
	c.verdicts[r] = v
	return v, nil
}

// barred says why a setting may not be planned.
func (c *chooser) barred(r *model.Row) (why Bar, barred bool, err error) {
	switch {
	case r.NoForces() || math.IsNaN(r.Share):
		return FiguresUnknown, true, nil
	case r.Lifts():
		return WingLifts, true, nil
	case r.Stalled:
		return WingStalled, true, nil
	case r.Breaks():
		return BreaksLimit, true, nil
	}
	v, err := c.verdict(r)
	return NotStrong, v == strength.DoesNotHold, err
}

// byFigures lists the settings that may be run as far as their figures and limits go.
func (c *chooser) byFigures() (all []*model.Row) {
	t := c.p.Table
	for i := range t.Rows {
		if r := &t.Rows[i]; r.Within() && !r.Stalled && !r.Lifts() && !math.IsNaN(r.Share) {
			all = append(all, r)
		}
	}
	return all
}

// base is the setting that the others are chosen about: that on the car where it may be run, else the one with the most downforce.
func (c *chooser) base(all []*model.Row) (*model.Row, error) {
	order := slices.Clone(all)
	slices.SortStableFunc(order, func(a, b *model.Row) int { return cmp.Compare(b.Downforce, a.Downforce) })
	if r, ok := c.p.Table.Find(c.p.OnCar); ok && c.p.OnCar != "" {
		order = slices.Insert(order, 0, r)
	}
	for _, r := range order {
		if _, barred, err := c.barred(r); err != nil || !barred {
			return r, err
		}
	}
	return nil, ErrFew
}

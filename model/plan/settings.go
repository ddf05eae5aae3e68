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

// distance is by how much two settings differ in what the day is to find out, and how clearly.
func (c *chooser) distance(a, b *model.Row) (d float64, apart choose.Clarity) {
	of := model.DifferenceStdUnc(c.budget(a), c.budget(b))
	force, share := choose.ApartIn(a, b, of)
	switch c.p.Find {
	case Balance:
		return math.Abs(a.Share - b.Share), share
	case Drag:
		return math.Abs(a.Drag - b.Drag), choose.ClarityOf(a.Drag-b.Drag, of.Drag)
	}
	return math.Abs(a.Downforce - b.Downforce), force
}

// chosen picks settings: about a base those that are the furthest apart and clearly so, within a third of its downforce and a change that
// fits a break, one with less work where it is nearly as far.
func (c *chooser) chosen() ([]*model.Row, error) {
	p := c.p
	all := c.byFigures()
	base, err := c.base(all)
	if err != nil {
		return nil, err
	}
	near := slices.DeleteFunc(slices.Clone(all), func(r *model.Row) bool {
		return r.ID == base.ID || math.Abs(r.Downforce-base.Downforce) > choose.MostOfWing*base.Downforce || !p.fits(choose.WorkOf(base.Setting, r.Setting))
	})
	if len(near) > mostWeighed {
		slices.SortStableFunc(near, func(a, b *model.Row) int { return cmp.Compare(a.Downforce, b.Downforce) })
		some := make([]*model.Row, 0, mostWeighed)
		for i := range mostWeighed {
			some = append(some, near[i*(len(near)-1)/(mostWeighed-1)])
		}
		near = some
	}
	picked := []*model.Row{base}
	for len(picked) < p.howMany() {
		r, err := c.furthest(near, picked)
		if err != nil {
			return nil, err
		}
		if r == nil {
			break
		}
		picked = append(picked, r)
	}
	return picked, nil
}

// howMany is how many settings a day takes: with more than one in four sessions little can be told of each.
func (p *Plan) howMany() int {
	switch {
	case p.Settings > 0:
		return p.Settings
	case p.Find.ByReadings():
		return min(MostSettings, p.Sessions)
	}
	return min(max(2, p.Sessions/4), 4)
}

// furthest is the setting that is furthest from all picked and clearly apart from each, or one with less work nearly as far; nil for none.
func (c *chooser) furthest(near, picked []*model.Row) (*model.Row, error) {
	type one struct {
		row  *model.Row
		far  float64
		work choose.Work
	}
	var all []one
	for _, r := range near {
		o := one{r, math.Inf(1), choose.WorkOf(picked[0].Setting, r.Setting)}
		for _, q := range picked {
			d, apart := c.distance(q, r)
			// Readings tell by all settings together: there it is enough that two are not alike.
			if apart == choose.Clear || c.p.Find.ByReadings() && apart == choose.NotSure {
				o.far = min(o.far, d)
				continue
			}
			o.far = 0
			break
		}
		if o.far > 0 {
			all = append(all, o)
		}
	}
	for len(all) > 0 {
		most := slices.MaxFunc(all, func(a, b one) int { return cmp.Compare(a.far, b.far) }).far
		best := -1
		for i, o := range all {
			if o.far < atLeast*most {
				continue
			}
			if best < 0 || cmp.Or(o.work.Compare(all[best].work), cmp.Compare(all[best].far, o.far)) < 0 {
				best = i
			}
		}
		_, barred, err := c.barred(all[best].row)
		if err != nil {
			return nil, err
		}
		if !barred {
			return all[best].row, nil
		}
		all = slices.Delete(all, best, best+1)
	}
	return nil, nil
}

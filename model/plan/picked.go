package plan

import (
	"cmp"
	"math"
	"slices"

	"stanchion/model"
	"stanchion/model/choose"
)

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

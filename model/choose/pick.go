package choose

import (
	"cmp"
	"context"
	"math"
	"slices"

	"stanchion/model"
)

// Hit is a setting that meets the criteria.
type Hit struct {
	Row        int
	Way        string      // id of the way of bolting the row's place that takes the least work and meets the criteria
	Off        float64     // from the wanted front share or share shift, fraction; 0 without such a target
	Group      int         // by closeness to the wanted balance, 0 first: those of a group are as close
	Work       Work        // from the setting on the car; none without one
	Chance     Probability // that its figures meet the targets
	Clear      Clarity     // how clearly it keeps the limits
	Tight      []Tight     // limits that it does not keep clearly
	Shortfalls []Shortfall // targets that its figures miss, by less than counts
	Unsafe     bool        // it is stalled or lifts, at a speed that was asked about
	Holding    Strength    // where strength was asked for
	At         []ShareThen // front shares at the speeds that were asked about
}

// ShareThen is a front share at a speed, with its standard uncertainty.
type ShareThen struct{ Speed, Share, StdUnc float64 }

// Miss is a setting that does not quite meet the criteria: limits that it breaks, figures
// that it has not, and criteria that it does not meet.
type Miss struct {
	Row        int
	Chance     Probability // that its figures meet the targets; 0 where something else rules it out
	Work       Work        // from the setting on the car; none without one
	Shortfalls []Shortfall
}

// Near reports whether nothing rules the setting out but how sure its figures are, by less than their
// uncertainty.
func (m Miss) Near() bool { return m.Chance.Of >= NearFrom }

// Pick returns the settings that keep all limits and meet the criteria, the best first, and of the others
// the nearest. A setting meets targets for its figures when its best estimates do or the chance that all are met is
// HitFrom, or where the criteria name a chance, from that on; and everything else at its best estimate. Best is closest to the wanted balance: all that are
// not clearly further off than the closest are as close, then all of the others that are not clearly
// further off than the closest of those. Of settings that are as close the one with the least work comes first,
// then the one that keeps the limits most clearly, then the most downforce, in whole newtons, then the least
// drag, then the order of the table. A setting that lifts or is stalled is picked only when it is asked for, and
// then comes last. Of those that are not picked the likeliest come first, then the nearest.
func Pick(t *model.Table, c Criteria) ([]Hit, []Miss) {
	hits, near, _ := PickUnder(context.Background(), t, c)
	return hits, near
}

// PickUnder is Pick that is given up when the context ends, with its error.
func PickUnder(ctx context.Context, t *model.Table, c Criteria) ([]Hit, []Miss, error) {
	p := newPicker(t, c)
	seen := make([]*looked, len(t.Rows))
	found := make([]Hit, len(t.Rows))
	each(ctx, len(t.Rows), func(i int) {
		seen[i] = p.look(&t.Rows[i])
		found[i] = p.judge(seen[i], i)
	})
	var hits []Hit
	var near []Miss
	for i, h := range found {
		if ctx.Err() != nil {
			return nil, nil, ctx.Err()
		}
		r := &t.Rows[i]
		if !r.Within() || !c.likelyEnough(h) || p.rulesOut(h.Shortfalls) {
			near = append(near, p.miss(h))
			continue
		}
		if h = p.held(h); p.rulesOut(h.Shortfalls) { // last, since it takes longest
			near = append(near, p.miss(h))
			continue
		}
		hits = append(hits, h)
	}
	p.order(ctx, hits, seen)
	if ctx.Err() != nil {
		return nil, nil, ctx.Err()
	}
	slices.SortStableFunc(near, func(a, b Miss) int {
		return cmp.Or(cmp.Compare(likely(b), likely(a)), cmp.Compare(a.size(t), b.size(t)))
	})
	return hits, near, nil
}

// likelyEnough reports whether the figures of a setting meet the targets.
func (c *Criteria) likelyEnough(h Hit) bool {
	if len(h.Shortfalls) == 0 && !c.MinChance.Known() {
		return true // a target narrower than the figures are known is met by what is on it
	}
	return h.Chance.Of >= c.hitFrom()-rounding
}

// likely ranks what just misses before what does not, the likeliest first.
func likely(m Miss) float64 {
	if !m.Near() {
		return 0
	}
	return m.Chance.Of
}

// judge looks at all that is asked of a row but its strength.
func (p *picker) judge(s *looked, i int) Hit {
	h := Hit{Row: i, Way: s.row.ID, Shortfalls: p.hard(s)}
	if len(h.Shortfalls) > 0 && h.Shortfalls[0].Obstacle == NoFigures && h.Shortfalls[0].Speed == 0 {
		return h
	}
	if p.from != nil {
		var short []Shortfall
		h.Way, h.Work, short = p.way(s.row, nil)
		h.Shortfalls = append(h.Shortfalls, short...)
	}
	if s.row.Within() && len(h.Shortfalls) == 0 {
		h.Chance = p.chance(s)
	}
	for _, a := range p.aims() {
		if o := s.rows[a.table]; o != nil {
			if short, misses := p.shortfall(a, a.of(o)); misses {
				h.Shortfalls = append(h.Shortfalls, short)
			}
		}
	}
	for _, o := range s.rows {
		h.Unsafe = h.Unsafe || o != nil && (o.Stalled || o.Lifts())
	}
	h.Off = s.off(p.balances())
	return h
}

// rulesOut reports whether a shortfall is more than a figure that just misses.
func (p *picker) rulesOut(all []Shortfall) bool {
	return slices.ContainsFunc(all, func(s Shortfall) bool { return !s.Obstacle.ofFigure() })
}

// ofFigure reports whether an obstacle is a figure that is off its target, which counts by its chance.
func (o Obstacle) ofFigure() bool {
	switch o {
	case OffFrontShare, OffBalanceShift, BelowMinDownforce, AboveMaxDownforce, BelowMinOnCar, AboveMaxOnCar, AboveMaxDrag, BelowMinStallMargin,
		BelowMinAngle, AboveMaxAngle:
		return true
	}
	return false
}

// miss is what a setting lacks.
func (p *picker) miss(h Hit) Miss {
	m := Miss{Row: h.Row, Chance: h.Chance, Work: h.Work, Shortfalls: h.Shortfalls}
	if p.rulesOut(m.Shortfalls) {
		m.Chance = Probability{}
	}
	if p.t.Rows[h.Row].Within() && len(m.Shortfalls) == 0 {
		m.Shortfalls = []Shortfall{{Obstacle: TooUnlikely, Have: h.Chance.Of, StdUnc: h.Chance.StdUnc, Wanted: p.c.hitFrom(), timesAcceptable: 1e-3 * (1 - h.Chance.Of)}}
	}
	return m
}

// order puts hits in order.
func (p *picker) order(ctx context.Context, hits []Hit, seen []*looked) {
	balances := p.balances()
	off := make([]float64, len(hits))
	for i, h := range hits {
		off[i] = h.Off
		if h.Unsafe {
			off[i] += 1e6 // after all others
		}
	}
	group := grouped(off, func(i, than int) bool {
		if ctx.Err() != nil {
			return false
		}
		if a, b := hits[i].Unsafe, hits[than].Unsafe; a != b {
			return a
		}
		return seen[hits[i].Row].furtherOff(seen[hits[than].Row], balances)
	})
	each(ctx, len(hits), func(i int) {
		h := &hits[i]
		s := seen[h.Row]
		limits := limitsOf(p.t, s.row, s.budget(0))
		h.Group, h.Clear = group[i], clearOf(limits)
		for k, a := range p.c.ShareAt {
			h.At = append(h.At, ShareThen{a.Speed, s.rows[k+1].Share, s.budget(k + 1).Share})
		}
		for _, l := range limits {
			if ClarityOf(l.Have-l.Allowed, l.StdUnc) != Clear {
				h.Tight = append(h.Tight, l)
			}
		}
	})
	slices.SortFunc(hits, func(a, b Hit) int { return a.compare(b, p.t.Rows) })
}

// compare orders hits among the rows of a table; two hits are never equal.
func (h Hit) compare(o Hit, rows []model.Row) int {
	r, s := &rows[h.Row], &rows[o.Row]
	return cmp.Or(
		cmp.Compare(h.Group, o.Group),
		h.Work.Compare(o.Work),
		cmp.Compare(o.Clear, h.Clear),
		cmp.Compare(math.Round(s.Downforce), math.Round(r.Downforce)),
		cmp.Compare(r.Drag, s.Drag),
		cmp.Compare(h.Row, o.Row),
	)
}

// size adds up how far a setting is from what is wanted; a limit that it breaks, or figures
// that it has not, count one each.
func (m Miss) size(t *model.Table) float64 { return distance(&t.Rows[m.Row], m.Shortfalls) }

func distance(r *model.Row, shortfalls []Shortfall) float64 {
	sum := 0.0
	if !r.Within() {
		sum = float64(len(r.Breaches) + len(r.Missing))
	}
	for _, s := range shortfalls {
		sum += s.timesAcceptable
	}
	return sum
}

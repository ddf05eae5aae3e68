package choose

import (
	"math"
	"slices"

	"stanchion/model"
)

// way returns the way of bolting a row's place that takes the least work from the setting on the car and
// meets what is asked of the work, and of a way by itself where more is asked; where none does, the one with the
// least work and what it lacks.
func (p *picker) way(r *model.Row, more func(*model.Row) (Shortfall, bool)) (id string, w Work, short []Shortfall) {
	type asked struct {
		id   string
		work Work
	}
	ways := []asked{{r.ID, Work{}}}
	if p.from != nil {
		ways[0].work = WorkOf(p.from.Setting, r.Setting)
	}
	for i := range r.Alternatives {
		a := asked{id: r.Alternatives[i].ID}
		if p.from != nil {
			a.work = WorkOf(p.from.Setting, &r.Alternatives[i])
		}
		ways = append(ways, a)
	}
	slices.SortStableFunc(ways, func(a, b asked) int { return a.work.Compare(b.work) })
	for i, a := range ways {
		lacks := p.ofWork(a.work)
		if len(lacks) == 0 && more != nil {
			row, _ := p.t.Find(a.id)
			if s, misses := more(row); misses {
				lacks = append(lacks, s)
			}
		}
		if len(lacks) == 0 {
			return a.id, a.work, nil
		}
		if i == 0 {
			id, w, short = a.id, a.work, lacks
		}
	}
	return id, w, short
}

// ofWork lists what is asked of the work and not met.
func (p *picker) ofWork(w Work) (all []Shortfall) {
	if p.from == nil {
		return nil
	}
	if most, ok := p.c.MaxMoves.Get(); ok && float64(w.Moved) > most {
		all = append(all, Shortfall{Obstacle: TooManyMoves, Have: float64(w.Moved), Wanted: most, timesAcceptable: (float64(w.Moved) - most) / smallMoves})
	}
	if p.c.FootStays && w.Below > 0 {
		all = append(all, Shortfall{Obstacle: FootMoves, Have: float64(w.Below), timesAcceptable: float64(w.Below) / smallMoves})
	}
	return all
}

// held finds the way of bolting a hit that holds, where strength is asked for.
func (p *picker) held(h Hit) Hit {
	if !p.c.MaxUsed.Known() {
		return h
	}
	holding := Strength{Used: math.NaN()}
	way, work, short := p.way(&p.t.Rows[h.Row], func(r *model.Row) (Shortfall, bool) {
		s := Strength{Used: math.NaN()}
		if p.c.Holds != nil {
			s = p.c.Holds(r)
		}
		miss, misses := p.ofStrength(s)
		if !misses || math.IsNaN(holding.Used) {
			holding = s
		}
		return miss, misses
	})
	h.Way, h.Work, h.Holding = way, work, holding
	h.Shortfalls = append(h.Shortfalls, short...)
	return h
}

// ofStrength says what a setting lacks in strength. What is not wholly checked is not strong enough.
func (p *picker) ofStrength(s Strength) (Shortfall, bool) {
	most := p.c.MaxUsed.Value()
	short := Shortfall{Have: s.Used, Wanted: most}
	switch {
	case s.Fails:
		short.Obstacle, short.timesAcceptable = DoesNotHold, 1+max(0, s.Used-1)/smallUsed
	case !s.Passes || math.IsNaN(s.Used):
		short.Obstacle, short.timesAcceptable = StrengthNotChecked, 1
	case s.Used > most+rounding:
		short.Obstacle, short.timesAcceptable = AboveMaxUsed, (s.Used-most)/smallUsed
	default:
		return Shortfall{}, false
	}
	return short, true
}

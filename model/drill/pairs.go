package drill

import (
	"context"
	"math"
	"slices"

	"stanchion/holes/plane"
	"stanchion/model/fastener"
)

// half is a place that may be one of a pair.
type half struct {
	place    int // of the field; -1 for one that is not of it
	at       plane.Point
	settings []place // as if all kept the limits
	runnable []place // those that do; nil before it is worked out
	known    bool
	alone    value // at most

	// Of Fill: by how much the steps at each height can shrink, rad, with any second hole, and the sum.
	most  []float64
	bound float64
}

// pair are two places together.
type pair struct {
	a, b  *half
	value value
}

// Bounds of the search for pairs.
const (
	maxHalves  = 600     // places that are paired with each start
	pairStarts = 12      // best places that pairs start from, and as many that leave most room for a second
	maxRounds  = 4       // exchanges of one hole of a pair for a better one
	maxProof   = 200_000 // pairs compared to prove that there is no better one, of ten settings each
	maxBounded = 4_000_000
	mutuals    = 6 // first holes about which places that bolt together with them are looked at
)

// pairs searches for two holes together: from good first holes the best second one, then one is exchanged for a better
// while there is one; and at last every pair that may still be better, if they are few.
type pairs struct {
	ctx    context.Context
	scan   *scan
	goal   Goal
	part   int
	apart  float64 // mm, least distance of the two
	halves []half
	best   []pair
	search *Search
	rows   int // new settings worked out
}

// newPairs lists the places that can be drilled and do anything.
func newPairs(ctx context.Context, s *scan, w Goal, to *Search) (*pairs, error) {
	p := &pairs{ctx: ctx, scan: s, goal: w, part: w.Part, apart: fastener.Spacing(w.D, fastener.AnyDirection).Min, search: to}
	part := &s.aim.e.Table.Car.Parts[w.Part]
	for _, c := range append(slices.Clone(s.order), s.inside...) {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		at := s.field.at(c.place)
		if _, broken := Broken(HoleRules(part, w.hole(0, at).Hole)); broken {
			continue
		}
		s.value(c.place, -1)
		p.halves = append(p.halves, half{place: c.place, at: at, settings: slices.Clone(s.buf), alone: c.value})
	}
	if w.Fill {
		p.bounds()
	}
	slices.SortStableFunc(p.halves, func(a, b half) int { return a.alone.compare(b.alone) })
	return p, nil
}

func (p *pairs) fill(f *fresh, h *half) {
	f.empty()
	for _, s := range h.settings {
		f.add(s)
	}
}

// worth is what two halves are worth together, as far as a setting has no bolt in each.
func (p *pairs) worth(a, b *half) (value, error) {
	p.search.Pairs++
	buf := p.scan.buf[:0]
	for _, h := range [2]*half{a, b} {
		if !h.known {
			c, err := p.scan.aim.e.change([]NewHole{p.goal.hole(0, h.at)})
			if err != nil {
				return value{}, err
			}
			h.runnable, h.known = c.runnable(), true
			p.rows += len(c.rows)
		}
		buf = append(buf, h.runnable...)
	}
	p.scan.buf = buf
	return p.scan.aim.of(buf, true), nil
}

// run searches from all starts; progress goes from 0 to 1.
func (p *pairs) run(progress func(float64)) error {
	from := p.starts()
	few := p.thinned()
	for n, a := range from {
		progress(float64(n) / float64(len(from)))
		if err := p.exchange(a, few); err != nil {
			return err
		}
	}
	for n, a := range from[:min(len(from), mutuals)] {
		progress(float64(n) / mutuals)
		if err := p.mutual(a); err != nil {
			return err
		}
	}
	if p.goal.Fill {
		return p.prove()
	}
	return nil
}

// starts lists the halves that are best alone, and those that leave most room for a second, each far from the others.
func (p *pairs) starts() []*half {
	var all []*half
	take := func(order []*half) {
		n := 0
		for _, h := range order {
			if n == pairStarts {
				return
			}
			if !slices.ContainsFunc(all, func(o *half) bool { return o.at.Distance(h.at) < p.goal.D }) {
				all = append(all, h)
				n++
			}
		}
	}
	order := make([]*half, len(p.halves))
	for i := range order {
		order[i] = &p.halves[i]
	}
	take(order)
	if p.goal.Fill {
		slices.SortStableFunc(order, func(a, b *half) int {
			if a.bound > b.bound {
				return -1
			}
			return 1
		})
		take(order)
	}
	return all
}

// thinned returns at most maxHalves of the halves: of squares of the part the best of each.
func (p *pairs) thinned() []*half {
	side := p.scan.field.step
	for {
		met := map[[2]int]bool{}
		var few []*half
		for i := range p.halves { // the best first
			h := &p.halves[i]
			key := [2]int{int(math.Floor(h.at.X / side)), int(math.Floor(h.at.Z / side))}
			if !met[key] {
				met[key] = true
				few = append(few, h)
			}
		}
		settings := 0
		for _, h := range few {
			settings += len(h.settings)
		}
		if len(few) <= maxHalves && settings <= p.scan.aim.e.maxRows() || len(few) <= 2*pairStarts {
			return few
		}
		side *= math.Sqrt2
	}
}

// keep takes a pair among the best, of pairs at the same two places the better one.
func (p *pairs) keep(one pair) {
	same := func(o pair) bool {
		d := p.goal.D
		return o.a.at.Distance(one.a.at) < d && o.b.at.Distance(one.b.at) < d || o.a.at.Distance(one.b.at) < d && o.b.at.Distance(one.a.at) < d
	}
	for i, o := range p.best {
		if same(o) {
			if one.value.compare(o.value) < 0 {
				p.best[i] = one
			}
			return
		}
	}
	p.best = append(p.best, one)
}

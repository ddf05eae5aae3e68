package drill

import (
	"math"

	"stanchion/holes/plane"
)

// exchange pairs a half with its best second, and then exchanges one for a better while there is one.
func (p *pairs) exchange(a *half, few []*half) error {
	var now pair
	for range maxRounds {
		if err := p.ctx.Err(); err != nil {
			return err
		}
		best, err := p.second(a, few)
		if err != nil {
			return err
		}
		if best.b == nil || now.a != nil && best.value.compare(now.value) >= 0 {
			break
		}
		now = best
		a = now.b // and for that, again the best
	}
	if now.a == nil {
		return nil
	}
	now, err := p.closer(now)
	p.keep(now)
	return err
}

// second returns the best second for a half.
func (p *pairs) second(a *half, of []*half) (best pair, err error) {
	for _, b := range of {
		if b.at.Distance(a.at) < p.apart || best.b != nil && p.goal.Fill && b.bound < best.value.gain {
			continue
		}
		v, err := p.worth(a, b)
		if err != nil {
			return best, err
		}
		if best.b == nil || v.compare(best.value) < 0 {
			best = pair{a, b, v}
		}
	}
	return best, nil
}

// about lists the halves near a place that are worked out, or can be.
func (p *pairs) about(at plane.Point) (all []*half) {
	for i := range p.halves {
		if h := &p.halves[i]; h.at.Distance(at) <= nearAlike && (h.known || p.rows < 2*p.scan.aim.e.maxRows()) {
			all = append(all, h)
		}
	}
	return all
}

// closer moves both places of a pair to the best of those about them.
func (p *pairs) closer(now pair) (pair, error) {
	for range 2 {
		next, err := p.second(now.a, p.about(now.b.at))
		if err != nil {
			return now, err
		}
		if next.b != nil && next.value.compare(now.value) < 0 {
			now = next
		}
		now.a, now.b = now.b, now.a
	}
	return now, nil
}

// roomier moves each place of a pair to the one with most room of those about it that are as good.
func (p *pairs) roomier(now pair) (pair, error) {
	room := func(h *half) float64 {
		if h.place < 0 {
			return math.Inf(1)
		}
		m := margin(HoleRules(&p.scan.aim.e.Table.Car.Parts[p.part], p.goal.hole(0, h.at).Hole))
		return p.scan.room(h.place, h.alone, m)
	}
	for range 2 {
		best, most := now, room(now.b)
		for _, h := range p.about(now.b.at) {
			if h.at.Distance(now.a.at) < p.apart {
				continue
			}
			v, err := p.worth(now.a, h)
			if err != nil {
				return now, err
			}
			if !better(now.value, v) {
				if r := room(h); r > most {
					best, most = pair{now.a, h, v}, r
				}
			}
		}
		best.value = now.value // what both moves are measured by
		now = pair{best.b, best.a, best.value}
	}
	var err error
	now.value, err = p.worth(now.a, now.b)
	return now, err
}

// mutual looks for seconds that are bolted together with a first, one bolt of a setting in each.
func (p *pairs) mutual(a *half) error {
	p.search.Mutual++
	about, err := newField(p.ctx, p.scan.aim.e.Table.Car, p.goal, p.scan.joint, a.at)
	if err != nil {
		return err
	}
	known := map[plane.Point]*half{}
	for i := range p.halves {
		known[p.halves[i].at] = &p.halves[i]
	}
	mutual := *p.scan
	mutual.field = about
	most := value{}
	var at plane.Point
	for i := range about.places {
		b := half{at: about.at(i)}
		if b.at.Distance(a.at) < p.apart {
			continue
		}
		settings := append(mutual.settings(nil, about.of(i), b.at, -1), a.settings...)
		if k := known[b.at]; k != nil {
			settings = append(settings, k.settings...)
		}
		if v := p.scan.aim.of(settings, false); v.compare(most) < 0 && drillableIn(p, b.at) {
			most, at = v, b.at
		}
	}
	if !p.goal.serves(most) {
		return nil
	}
	hs := []NewHole{p.goal.hole(0, a.at), p.goal.hole(1, at)}
	c, err := p.scan.aim.e.change(hs)
	if err != nil {
		return err
	}
	p.keep(pair{a, &half{place: -1, at: at, known: true, runnable: c.runnable()}, p.scan.aim.exactly(&c)})
	return nil
}

// drillableIn reports whether a place keeps the rules.
func drillableIn(p *pairs, at plane.Point) bool {
	_, broken := Broken(HoleRules(&p.scan.aim.e.Table.Car.Parts[p.part], p.goal.hole(0, at).Hole))
	return !broken
}

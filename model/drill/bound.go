package drill

import (
	"cmp"
	"slices"
)

// bounds works out how far steps can shrink with each half and any other.
func (p *pairs) bounds() {
	steps, fresh := p.scan.aim.steps, p.scan.aim.fresh
	most := make([]int, len(steps.heights)) // new angles at a height of any one half
	for i := range p.halves {
		p.fill(fresh, &p.halves[i])
		for _, h := range fresh.touched {
			most[h] = max(most[h], len(fresh.angles[h]))
		}
	}
	for i := range p.halves {
		h := &p.halves[i]
		p.fill(fresh, h)
		h.most = make([]float64, len(steps.heights))
		for k := range steps.heights {
			if l := &steps.heights[k]; len(l.wide) > 0 {
				h.most[k] = l.wide[0].width() - l.least(fresh.angles[k], most[k])
				h.bound += h.most[k]
			}
		}
	}
}

// least returns the least that the widest step can be, rad, with new angles and some more wherever they are best.
func (h *stepsAt) least(angles []float64, more int) float64 {
	var widths []float64
	for n, g := range h.wide {
		if n > more+len(angles) { // some step is not parted: the rest is no wider
			break
		}
		g.parts(angles, func(w float64) { widths = append(widths, w) })
	}
	slices.SortFunc(widths, func(a, b float64) int { return cmp.Compare(b, a) })
	parts := make([]float64, len(widths))
	for {
		widest, at := 0.0, 0
		for i, w := range widths[:min(len(widths), more+1)] {
			if x := w / (parts[i] + 1); x > widest {
				widest, at = x, i
			}
		}
		if more--; more < 0 || len(widths) == 0 {
			return widest
		}
		parts[at]++
	}
}

// limit is the most by which two halves can shrink the steps together, rad: at each height the less of what either
// can with any other.
func (p *pairs) limit(a, b *half) float64 {
	sum := 0.0
	for k := range a.most {
		sum += min(a.most[k], b.most[k])
	}
	return sum
}

// prove compares every pair that may be better than the best found, if they are not too many, and says how good one
// may be that was not compared.
func (p *pairs) prove() error {
	best := 0.0
	for _, o := range p.best {
		best = max(best, o.value.gain)
	}
	p.search.Bound = best
	n := len(p.halves)
	if n*(n-1)/2 > maxBounded {
		for i := range p.scan.aim.steps.heights { // nothing better is known than that no step shrinks to less than nothing
			if wide := p.scan.aim.steps.heights[i].wide; len(wide) > 0 {
				p.search.Bound += wide[0].width()
			}
		}
		p.search.Bound -= best
		return nil
	}
	work := 0
	for i := range p.halves {
		if err := p.ctx.Err(); err != nil {
			return err
		}
		a := &p.halves[i]
		for k := range i {
			b := &p.halves[k]
			limit := p.limit(a, b)
			if limit <= best+1e-9 || a.at.Distance(b.at) < p.apart {
				continue
			}
			if work += len(a.settings) + len(b.settings); work > 10*maxProof || p.rows > 2*p.scan.aim.e.maxRows() && !(a.known && b.known) {
				p.search.Bound = max(p.search.Bound, limit)
				continue
			}
			v, err := p.worth(a, b)
			if err != nil {
				return err
			}
			if v.gain > best+1e-9 {
				best = v.gain
				p.keep(pair{a, b, v})
			}
		}
	}
	p.search.Bound = max(p.search.Bound, best)
	return nil
}

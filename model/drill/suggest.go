package drill

import (
	"context"
	"slices"
)

// Suggest works out the best places for new holes: every place of the drill's grid on which bolts go in, with every
// way of bolting the other joints, and the best of them in full. progress is told now and then how far it is, 0 to
// 1; it may be nil. It ends with the context's error when that is cancelled.
func Suggest(ctx context.Context, e *Existing, w Goal, progress func(float64)) (Found, error) {
	if progress == nil {
		progress = func(float64) {}
	}
	j, ok := w.joint(e.Table.Car)
	if !ok {
		return Found{}, nil
	}
	if w.MaxStep.Known() {
		return suggestFewest(ctx, e, w, j, progress)
	}
	field, err := newField(ctx, e.Table.Car, w, j)
	if err != nil {
		return Found{}, err
	}
	part := func(from, to float64) func(float64) {
		return func(f float64) { progress(from + (to-from)*f) }
	}
	scan, err := newScan(ctx, newAim(e, w), field, j, part(0.05, 0.5))
	if err != nil {
		return Found{}, err
	}
	s := &search{ctx: ctx, e: e, goal: w, scan: scan}
	s.found.Step, s.found.Places, s.found.Coarse = field.step, len(field.places), len(scan.rests) == maxRests
	if err := s.run(part(0.5, 0.6)); err != nil {
		return Found{}, err
	}
	if w.Count == 2 {
		return s.two(part(0.6, 1))
	}
	rank(s.found.Best)
	return s.found, nil
}

// two goes on from the best single holes to pairs; where no pair is better than one hole, those stay.
func (s *search) two(progress func(float64)) (Found, error) {
	rank(s.found.Best)
	p, err := newPairs(s.ctx, s.scan, s.goal, &s.found.Search)
	if err != nil {
		return Found{}, err
	}
	if err := p.run(progress); err != nil {
		return Found{}, err
	}
	slices.SortStableFunc(p.best, func(a, b pair) int { return a.value.compare(b.value) })
	var best []Suggestion
	for i, o := range p.best {
		if len(best) == maxShown || i == maxTried/2 {
			break
		}
		if err := s.ctx.Err(); err != nil {
			return Found{}, err
		}
		if o.b.place >= 0 {
			if o, err = p.roomier(o); err != nil {
				return Found{}, err
			}
		}
		one, v, ok, err := s.e.rate(s.ctx, s.scan.aim, []NewHole{s.goal.hole(0, o.a.at), s.goal.hole(1, o.b.at)}, s.goal.serves)
		if err != nil {
			return Found{}, err
		}
		s.found.Tried++
		s.found.Bound = max(s.found.Bound, v.gain)
		if ok && s.goal.takes(&one) && (len(s.found.Best) == 0 || v.compare(s.found.Best[0].value) < 0) {
			best = append(best, one)
		}
	}
	rank(best)
	if len(best) > 0 {
		s.found.Best = best
	}
	return s.found, nil
}

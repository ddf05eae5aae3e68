package drill

import (
	"stanchion/holes/plane"
)

// maxRows bounds the new settings that a search works out, so that it takes about as long as a map of the car.
func (e *Existing) maxRows() int { return 2500 + len(e.Table.Rows)/2 }

// exactPlace is a place whose new settings are worked out.
type exactPlace struct {
	scored
	at     plane.Point
	is     value
	margin float64 // mm, over the rules
}

// weigh works out what places are worth, until none that is left can be better.
func (s *search) weigh(progress func(float64)) error {
	part := &s.e.Table.Car.Parts[s.goal.Part]
	var best value
	rows, after := 0, 0
	for n, c := range s.scan.order {
		if err := s.ctx.Err(); err != nil {
			return err
		}
		progress(float64(n) / float64(len(s.scan.order)))
		if len(s.exact) > 0 && c.value.compare(best) >= 0 && s.goal.Between == nil { // those half-way may be like one that exists
			after++
		}
		if len(s.exact) >= maxExact || rows >= s.e.maxRows() || after > moreExact {
			s.rest = max(s.rest, c.value.gain)
			break
		}
		at := s.scan.field.at(c.place)
		rules := HoleRules(part, s.goal.hole(0, at).Hole)
		if short, broken := Broken(rules); broken {
			if err := s.forbidden(at, short, best); err != nil {
				return err
			}
			continue
		}
		if s.known(at, c.value) {
			s.rest = max(s.rest, c.value.gain)
			continue
		}
		change, err := s.e.change([]NewHole{s.goal.hole(0, at)})
		if err != nil {
			return err
		}
		rows += len(change.rows)
		one := exactPlace{c, at, s.scan.aim.exactly(&change), margin(rules)}
		s.exact = append(s.exact, one)
		if one.is.compare(best) < 0 {
			best = one.is
		}
	}
	s.found.Weighed = len(s.exact)
	s.found.Bound = max(s.rest, best.gain)
	return nil
}

// known reports whether a place need not be worked out: one beside it is as good as this can be, or several about it
// were worked out.
func (s *search) known(at plane.Point, most value) bool {
	about := 0
	for i := range s.exact {
		d := s.exact[i].at.Distance(at)
		if d <= besides && !better(most, s.exact[i].is) {
			return true
		}
		if d <= nearAlike {
			about++
		}
	}
	return about >= maxAbout
}

// forbidden keeps a place that cannot be drilled, if it would serve, is better than the best that can, and not
// about one of those kept.
func (s *search) forbidden(at plane.Point, short RuleCheck, best value) error {
	if len(s.found.Near) >= maxNear || short.To != "" && short.Have < s.goal.D/2 { // in another hole
		return nil
	}
	for _, o := range s.near {
		if o.Distance(at) < 2*s.goal.D {
			return nil
		}
	}
	s.near = append(s.near, at)
	if len(s.near) > 4*maxNear {
		return nil
	}
	hs := []NewHole{s.goal.hole(0, at)}
	c, err := s.e.change(hs)
	if err != nil {
		return err
	}
	if is := s.scan.aim.exactly(&c); s.goal.serves(is) && is.compare(best) < 0 {
		s.found.Near = append(s.found.Near, Suggestion{Trial: Trial{Holes: hs}, Short: &short, Gain: is.gain, value: is})
	}
	return nil
}

// better reports whether a value is better than another by more than is worth another trial.
func better(v, than value) bool {
	if v.hits != than.hits {
		return v.hits > than.hits
	}
	return v.near > than.near+0.05 || v.near >= than.near-1e-9 && v.gain*asGood > than.gain
}

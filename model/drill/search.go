package drill

import (
	"context"
	"math"
	"slices"
	"sort"

	"stanchion/holes/plane"
)

// Suggestion is one hole, or several together, and what they would change.
type Suggestion struct {
	Trial
	Met     []int      // rows of Table, new and within limits, that are what was wanted
	Hits    int        // how many; of MaxStep the angles that they spare
	Lacking int        // of MaxStep: angles that are still lacking
	Gain    float64    // rad: by how much the widest steps of all heights shrink together
	Short   *RuleCheck // the rule that forbids it; nil when it can be drilled

	value value
}

// Found is the answer to where new holes would serve.
type Found struct {
	Best  []Suggestion // the best first
	Near  []Suggestion // places that would serve better and cannot be drilled
	Alike *Suggestion  // where nothing is suggested: the best place, whose settings are all like ones that exist
	Search
}

// Search says what was looked at, and how far from the best the answer may be.
type Search struct {
	Step    float64 // mm, of the grid that was searched
	Places  int     // of the grid, on which bolts go in
	Weighed int     // of these, whose new settings were worked out: all that can be best and can be drilled, as far as not said
	Tried   int     // with all that they change, and whether it is of use
	Bound   float64 // rad, of Fill: no place of the grid, or two of them, shrinks the steps by more
	Coarse  bool    // not every way of bolting the other joints was looked at
	Pairs   int     // pairs of places that were compared
	Mutual  int     // first holes for which places that are bolted together with them were looked at too
	Fewest  int     // of MaxStep: fewer holes than this cannot do it
	Lacking int     // of MaxStep: angles that are lacking as it is
}

// Bounds of what is worked out.
const (
	maxShown  = 5
	maxNear   = 3
	maxTried  = 40     // places with all that they change and whether it is of use
	maxAlike  = 12     // of these, like settings that exist, before the search gives up
	maxExact  = 2000   // places whose new settings are worked out
	maxRows   = 12_000 // new settings in all
	moreExact = 150    // places after none can be better than the best any more: for further suggestions
	nearAlike = 3.0    // mm, about a place, in which the roomiest of those as good is taken
	asGood    = 0.97
)

// search goes through the places of a scan, those that can be best first.
type search struct {
	ctx   context.Context
	e     *Existing
	goal  Goal
	scan  *scan
	first bool // the first that serves is all that is wanted

	found  Found
	exact  []exactPlace
	near   []plane.Point // places that cannot be drilled and were looked at
	spare  []Suggestion  // that do what is wanted and are like a setting that exists
	alikes int
	rest   float64 // rad, the largest gain that a place can have that was not worked out
}

// exactPlace is a place whose new settings are worked out.
type exactPlace struct {
	scored
	at     plane.Point
	is     value
	margin float64 // mm, over the rules
}

// run fills found from the scan.
func (s *search) run(progress func(float64)) error {
	if err := s.weigh(func(f float64) { progress(0.7 * f) }); err != nil {
		return err
	}
	slices.SortStableFunc(s.exact, func(a, b exactPlace) int { return a.is.compare(b.is) })
	var failed []plane.Point
	for n := range s.exact {
		if len(s.found.Best) >= maxShown || s.first && len(s.found.Best) > 0 || s.found.Tried >= maxTried || s.alikes >= maxAlike && len(s.found.Best) == 0 {
			break
		}
		if err := s.ctx.Err(); err != nil {
			return err
		}
		progress(0.7 + 0.3*float64(n)/float64(len(s.exact)))
		c := &s.exact[n]
		taken := func(b Suggestion) bool { return b.Holes[0].At().Distance(c.at) <= s.goal.D }
		if !s.goal.serves(c.is) || slices.ContainsFunc(s.found.Best, taken) || slices.ContainsFunc(failed, func(p plane.Point) bool {
			return p.Distance(c.at) < nearAlike
		}) {
			continue
		}
		before := len(s.found.Best)
		if err := s.try(s.roomiest(n)); err != nil {
			return err
		}
		if len(s.found.Best) == before {
			failed = append(failed, c.at)
		}
	}
	if len(s.found.Best) == 0 {
		s.found.Best = s.spare[:min(len(s.spare), maxShown)]
	}
	return nil
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
		if len(s.exact) >= maxExact || rows >= maxRows || after > moreExact {
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

// roomiest returns the place with most room of those about the n-th that are as good.
func (s *search) roomiest(n int) plane.Point {
	best := &s.exact[n]
	most, to := -1.0, best.at
	for _, c := range s.exact[n:] {
		if better(best.is, c.is) {
			break
		}
		if c.at.Distance(best.at) <= nearAlike {
			if r := s.scan.room(c.place, c.value, c.margin); r > most {
				most, to = r, c.at
			}
		}
	}
	return to
}

// try works a place out in full and keeps it if it serves.
func (s *search) try(at plane.Point) error {
	one, _, ok, err := s.e.rate(s.ctx, s.scan.aim, []NewHole{s.goal.hole(0, at)}, s.goal.serves)
	if err != nil {
		return err
	}
	s.found.Tried++
	switch {
	case !ok:
	case len(one.Useful) > 0 || s.goal.MaxStep.Known():
		s.found.Best = append(s.found.Best, one)
	case s.goal.takes(&one):
		s.spare = append(s.spare, one)
	default:
		s.alikes++
		named := func(o *Suggestion) bool { return o.Verdict.Unlike.Use == LikeAnother }
		if a := s.found.Alike; one.Verdict.Worth == NothingNew && (a == nil || !named(a) && named(&one)) {
			s.found.Alike = &one
		}
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

// takes reports whether a suggestion that serves is worth showing: its settings make a difference. Where a setting
// between two is wanted, or steps of a width, that is all that counts.
func (w Goal) takes(s *Suggestion) bool {
	return len(s.Useful) > 0 || w.Between != nil && s.Hits > 0 || w.MaxStep.Known()
}

// rate works out holes in full, if what they are worth is wanted.
func (e *Existing) rate(ctx context.Context, a *aim, hs []NewHole, wanted func(value) bool) (one Suggestion, v value, ok bool, err error) {
	c, err := e.change(hs)
	if err != nil {
		return one, v, false, err
	}
	v = a.exactly(&c)
	if !wanted(v) {
		return one, v, false, nil
	}
	tr, err := e.trial(ctx, hs, c)
	if err != nil {
		return one, v, false, err
	}
	one = Suggestion{Trial: tr, Gain: v.gain, value: v}
	for _, i := range tr.Added {
		if r := &tr.Table.Rows[i]; !a.goal.Fill && !a.goal.MaxStep.Known() && e.meets(a.goal, tr.Table, r) {
			one.Met, one.Hits = append(one.Met, i), one.Hits+1
		}
	}
	return one, v, true, nil
}

// Wanted lists the rows of Table worth showing: those that are what was wanted, or else those of use.
func (s *Suggestion) Wanted() []int {
	if len(s.Met) > 0 {
		return s.Met
	}
	return s.Useful
}

// rank sorts suggestions, the best first: by settings as wanted, then by how near they come, then by how much the
// widest steps shrink, in twentieths of a degree, then by how many settings can be told from what exists, then by
// how well the holes keep off the edge.
func rank(all []Suggestion) {
	sort.SliceStable(all, func(i, j int) bool {
		a, b := &all[i], &all[j]
		if a.value.hits != b.value.hits {
			return a.value.hits > b.value.hits
		}
		if a.value.near != b.value.near {
			return a.value.near > b.value.near
		}
		if d := math.Round(a.Gain/plane.Deg*20) - math.Round(b.Gain/plane.Deg*20); d != 0 {
			return d > 0
		}
		if len(a.Useful) != len(b.Useful) {
			return len(a.Useful) > len(b.Useful)
		}
		return margin(a.Rules) > margin(b.Rules)
	})
}

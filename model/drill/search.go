package drill

import (
	"cmp"
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
	maxShown   = 5
	maxNear    = 3
	maxTried   = 60   // places with all that they change and whether it is of use
	maxAlike   = 12   // of these, like settings that exist, before the search among many settings gives up
	many       = 2000 // settings, among which fewer things are tried
	maxOptions = 4    // places about one, among many settings
	maxExact   = 2000 // places whose new settings are worked out
	moreExact  = 250  // places after none can be better than the best any more: for further suggestions
	besides    = 0.6  // mm, about a place: what is no better there need not be worked out
	maxAbout   = 40   // places within nearAlike that are worked out
	nearAlike  = 3.0  // mm, about a place, in which the roomiest of those as good is taken
	asGood     = 0.97
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

// run fills found from the scan.
func (s *search) run(progress func(float64)) error {
	if err := s.weigh(func(f float64) { progress(0.7 * f) }); err != nil {
		return err
	}
	slices.SortStableFunc(s.exact, func(a, b exactPlace) int { return a.is.compare(b.is) })
	var failed []plane.Point
	for n := range s.exact {
		if len(s.found.Best) >= maxShown || s.first && len(s.found.Best) > 0 || s.found.Tried >= maxTried || s.alikes >= maxAlike && len(s.e.Table.Rows) > many {
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
		at, err := s.choice(n)
		if err != nil {
			return err
		}
		if err := s.try(at); err != nil {
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

// choice returns the place to take of those about the n-th that are as good: the one with most settings of use, of
// equals the one with most room.
func (s *search) choice(n int) (plane.Point, error) {
	type option struct {
		at   plane.Point
		room float64
	}
	var options []option
	best := &s.exact[n]
	for _, c := range s.exact[n:] {
		if better(best.is, c.is) {
			break
		}
		if c.at.Distance(best.at) <= nearAlike {
			options = append(options, option{c.at, s.scan.room(c.place, c.value, c.margin)})
		}
	}
	slices.SortStableFunc(options, func(a, b option) int { return cmp.Compare(b.room, a.room) })
	if len(s.e.Table.Rows) > many {
		options = options[:min(len(options), maxOptions)]
	}
	most, to := -1, best.at
	for _, o := range options {
		n, err := s.e.usefulCount(s.ctx, s.goal.hole(0, o.at))
		if err != nil {
			return to, err
		}
		if n > most {
			most, to = n, o.at
		}
	}
	return to, nil
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

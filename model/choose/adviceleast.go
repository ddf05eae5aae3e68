package choose

import "math"

// How far the size of a step may be from the wanted one for the least work to decide, as parts of it: a
// driver tells a step twice as large or half as large from none, and moves two bolts rather than six.
// Common practice, no source.
const (
	LeastOfWanted = 0.5
	MostOfWanted  = 2.0
)

// Rule is what chose among the clear steps.
type Rule int

// The rules.
const (
	LeastOfSize   Rule = iota // the least work of those between half and twice the wanted step
	NearestBeyond             // there is none: the nearest beyond
	NearestShort              // nor beyond: the nearest short of it
)

// ofSize lists the steps among which the least work decides, and the rule that they come by: those between
// half and twice the wanted step, or alike with that; where there are none, the nearest beyond, or else short,
// with those that are alike with it.
func (s *search) ofSize(all []Candidate, a *Advice) (equal []Candidate, rule Rule) {
	var short, beyond []Candidate
	wanted := math.Abs(a.Wanted)
	for _, c := range all {
		low, high := LeastOfWanted*wanted-s.sign*c.Change, s.sign*c.Change-MostOfWanted*wanted
		switch {
		case low > rounding && ClarityOf(low, c.StdUnc) != NoClearDifference:
			short = append(short, c)
		case high > rounding && ClarityOf(high, c.StdUnc) != NoClearDifference:
			beyond = append(beyond, c)
		default:
			equal = append(equal, c)
		}
	}
	if len(equal) == 0 {
		from := beyond
		if rule = NearestBeyond; len(beyond) == 0 {
			from, rule = short, NearestShort
		}
		near := s.nearest(from, a.Wanted)
		for _, c := range from {
			if s.clarity(c.Row, near.Row) == NoClearDifference {
				equal = append(equal, c)
			}
		}
	}
	for i := range equal {
		c := &equal[i]
		b := s.of(c.Row)
		c.Tight, c.kept = TightLimits(s.t, c.Row, &b), clearOf(limitsOf(s.t, c.Row, &b))
	}
	return equal, rule
}

// nearDriven keeps the steps that do not go past the wanted one where that is capped, those alike with it
// included.
func (a *Advice) nearDriven(all []Candidate) (near []Candidate) {
	if !a.Capped {
		return all
	}
	for _, c := range all {
		if past := math.Abs(c.Change) - math.Abs(a.Wanted); past <= rounding || ClarityOf(past, c.StdUnc) == NoClearDifference {
			near = append(near, c)
		}
	}
	return near
}

// notTaken keeps the steps that were not taken and would have been by size or by work alone.
func (a *Advice) notTaken(s *search, all []Candidate) {
	if near := s.nearest(all, a.Wanted); near.at != a.at && s.clarity(near.Row, a.To) != NoClearDifference {
		a.Nearer = &near
	}
	light := all[0]
	for _, c := range all[1:] {
		if c.compare(&light, a.Wanted, Wish{}) < 0 {
			light = c
		}
	}
	if light.Work.Compare(a.Work) < 0 {
		a.Lighter = &light
	}
}

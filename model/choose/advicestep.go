package choose

import (
	"cmp"
	"math"
	"slices"

	"stanchion/model"
	"stanchion/model/logbook"
)

// Changed is what changes for the wing from one setting to another.
type Changed int

// The changes, the one that is tried first at the front.
const (
	AngleAlone Changed = iota
	HeightAlone
	AngleAndHeight
)

// ChangedBetween says what changes between two places: height within 6 mm or angle within 0.6° counts
// as kept, as for the steps of the arrow keys.
func ChangedBetween(from, to *model.Position) Changed {
	higher := math.Abs(to.Height-from.Height) > sameHeight
	turned := math.Abs(to.Angle-from.Angle) > sameAngle*math.Pi/180
	switch {
	case higher && turned:
		return AngleAndHeight
	case higher:
		return HeightAlone
	}
	return AngleAlone
}

// Sizing is where the wanted size of a step comes from.
type Sizing int

// The sizes.
const (
	SmallestClear     Sizing = iota // slightly off: one unit
	MultipleOfIt                    // clearly or strongly off: two or three units
	FromTwoNotes                    // from how two settings felt, by a straight line through both
	BeyondWhatWasSame               // past another setting, where it felt no better
)

// Candidate is a way of bolting a setting that may be the step.
type Candidate struct {
	Row            *model.Row
	Change, StdUnc float64 // of the front share from the setting noted, fraction, and of that one standard uncertainty
	Work           Work
	Changed        Changed
	Tight          []Tight // limits that it keeps, but not clearly; of steps that count as equal
	kept           Clarity // how clearly it keeps all of them
	at             int     // row of the table that it is a way of
}

// NextStep is a change of setting, and how it was chosen. Changes are of the front share, as fractions,
// less than 0 for more wing.
type NextStep struct {
	Candidate // the one chosen
	Sizing    Sizing
	Second    string  // id of the other note, of FromTwoNotes and BeyondWhatWasSame
	Smallest  float64 // the smallest change that is clear
	Wanted    float64 // the change that is wanted
	Capped    bool    // it is less than the line through two notes asks for: no wing is taken off far past what was driven
	Asked     Wish
	TooMuch   string      // id of the comparable note that the step lies short of; "" for none
	Beyond    *model.Row  // the setting of that note
	Between   float64     // of NoneBetween: which part of the way to Beyond is wanted, 0 to 1
	Equal     []Candidate // the others that the rule leaves, in their order, each place once
	Rule      Rule        // what chose among the clear steps
	Lighter   *Candidate  // the clear step with the least work, though it is not the size wanted; nil where it takes no less
	Nearer    *Candidate  // the clear step that is nearest to the wanted size; nil where that one is taken, or one alike with it
	Clear     int         // how many settings, each with all its ways, were clear steps

	Unit          float64    // the change that one step of the scale is taken for, more than 0
	BoundUnstable bool       // the note of TooMuch was clearly unstable, whatever its balance
	TooLarge      *Candidate // of StepTooLarge: the smallest clear step, of those that keep the most bolts; where Capped, it goes past that
	Tried         *model.Row // of TriedThatWay: the setting of note Second
	TriedSame     bool       // and it felt no better
	PastMost      bool       // it is more than MostOfWing, to more wing, and on the car already
	Unstalled     *Candidate // of NotedStalled: less angle, clear of the stall, with the least work; nil for none
	onCarAt       int        // row of the table that is on the car by a later note, from 1; 0 for none
	unstableNote  string
	last          logbook.Feel
}

// step finds the size that is wanted, and the least work among the clear steps of about that size.
func (a *Advice) step(t *model.Table, w Wish) {
	a.Asked = w
	s := search{t: t, from: a.From, budget: t.Budget(a.From), sign: 1, least: math.Inf(-1), most: math.Inf(1), budgets: map[string]model.Budget{}}
	if a.Felt > 0 {
		s.sign = -1
	}
	for _, p := range a.Pointers {
		s.noLess = s.noLess || p.Symptom == ShortInFast || p.Symptom == ShortInAll
	}
	if s.bounds(a); a.Finding != TryNext {
		return
	}
	all := s.candidates()
	if len(all) == 0 {
		a.none(&s)
		return
	}
	small := s.smallEnough(all, a)
	if len(small) == 0 {
		small = s.fitted(all, a)
		a.PastMost = len(small) > 0
	}
	if len(small) == 0 {
		c := s.nearest(keepBolts(all), 0)
		a.Finding, a.TooLarge = StepTooLarge, &c
		return
	}
	all = keepBolts(small)
	a.size(&s, all)
	near := a.nearDriven(all)
	if len(near) == 0 {
		c := s.nearest(all, 0)
		a.Finding, a.TooLarge = StepTooLarge, &c
		return
	}
	all = near
	equal, rule := s.ofSize(all, a)
	a.Rule = rule
	slices.SortStableFunc(equal, func(x, y Candidate) int { return x.compare(&y, a.Wanted, w) })
	a.takeOnCar(t, equal)
	a.Candidate, a.To = equal[0], equal[0].Row
	a.Clear, a.Equal = len(places(all)), places(equal)[1:]
	a.notTaken(&s, all)
}

// takeOnCar puts the setting that is on the car by a later note first among the equal ones.
func (a *Advice) takeOnCar(t *model.Table, equal []Candidate) {
	on, ok := t.Index(a.OnCar)
	if i := slices.IndexFunc(equal, func(c Candidate) bool { return c.at == on }); ok && i >= 0 {
		c := equal[i]
		copy(equal[1:], equal[:i])
		equal[0], a.onCarAt = c, on+1
	}
}

// places keeps the first candidate of each place, whatever bolts it.
func places(all []Candidate) (first []Candidate) {
	seen := map[int]bool{}
	for _, c := range all {
		if !seen[c.at] {
			seen[c.at] = true
			first = append(first, c)
		}
	}
	return first
}

// compare orders steps among which the least work decides: no joint with fewer bolts, what was asked for, the
// least work, limits and stall margin clearly kept, the nearest to the wanted change, one change at a time.
func (c *Candidate) compare(d *Candidate, wanted float64, w Wish) int {
	asked := 0
	if w.Height {
		asked = cmp.Compare(btoi(d.Changed == HeightAlone), btoi(c.Changed == HeightAlone))
	}
	return cmp.Or(cmp.Compare(c.Work.Fewer, d.Work.Fewer), asked, c.Work.Compare(d.Work), cmp.Compare(d.kept, c.kept),
		cmp.Compare(math.Abs(c.Change-wanted), math.Abs(d.Change-wanted)), cmp.Compare(c.Changed, d.Changed), cmp.Compare(c.Row.ID, d.Row.ID))
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}

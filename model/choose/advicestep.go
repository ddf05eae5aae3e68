package choose

import (
	"cmp"
	"math"
	"slices"

	"stanchion/model"
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
	SmallestClear     Sizing = iota // slightly off: the smallest step that is clear
	MultipleOfIt                    // clearly or strongly off: two or three times that
	FromTwoNotes                    // from how two settings felt, by a straight line through both
	BeyondWhatWasSame               // past another setting, where it felt no better
)

// Candidate is a way of bolting a setting that may be the step.
type Candidate struct {
	Row            *model.Row
	Change, StdUnc float64 // of the front share from the setting noted, fraction, and of that one standard uncertainty
	Work           Work
	Changed        Changed
	at             int // row of the table that it is a way of
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
	Equal     []Candidate // the others that are not clearly apart from the wanted step, in their order, each place once
	Lighter   *Candidate  // the clear step with the least work, though it is not the size wanted; nil where it takes no less
	Clear     int         // how many settings, each with all its ways, were clear steps
}

// step finds the step that is wanted, and the least work among those that are not clearly apart from it.
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
	a.size(&s, all)
	near := s.nearest(all, a.Wanted)
	var equal []Candidate
	for _, c := range all {
		if s.clarity(c.Row, near.Row) != Clear {
			equal = append(equal, c)
		}
	}
	slices.SortStableFunc(equal, func(x, y Candidate) int { return x.compare(&y, a.Wanted, w) })
	a.Candidate, a.To = equal[0], equal[0].Row
	a.Clear, a.Equal = len(places(all)), places(equal)[1:]
	light := slices.MinFunc(all, func(x, y Candidate) int { return x.compare(&y, a.Wanted, Wish{}) })
	if light.Work.Compare(a.Work) < 0 {
		a.Lighter = &light
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

// compare orders steps that count as equal: the least work, one change at a time, the nearest to the
// wanted change. Who asks for height gets that first.
func (c *Candidate) compare(d *Candidate, wanted float64, w Wish) int {
	asked := 0
	if w.Height {
		asked = cmp.Compare(btoi(d.Changed == HeightAlone), btoi(c.Changed == HeightAlone))
	}
	return cmp.Or(asked, c.Work.Compare(d.Work), cmp.Compare(c.Changed, d.Changed),
		cmp.Compare(math.Abs(c.Change-wanted), math.Abs(d.Change-wanted)), cmp.Compare(c.Row.ID, d.Row.ID))
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}

// size sets the wanted change: from two notes, or in smallest clear steps by how much it was felt.
func (a *Advice) size(s *search, all []Candidate) {
	a.Smallest = math.Inf(1)
	for _, c := range all {
		if math.Abs(c.Change) < math.Abs(a.Smallest) {
			a.Smallest = c.Change
		}
	}
	if wanted, note, ok := s.secant(a); ok {
		a.Sizing, a.Second, a.Wanted = FromTwoNotes, note, wanted
		if most := s.driven(note, a); a.Felt < 0 && wanted > most {
			a.Wanted, a.Capped = most, true
		}
		return
	}
	times := max(1, min(math.Round(a.WingsPart), 3))
	a.Wanted = times * a.Smallest
	if times > 1 {
		a.Sizing = MultipleOfIt
	}
	if s.same != nil {
		a.Sizing, a.Second = BeyondWhatWasSame, s.same.note
	}
}

// driven is how far less wing may be gone to by a line through two notes: past the setting with the
// least wing of the two by no more than they are apart.
func (s *search) driven(note string, a *Advice) float64 {
	for i := range a.others {
		if o := &a.others[i]; o.note == note {
			to := s.toward(o.row)
			return max(to, 0) + math.Abs(to)
		}
	}
	return math.Inf(1)
}

// none says why there is no step, and where between two settings one is wanted.
func (a *Advice) none(s *search) {
	a.Finding = NoneFarEnough
	if a.TooMuch == "" {
		return
	}
	a.Finding, a.Between = NoneBetween, 0.5
	if wanted, note, ok := s.secant(a); ok && note == a.TooMuch {
		a.Between = wanted / (a.Beyond.Share - a.From.Share)
	}
}

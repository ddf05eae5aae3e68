package choose

import (
	"math"
	"slices"
)

// How large a step may be and how exactly its size is known. Common practice, no source.
const (
	MostOfWing = 1.0 / 3 // of the downforce on the setting noted, either way; not between two notes
	LeastUnit  = 0.003   // front share, fraction: the smallest change that a driver is taken to feel
)

// smallEnough keeps the steps that change downforce by no more than MostOfWing, and those that go no
// further than a comparable note was driven. From a setting that lifts there is no such part.
func (s *search) smallEnough(all []Candidate, a *Advice) []Candidate {
	most := MostOfWing * s.from.Downforce
	if most <= 0 {
		return all
	}
	driven := math.Inf(-1)
	for i := range a.others {
		if o := &a.others[i]; !math.IsNaN(o.felt) {
			driven = math.Max(driven, s.toward(o.row))
		}
	}
	var small []Candidate
	for _, c := range all {
		if math.Abs(c.Row.Downforce-s.from.Downforce) <= most+rounding || s.toward(c.Row) <= driven {
			small = append(small, c)
		}
	}
	return small
}

// fitted keeps the steps to more wing that are on the car by a later note: they were decided on already.
func (s *search) fitted(all []Candidate, a *Advice) (on []Candidate) {
	at, ok := s.t.Index(a.OnCar)
	for _, c := range all {
		if ok && c.at == at && s.sign < 0 {
			on = append(on, c)
		}
	}
	return on
}

// keepBolts keeps the steps that take the fewest bolts out of a joint.
func keepBolts(all []Candidate) (kept []Candidate) {
	fewest := slices.MinFunc(all, func(c, d Candidate) int { return c.Work.Fewer - d.Work.Fewer }).Work.Fewer
	for _, c := range all {
		if c.Work.Fewer == fewest {
			kept = append(kept, c)
		}
	}
	return kept
}

// size sets the wanted change: from two notes, or in units by how much it was felt.
func (a *Advice) size(s *search, all []Candidate) {
	a.Smallest = math.Inf(1)
	for _, c := range all {
		if math.Abs(c.Change) < math.Abs(a.Smallest) {
			a.Smallest = c.Change
		}
	}
	if wanted, note, ok := s.secant(a); ok {
		a.Sizing, a.Second, a.Wanted, a.Unit = FromTwoNotes, note, wanted, math.Abs(wanted)/a.WingsPart
		if most := s.driven(note, a); a.Felt < 0 && wanted > most {
			a.Wanted, a.Capped = most, true
		}
		return
	}
	a.Unit = LeastUnit
	if s.same != nil {
		a.Sizing, a.Second, a.Wanted = BeyondWhatWasSame, s.same.note, a.Smallest
		return
	}
	a.Unit = max(math.Abs(a.Smallest), LeastUnit)
	times := max(1, min(math.Round(a.WingsPart), 3))
	a.Wanted = times * s.sign * a.Unit
	if times > 1 {
		a.Sizing = MultipleOfIt
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
		if o := s.tried; o != nil {
			same := s.same != nil
			s.least, s.same = math.Inf(-1), nil
			if len(s.candidates()) > 0 {
				a.Finding, a.Second, a.Tried, a.TriedSame = TriedThatWay, o.note, o.row, same
			}
		}
		return
	}
	a.Finding, a.Between = NoneBetween, 0.5
	if wanted, note, ok := s.secant(a); ok && note == a.TooMuch {
		a.Between = wanted / (a.Beyond.Share - a.From.Share)
	}
}

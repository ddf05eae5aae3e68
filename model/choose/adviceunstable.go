package choose

import (
	"cmp"
	"math"
	"slices"

	"stanchion/model"
	"stanchion/model/logbook"
)

// clearlyUnstable is the stability from which a note bounds a step to less wing, as one that was too
// much does. One that is slightly unstable is named. Common practice, no source.
const clearlyUnstable = -2

// Unstable is a comparable note that says that the car was unstable.
type Unstable struct {
	Note              string
	Row               *model.Row // its setting
	Braking, Straight int        // 0 where stable or not noted, to -3 very unstable
	here              bool       // it is about the setting noted last
}

// Worst is the lesser of the two stabilities.
func (u Unstable) Worst() int { return min(u.Braking, u.Straight) }

// unsteady takes what a note says of stability.
func (e *Evidence) unsteady(n *logbook.Note, r *model.Row, here bool) {
	if !n.Feel.Unstable() {
		return
	}
	level := func(x int) int {
		if x == logbook.NoFeel {
			return 0
		}
		return x
	}
	e.Unstable = append(e.Unstable, Unstable{n.ID, r, level(n.Feel.Braking), level(n.Feel.Straight), here})
}

// unstableHere reports whether the setting noted was unstable: at all by the last note, clearly by an
// earlier one; and keeps which note says so.
func (a *Advice) unstableHere() bool {
	for _, u := range a.Unstable {
		if u.here && (u.Note == a.Note || u.Worst() <= clearlyUnstable) {
			a.unstableNote = u.Note
			return true
		}
	}
	return false
}

// UnstableNote is the note that no wing is taken off for, of UnstableFirst.
func (a Advice) UnstableNote() string { return a.unstableNote }

// steady bounds a step to less wing by the settings that were clearly unstable: it stays short of
// those with less wing. One with as much wing or more, which the last note does not say the
// opposite of, lets no wing be taken off.
func (s *search) steady(a *Advice) {
	if s.sign < 0 {
		return
	}
	for _, u := range a.Unstable {
		to := s.toward(u.Row)
		if u.Worst() > clearlyUnstable || math.IsNaN(to) {
			continue
		}
		clear := s.clarity(u.Row, s.from) == Clear
		stableNow := clear && to < 0 && (u.Braking > clearlyUnstable || a.last.Braking == 0) && (u.Straight > clearlyUnstable || a.last.Straight == 0)
		switch {
		case stableNow:
		case !clear || to <= 0:
			a.Finding, a.unstableNote = UnstableFirst, u.Note
		case to < s.most:
			s.most, s.beyond, a.BoundUnstable = to, &other{row: u.Row, felt: math.NaN(), note: u.Note}, true
		}
	}
}

// unstall finds the setting with the least work from a stalled one that has less angle, can be run and is
// clear of the stall. By how much it changes the front share is not known.
func (a *Advice) unstall(t *model.Table) {
	s := search{t: t, from: a.From, budgets: map[string]model.Budget{}}
	var all []Candidate
	for i := range t.Rows {
		for _, r := range t.Ways(i) {
			if !s.may(r) || r.Angle >= a.From.Angle || ClarityOf(r.StallMargin, s.of(r).Margin) != Clear {
				continue
			}
			all = append(all, Candidate{Row: r, Change: math.NaN(), StdUnc: math.NaN(), Work: WorkOf(a.From.Setting, r.Setting),
				Changed: ChangedBetween(a.From.Position, r.Position), at: i})
		}
	}
	if len(all) > 0 { // of equal work the one with the most angle
		c := slices.MinFunc(all, func(c, d Candidate) int {
			return cmp.Or(c.Work.Compare(d.Work), cmp.Compare(d.Row.Angle, c.Row.Angle), cmp.Compare(c.Row.ID, d.Row.ID))
		})
		a.Unstalled = &c
	}
}

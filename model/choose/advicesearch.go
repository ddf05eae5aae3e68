package choose

import (
	"cmp"
	"math"
	"slices"

	"stanchion/model"
)

// search is a search for a step from one setting.
type search struct {
	t           *model.Table
	from        *model.Row
	budget      model.Budget
	sign        float64 // of the wanted change of front share
	least, most float64 // changes that bound it, in the wanted direction
	beyond      *other  // that was too much; nil for none
	same        *other  // that felt no better, in the wanted direction; nil for none
	tried       *other  // the furthest in the wanted direction that was still off the same way; nil for none
	noLess      bool    // no less downforce than now
	budgets     map[string]model.Budget
}

// toward is the change of front share from the setting noted, positive in the wanted direction.
func (s *search) toward(r *model.Row) float64 { return s.sign * (r.Share - s.from.Share) }

// of is the budget of a row, worked out once.
func (s *search) of(r *model.Row) model.Budget {
	b, ok := s.budgets[r.ID]
	if !ok {
		b = s.t.Budget(r)
		s.budgets[r.ID] = b
	}
	return b
}

// clarity says how clear the difference of two rows' front shares is.
func (s *search) clarity(a, b *model.Row) Clarity {
	if a.ID == b.ID {
		return NoClearDifference
	}
	return ClarityOf(a.Share-b.Share, model.DifferenceStdUnc(s.of(a), s.of(b)).Share)
}

// bounds takes from the other notes how far the step must go and may go. A note that goes against
// what any wing does bounds nothing and is left out.
func (s *search) bounds(a *Advice) {
	for i := range a.others {
		o := &a.others[i]
		to := s.toward(o.row)
		clarity := s.clarity(o.row, s.from)
		clear := clarity == Clear
		opposite := o.felt*a.Felt < 0
		better := math.Abs(o.felt) < math.Abs(a.Felt) || opposite
		switch {
		case math.IsNaN(to):
		case opposite && clarity == NoClearDifference: // of settings that are no different
			a.Finding, a.Contradicts, a.torn = NotesContradict, [2]string{o.note, a.Note}, true
		case clear && to < 0 && better: // it was better the wrong way
			for _, id := range o.ids {
				a.LeftOut = append(a.LeftOut, LeftOut{id, AgainstWing})
			}
			o.felt = math.NaN()
		case to > 0 && opposite:
			if to < s.most {
				s.most, s.beyond = to, o
			}
		case to > 0 && o.felt != 0 && to > s.least:
			s.least, s.same, s.tried = to, nil, o
			if clear && !better {
				s.same = o
			}
		}
	}
	if s.steady(a); a.Finding != TryNext {
		return
	}
	if s.beyond != nil {
		a.TooMuch, a.Beyond = s.beyond.note, s.beyond.row
		if s.least >= s.most { // the nearer bound is the safer
			s.least, s.same, s.tried = math.Inf(-1), nil, nil
		}
	}
}

// candidates lists every way of bolting that is a clear step, keeps all limits and lies within the bounds.
func (s *search) candidates() (all []Candidate) {
	for i := range s.t.Rows {
		if r := &s.t.Rows[i]; !(s.toward(r) > 0) || !s.may(r) {
			continue
		}
		for _, r := range s.t.Ways(i) {
			to := s.toward(r)
			if !(to > 0) || !s.may(r) || to < s.least-rounding || to >= s.most {
				continue
			}
			std := model.DifferenceStdUnc(s.of(r), s.budget).Share
			if ClarityOf(to, std) != Clear || s.beyond != nil && s.clarity(r, s.beyond.row) != Clear || s.same != nil && s.clarity(r, s.same.row) != Clear {
				continue
			}
			all = append(all, Candidate{Row: r, Change: s.sign * to, StdUnc: std, Work: WorkOf(s.from.Setting, r.Setting),
				Changed: ChangedBetween(s.from.Position, r.Position), at: i})
		}
	}
	return all
}

// may reports whether a setting can be run: it keeps all limits, the wanted stall margin among them,
// neither lifts nor is stalled, and has no less downforce where both ends want grip.
func (s *search) may(r *model.Row) bool {
	return r.Within() && !r.Stalled && !r.Lifts() && !(s.noLess && r.Downforce < s.from.Downforce)
}

// nearest returns the candidate whose change is nearest to the wanted one, in the way of the least work.
func (s *search) nearest(all []Candidate, wanted float64) Candidate {
	return slices.MinFunc(all, func(c, d Candidate) int {
		return cmp.Or(cmp.Compare(math.Abs(c.Change-wanted), math.Abs(d.Change-wanted)), c.Work.Compare(d.Work), cmp.Compare(c.Row.ID, d.Row.ID))
	})
}

// secant returns the change of front share that a straight line through how two settings felt asks
// for: the setting noted and the one whose note says most, that which was too much before that which
// felt best. ok is false where no other is clearly apart and felt otherwise.
func (s *search) secant(a *Advice) (wanted float64, note string, ok bool) {
	var best *other
	for i := range a.others {
		o := &a.others[i]
		slope := (o.felt - a.Felt) / (o.row.Share - s.from.Share) // oversteer grows with the front share
		if !(slope > 0) || math.IsInf(slope, 0) || s.clarity(o.row, s.from) != Clear {
			continue
		}
		if best == nil || o == s.beyond || best != s.beyond && math.Abs(o.felt) < math.Abs(best.felt) {
			best = o
		}
	}
	if best == nil {
		return 0, "", false
	}
	slope := (best.felt - a.Felt) / (best.row.Share - s.from.Share)
	return -math.Copysign(a.WingsPart, a.Felt) / slope, best.note, true
}

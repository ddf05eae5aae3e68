package advise

import (
	"context"
	"math"

	"stanchion/model"
	"stanchion/model/choose"
	"stanchion/model/drill"
	"stanchion/model/given"
)

// Drill says where and with what a new hole may be drilled.
type Drill struct {
	Part     int
	Joint    string  // that the hole is kept for; "" for any
	D        float64 // mm
	Grid     float64 // mm, of the drill
	Progress func(float64)
}

// Hole is the search for a hole that gives a setting between two.
type Hole struct {
	Part      string
	Angle     given.Number      // rad, looked for; not given where it was looked for by downforce
	Downforce given.Number      // N
	Found     *drill.Suggestion // nil for none
	Row       *model.Row        // the setting that it gives, of Found's table
}

// sameHeight is within which two settings are between each other by angle alone, mm.
const sameHeight = 6.0

// between looks for a hole that gives a setting clearly apart from both that were too much, of which
// the second is a.Beyond.
func (d *Drill) between(ctx context.Context, t *model.Table, a *choose.Advice) (*Hole, error) {
	h := &Hole{Part: t.Car.Parts[d.Part].Name}
	g := d.goal(t, a)
	h.Angle, h.Downforce = g.Angle, g.Downforce
	best, _, err := drill.Suggest(ctx, t, g, d.Progress)
	if err != nil {
		return nil, err
	}
	for i := range best {
		if r := lies(t, &best[i], a); r != nil {
			h.Found, h.Row = &best[i], r
			break
		}
	}
	return h, nil
}

// goal is what the hole is wanted for: the angle between the two at their height, or where they differ
// in height the downforce between.
func (d *Drill) goal(t *model.Table, a *choose.Advice) drill.Goal {
	g := drill.Goal{Count: 1, Grid: d.Grid, Part: d.Part, Joint: d.Joint, D: d.D,
		Name: func(taken int) string { return drill.FreeHoleName(t.Car.Parts[d.Part], taken) }}
	part := func(from, to float64) given.Number { return given.Is(from + a.Between*(to-from)) }
	if math.Abs(a.From.Height-a.Beyond.Height) <= sameHeight {
		g.Angle, g.Height = part(a.From.Angle, a.Beyond.Angle), given.Is((a.From.Height+a.Beyond.Height)/2)
	} else {
		g.Downforce = part(a.From.Downforce, a.Beyond.Downforce)
	}
	return g
}

// lies returns the setting that a hole adds whose front share is between two and clearly apart from
// both, the nearest to the part of the way that is wanted; nil for none.
func lies(t *model.Table, s *drill.Suggestion, a *choose.Advice) (best *model.Row) {
	from, beyond := t.Budget(a.From), t.Budget(a.Beyond)
	off := math.Inf(1)
	for _, i := range s.Useful {
		r := &s.Table.Rows[i]
		way := (r.Share - a.From.Share) / (a.Beyond.Share - a.From.Share)
		if !(way > 0 && way < 1) || math.Abs(way-a.Between) >= off {
			continue
		}
		b := s.Table.Budget(r)
		clear := func(o *model.Row, budget model.Budget) bool {
			return choose.ClarityOf(r.Share-o.Share, model.DifferenceStdUnc(b, budget).Share) == choose.Clear
		}
		if clear(a.From, from) && clear(a.Beyond, beyond) {
			best, off = r, math.Abs(way-a.Between)
		}
	}
	return best
}

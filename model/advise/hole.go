package advise

import (
	"context"
	"math"

	"stanchion/model"
	"stanchion/model/choose"
	"stanchion/model/drill"
)

// Drill says where and with what a new hole may be drilled.
type Drill struct {
	Part     int
	Joint    string  // that the hole is kept for; "" for any
	D        float64 // mm
	Grid     float64 // mm, of the drill
	Progress func(float64)
}

// UsualDrill is a search in the part that carries the wing, for a hole as most of its are; nil where it has none to go by.
func UsualDrill(c *model.Car, progress func(float64)) *Drill {
	part := len(c.Parts) - 2
	d := drill.CommonDiameter(c.Parts[part])
	if !(d > 0 && d < 100) {
		return nil
	}
	if progress == nil {
		progress = func(float64) {}
	}
	return &Drill{Part: part, Joint: drill.DefaultJoint(c, part), D: d, Grid: 0.5, Progress: progress}
}

// Hole is the search for a hole that gives a setting between two.
type Hole struct {
	Part  string
	Found *drill.Suggestion // nil for none
	Row   *model.Row        // the setting that it gives, of Found's table
}

// between looks for a hole that gives a setting clearly apart from both that were too much, of which
// the second is a.Beyond.
func (d *Drill) between(ctx context.Context, t *model.Table, a *choose.Advice) (*Hole, error) {
	h := &Hole{Part: t.Car.Parts[d.Part].Name}
	found, err := drill.Suggest(ctx, drill.NewExisting(t), d.goal(t, a), d.Progress)
	if err != nil {
		return nil, err
	}
	for i := range found.Best {
		if r := lies(t, &found.Best[i], a); r != nil {
			h.Found, h.Row = &found.Best[i], r
			break
		}
	}
	return h, nil
}

// goal is what the hole is wanted for: a setting whose front share is between those of the two.
func (d *Drill) goal(t *model.Table, a *choose.Advice) drill.Goal {
	return drill.Goal{Between: &drill.Between{A: a.From, B: a.Beyond, By: drill.ByShare}, Count: 1, Grid: d.Grid, Part: d.Part,
		Joint: d.Joint, D: d.D, Name: func(taken int) string { return drill.FreeHoleName(t.Car.Parts[d.Part], taken) }}
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

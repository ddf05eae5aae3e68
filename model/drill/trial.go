package drill

import (
	"context"

	"stanchion/holes"
	"stanchion/model"
	"stanchion/model/choose"
)

// NewHole is a hole that is not drilled yet, in a part by its index.
type NewHole struct {
	Part int
	holes.Hole
}

// With returns the car with further holes, each the last of its part.
func With(c *model.Car, hs ...NewHole) *model.Car {
	next := *c
	next.Parts = append([]model.Part(nil), c.Parts...)
	for _, h := range hs {
		p := &next.Parts[h.Part]
		p.Holes = append(p.Holes[:len(p.Holes):len(p.Holes)], h.Hole)
	}
	return &next
}

// DefaultJoint returns the joint that a new hole of a part is kept for when
// nobody says: the one nearest to the wing, if the part keeps all of its other
// holes for one joint or another; else "", for any.
func DefaultJoint(c *model.Car, part int) string {
	for _, h := range c.Parts[part].Holes {
		if h.Joint == "" {
			return ""
		}
	}
	return c.Joints[min(part, len(c.Joints)-1)].Name
}

// Trial is what further holes would change.
type Trial struct {
	Holes   []NewHole
	Table   *model.Table
	Added   []int    // rows of Table that use a new hole and were not to be had before
	Further []string // ids of settings that get a further bolt
	Useful  []int    // those of Added within limits, not stalled, and unlike any that exists
	Rules   []RuleCheck
	Before  []choose.Level
	After   []choose.Level
	Verdict Verdict
}

// Try works out what further holes would change. The wing's curve stays what it
// is in the table. It ends with the context's error when that is cancelled.
func Try(ctx context.Context, t *model.Table, hs ...NewHole) (Trial, error) {
	tr := Trial{Holes: hs, Before: choose.Levels(t)}
	car := With(t.Car, hs...)
	for _, h := range hs {
		tr.Rules = append(tr.Rules, HoleRules(&car.Parts[h.Part], h.Hole)...)
	}
	places, err := car.Positions()
	if err != nil {
		return tr, err
	}
	tr.Table = model.NewTable(car, places, t.Wing, t.Speed)
	old := map[string]bool{}
	for i := range t.Rows {
		old[t.Rows[i].ID] = true
		for _, a := range t.Rows[i].Alternatives {
			old[a.ID] = true
		}
	}
	for i := range tr.Table.Rows {
		r := &tr.Table.Rows[i]
		if !uses(t, r, hs) {
			continue
		}
		if id := withoutNew(t, car, r, hs); old[id] {
			tr.Further = append(tr.Further, id)
			continue
		}
		tr.Added = append(tr.Added, i)
	}
	tr.After = choose.Levels(tr.Table)
	return tr, tr.judge(ctx, t)
}

// uses reports whether a row of a car with further holes takes one of them.
func uses(t *model.Table, r *model.Row, hs []NewHole) bool {
	for j, f := range r.Fits {
		for _, p := range f.Pairs {
			if isNew(t, j, p.Lower) || isNew(t, j+1, p.Upper) {
				return true
			}
		}
	}
	return false
}

func isNew(t *model.Table, part, hole int) bool { return hole >= len(t.Car.Parts[part].Holes) }

// withoutNew returns the id that a row would have without the new holes' bolts.
func withoutNew(t *model.Table, car *model.Car, r *model.Row, hs []NewHole) string {
	id := ""
	for j, f := range r.Fits {
		var kept []holes.Pair
		for _, p := range f.Pairs {
			if !isNew(t, j, p.Lower) && !isNew(t, j+1, p.Upper) {
				kept = append(kept, p)
			}
		}
		if j > 0 {
			id += "/"
		}
		id += holes.FitID(car.Parts[j].Part, car.Parts[j+1].Part, holes.Fit{Pairs: kept})
	}
	return id
}

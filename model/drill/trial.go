package drill

import (
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
	Uses    []Like   // of each of Added, why it is of use or not
	Shrink  float64  // rad, by how much the widest steps of all heights shrink together
	Rules   []RuleCheck
	Before  []choose.Level
	After   []choose.Level
	Verdict Verdict
}

// uses reports whether a row of a car with further holes takes one of them.
func uses(before *model.Car, r *model.Row) bool {
	for j, f := range r.Fits {
		for _, p := range f.Pairs {
			if isNew(before, j, p.Lower) || isNew(before, j+1, p.Upper) {
				return true
			}
		}
	}
	return false
}

func isNew(before *model.Car, part, hole int) bool { return hole >= len(before.Parts[part].Holes) }

// withoutNew returns the id that a row would have without the new holes' bolts.
func withoutNew(before, car *model.Car, r *model.Row) string {
	id := ""
	for j, f := range r.Fits {
		var kept []holes.Pair
		for _, p := range f.Pairs {
			if !isNew(before, j, p.Lower) && !isNew(before, j+1, p.Upper) {
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

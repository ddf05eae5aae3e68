package design

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/fastener"
	"stanchion/model/given"
	"stanchion/model/outline"
)

// Bounds of what a person draws, mm.
const (
	LeastRim = 2.0   // of metal that is left beside a hole: less than any rule allows, so that the rules can say so
	MostEdge = 200.0 // from a hole to the edge
)

// Drawn returns the proposal with its plate's holes as a person has them, those of the foot first, then front and rear ones, and with the outline around them at
// some distances, mm, by hole; holes that are not named have the usual one. The outline is made anew, without cut-outs; settings, levels and
// limits are what the engine lists. Whether the levels are still given as wanted is in them. The error is the engine's.
func (p *Proposal) Drawn(w *Wish, hs []holes.Hole, edges map[string]float64) (*Proposal, error) {
	if p.Foot+p.Fronts+p.Rears != len(hs) {
		return nil, fmt.Errorf("%d holes are drawn, not %d", len(hs), p.Foot+p.Fronts+p.Rears)
	}
	q := *p
	car := *p.Car
	car.Parts = slices.Clone(car.Parts)
	plate := &car.Parts[p.footJoint()+1]
	plate.Holes, plate.Cutouts = slices.Clone(hs), nil
	q.Car, q.Edges = &car, maps.Clone(edges)
	q.Shape, q.Around, q.Lightened, q.Merits = Convex, nil, nil, nil
	plate.Outline = outline.Convex(q.around())
	var err error
	if q.Table, err = car.Map(car.Speed); err != nil {
		return nil, err
	}
	q.Levels = w.levels(q.Table)
	if err := w.shaped(&q); err != nil {
		return nil, err
	}
	q.measure()
	return &q, nil
}

// With returns the proposal with further holes in its plate; what they are for is read from the settings that they bring.
func (p *Proposal) With(w *Wish, further []holes.Hole) (*Proposal, error) {
	car := *p.Car
	car.Parts = slices.Clone(car.Parts)
	plate := &car.Parts[len(car.Parts)-2]
	plate.Holes = append(slices.Clip(plate.Holes), further...)
	t, err := car.Map(car.Speed)
	if err != nil {
		return nil, err
	}
	roles := rolesOf(t)
	q := *p
	hs := slices.Clone(p.Plate().Holes)
	for i, h := range further {
		at := len(hs)
		switch roles[len(p.Plate().Holes)+i] {
		case AtFoot:
			at = q.Foot
			q.Foot++
		case AtFront:
			at = q.Foot + q.Fronts
			q.Fronts++
		default:
			q.Rears++
		}
		hs = slices.Insert(hs, at, h)
	}
	return q.Drawn(w, hs, p.Edges)
}

// RoleOf is what the hole of the plate at an index is for.
func (p *Proposal) RoleOf(n int) Role {
	switch {
	case n < p.Foot:
		return AtFoot
	case n < p.Foot+p.Fronts:
		return AtFront
	}
	return AtRear
}

// around lists the plate's holes as its outline goes around them: at the usual distance, or the person's.
func (p *Proposal) around() []outline.Hole {
	all := around(p.Plate().Holes)
	for i, h := range p.Plate().Holes {
		if e, ok := p.Edges[h.ID]; ok {
			e = min(max(e, h.D/2+LeastRim), MostEdge)
			all[i].Usual, all[i].Least = e, min(all[i].Least, e)
		}
	}
	return all
}

// EdgeOf is how far from a hole of the plate its outline is drawn where nothing is in the way, mm.
func (p *Proposal) EdgeOf(h holes.Hole) float64 {
	if e, ok := p.Edges[h.ID]; ok {
		return e
	}
	return fastener.Edge(h.D).Usual
}

// measure works out anew what the proposal's figures are, from the settings that are wanted.
func (p *Proposal) measure() {
	p.Area, _ = p.Plate().Area()
	p.Widest, p.Arm, p.Hang, p.Slot = 0, 0, 0, 0
	at := p.footJoint()
	bracket, wing := p.Car.Parts[at].Holes, p.Car.Parts[at+2].Holes
	lowest, _ := plane.Box(at0(bracket))
	front := slices.MinFunc(wing, func(a, b holes.Hole) int { return cmp.Compare(a.X, b.X) }).At()
	var rows []*model.Row
	for _, l := range p.Levels {
		p.Widest = max(p.Widest, l.Widest)
		for _, n := range l.Rows {
			r := &p.Table.Rows[n]
			rows = append(rows, r)
			foot := r.Fits[at].Pose
			for _, h := range p.Plate().Holes[:p.Foot] {
				p.Hang = max(p.Hang, lowest.Z-foot.Apply(h.At()).Z)
			}
			top := math.Inf(-1)
			for _, q := range r.Fits[at].Pairs {
				top = max(top, bracket[q.Lower].Z)
			}
			p.Arm = max(p.Arm, foot.Then(r.Fits[at+1].Pose).Apply(front).Z-top)
		}
	}
	for _, s := range p.Table.Slots(rows) {
		p.Slot = max(p.Slot, s.Length())
	}
	if len(p.Kept) > 0 {
		idle := p.idle()
		p.Idle = slices.DeleteFunc(slices.Clone(p.Kept), func(id string) bool { return !slices.Contains(idle, id) })
	}
}

func at0(hs []holes.Hole) (all []plane.Point) {
	for _, h := range hs {
		all = append(all, h.At())
	}
	return all
}

// Given reports whether a proposal gives all that is wanted.
func (p *Proposal) Given() bool {
	return !slices.ContainsFunc(p.Levels, func(l Level) bool { return !l.Given })
}

// Empty reports whether no setting is at any of the heights and angles wanted.
func (p *Proposal) Empty() bool { return len(p.wanted()) == 0 }

// BreakingRows lists the rows of the settings wanted that break a limit.
func (p *Proposal) BreakingRows() (rows []int) {
	for _, n := range p.wanted() {
		if p.Table.Rows[n].Breaks() {
			rows = append(rows, n)
		}
	}
	return rows
}

// AngleChange is what became of an angle at a height, rad: one that is only before is lost, one that is only after is new.
type AngleChange struct{ Before, After given.Number }

// LevelChange is what became of one of the heights wanted.
type LevelChange struct {
	Before, After *Level
	Angles        []AngleChange // by angle
}

// sameAngle is how near two angles of a height are that count as one bolted in another way, rad.
const sameAngle = 0.25 * plane.Deg

// Against compares the levels of a proposal with those of one that it was made from: a setting is followed by its bolts, or where those do not go in any more, by
// another one with nearly its angle.
func (p *Proposal) Against(before *Proposal) []LevelChange {
	all := make([]LevelChange, len(p.Levels))
	for i := range p.Levels {
		c := &all[i]
		c.Before, c.After = &before.Levels[i], &p.Levels[i]
		taken := map[int]bool{}
		var lost []float64
		for _, n := range c.Before.Rows {
			r := &before.Table.Rows[n]
			if k, ok := p.Table.Index(r.ID); ok && slices.Contains(c.After.Rows, k) {
				if !taken[k] {
					c.Angles = append(c.Angles, AngleChange{given.Is(r.Angle), given.Is(p.Table.Rows[k].Angle)})
				}
				taken[k] = true
				continue
			}
			lost = append(lost, r.Angle)
		}
		for _, a := range lost {
			change := AngleChange{Before: given.Is(a)}
			for _, k := range c.After.Rows {
				if b := p.Table.Rows[k].Angle; math.Abs(b-a) < sameAngle {
					if taken[k] {
						change = AngleChange{} // another setting stands for it
					} else {
						change.After, taken[k] = given.Is(b), true
					}
					break
				}
			}
			if change != (AngleChange{}) {
				c.Angles = append(c.Angles, change)
			}
		}
		for _, k := range c.After.Rows {
			if !taken[k] {
				c.Angles = append(c.Angles, AngleChange{After: given.Is(p.Table.Rows[k].Angle)})
			}
		}
		slices.SortStableFunc(c.Angles, func(a, b AngleChange) int {
			of := func(x AngleChange) float64 { return x.Before.Or(x.After.Or(0)) }
			switch {
			case of(a) < of(b):
				return -1
			case of(a) > of(b):
				return 1
			}
			return 0
		})
	}
	return all
}

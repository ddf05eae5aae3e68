package design

import (
	"cmp"
	"context"
	"math"
	"slices"

	"stanchion/model"
)

// choose has the engine list the settings of what was found, and takes the best in each way.
func (d *Designed) choose(ctx context.Context, found []pattern, progress func(float64)) error {
	var all []Proposal
	seen := map[string]bool{}
	for i, p := range found {
		if err := ctx.Err(); err != nil {
			return err
		}
		progress(float64(i) / float64(len(found)))
		if seen[p.key()] {
			continue
		}
		seen[p.key()] = true
		one, err := p.proposal(&d.Wish)
		if d.tooLow(err) {
			continue
		}
		if err != nil {
			return err
		}
		if one != nil {
			all = append(all, *one)
		}
	}
	d.Looked = len(all)
	if len(all) == 0 {
		return nil
	}
	fewest := math.MaxInt
	for i := range all {
		fewest = min(fewest, all[i].Holes())
	}
	all = slices.DeleteFunc(all, func(p Proposal) bool { return p.Holes() > fewest+more })
	slices.SortStableFunc(all, func(a, b Proposal) int {
		return cmp.Or(cmp.Compare(a.Holes(), b.Holes()), cmp.Compare(a.breaking(), b.breaking()), cmp.Compare(a.Area, b.Area))
	})
	merits := map[Merit]func(p *Proposal) float64{
		FewestHoles: func(p *Proposal) float64 { return float64(p.Holes()) },
		FinestSteps: func(p *Proposal) float64 { return p.Widest },
		ShortestArm: func(p *Proposal) float64 { return math.Round(p.Arm) },
		Lightest:    func(p *Proposal) float64 { return math.Round(p.Area / 100) },
	}
	if slices.ContainsFunc(all, func(p Proposal) bool { return p.Slot > 0 }) {
		merits[ShortestSlot] = func(p *Proposal) float64 { return math.Round(p.Slot) }
	}
	for m := FewestHoles; m <= ShortestSlot; m++ {
		of, ok := merits[m]
		if !ok {
			continue
		}
		best := 0
		for i := range all {
			if of(&all[i]) < of(&all[best])-1e-9 {
				best = i
			}
		}
		all[best].Merits = append(all[best].Merits, m)
	}
	for _, p := range all {
		if len(p.Merits) > 0 {
			d.Proposals = append(d.Proposals, p)
		}
	}
	return nil
}

// breaking counts the settings wanted that break a limit.
func (p *Proposal) breaking() (n int) {
	for _, l := range p.Levels {
		n += l.Breaking
	}
	return n
}

// proposal lists the settings of a pattern; nil where they are not what is wanted after all.
func (p *pattern) proposal(w *Wish) (*Proposal, error) {
	car := p.car()
	t, err := car.Map(car.Speed)
	if err != nil {
		return nil, err
	}
	one := &Proposal{Car: car, Table: t, Levels: w.levels(t), Bracket: p.frame.drilled(), Foot: len(p.foot.holes), Fronts: len(p.head.fronts), Rears: len(p.head.rears),
		Pitch: p.frame.pitch, Tilts: p.foot.tilts, Arm: p.arm(), Hang: p.foot.hang}
	if err := w.shaped(one); err != nil {
		return nil, err
	}
	t = one.Table
	one.Area, _ = one.Plate().Area()
	var rows []*model.Row
	for _, l := range one.Levels {
		if !l.Given {
			return nil, nil
		}
		one.Widest = max(one.Widest, l.Widest)
		for _, n := range l.Rows {
			rows = append(rows, &t.Rows[n])
		}
	}
	for _, s := range t.Slots(rows) {
		one.Slot = max(one.Slot, s.Length())
	}
	return one, nil
}

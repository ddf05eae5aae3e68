package design

import (
	"cmp"
	"context"
	"math"
	"slices"

	"stanchion/holes/plane"
)

// What a bracket that has no holes yet is like when nothing is said of it, mm.
const (
	usualColumns = 60.0
	usualHigh    = 160.0
	mostBrackets = 3 // that are searched further, those with the fewest holes with their plates
)

// drilled is how many holes of the fixed part are to be drilled.
func (f *frame) drilled() int {
	if f.fresh {
		return len(f.bracket)
	}
	return 0
}

// brackets are the frames to search: with the holes that the fixed part has, or where it has none, with two columns of rows as far apart as the heights wanted are,
// or a half or a third of that. They begin at the origin of the fixed part.
func (f *frame) brackets(ctx context.Context, progress func(float64)) ([]*frame, error) {
	if len(f.car.Parts[f.footJoint()].Holes) > 0 {
		return []*frame{f}, nil
	}
	columns, high := cmp.Or(f.wish.BracketColumns, usualColumns), cmp.Or(f.wish.BracketHigh, usualHigh)
	type option struct {
		*frame
		holes int
	}
	var all []option
	steps := f.rowSteps()
	for i, step := range steps {
		progress(float64(i) / float64(len(steps)))
		for rows := 2; float64(rows-1)*step <= high+1e-9 && rows <= 12; rows++ {
			g := *f
			g.fresh, g.bracket = true, nil
			for i := range rows {
				for _, x := range []float64{0, columns} {
					g.bracket = append(g.bracket, plane.Point{X: x, Z: math.Round(float64(i)*step*10) / 10})
				}
			}
			if len(g.bracket) < g.wish.FootBolts || columns < g.footPairs {
				continue
			}
			g.places, g.motions = []place{{plane.Pose{}, g.bracket}}, g.motionsOf()
			feet, err := g.upright(ctx)
			if err != nil {
				return nil, err
			}
			if len(feet) > 0 {
				g.standing = feet
				all = append(all, option{&g, len(g.bracket) + len(feet[0].holes)})
			}
		}
	}
	slices.SortStableFunc(all, func(a, b option) int { return cmp.Compare(a.holes, b.holes) })
	var best []*frame
	for _, o := range all[:min(len(all), mostBrackets)] {
		best = append(best, o.frame)
	}
	return best, nil
}

// rowSteps lists the spacings of rows that are tried, mm: those with room for a spanner.
func (f *frame) rowSteps() (all []float64) {
	add := func(step float64) {
		if step >= f.footPairs && step <= 120 && fresh(all, step, 0.5) {
			all = append(all, step)
		}
	}
	for i, a := range f.wish.Heights {
		for _, b := range f.wish.Heights[:i] {
			for part := 1.0; part <= 3; part++ {
				add((a - b) / part / math.Cos(f.lean()))
			}
		}
	}
	for _, usual := range []float64{25, 30, 40, 50, 60} {
		add(usual)
	}
	return all
}

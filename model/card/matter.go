package card

import (
	"cmp"
	"math"
	"slices"

	"stanchion/model"
	"stanchion/model/choose"
)

// Matter picks at most so many of some rows, those that do most to the car: the one with the least downforce, the one with the
// most, and then again and again the one that is furthest in downforce from all picked, as long as it is not alike with one of
// them. Of those that are alike the one that takes the least work from a picked one goes. They come in the order of rows.
func Matter(t *model.Table, rows []*model.Row, most int) []*model.Row {
	if len(rows) <= most {
		return rows
	}
	budgets := map[*model.Row]model.Budget{}
	var free []*model.Row
	for _, r := range rows {
		if r.Downforce == r.Downforce { // its figures are known
			budgets[r] = t.Budget(r)
			free = append(free, r)
		}
	}
	if len(free) == 0 {
		return rows[:most]
	}
	alike := func(a, b *model.Row) bool {
		d, _ := choose.ApartIn(a, b, model.DifferenceStdUnc(budgets[a], budgets[b]))
		return d == choose.NoClearDifference
	}
	byForce := func(a, b *model.Row) int {
		switch {
		case a.Downforce < b.Downforce:
			return -1
		case a.Downforce > b.Downforce:
			return 1
		}
		return 0
	}
	picked := []*model.Row{slices.MinFunc(free, byForce)}
	if last := slices.MaxFunc(free, byForce); most > 1 && !alike(picked[0], last) {
		picked = append(picked, last)
	}
	for len(picked) < most {
		next := furthest(free, picked, alike)
		if next == nil {
			break
		}
		picked = append(picked, leastWork(free, picked, next, alike))
	}
	return slices.DeleteFunc(slices.Clone(rows), func(r *model.Row) bool { return !slices.Contains(picked, r) })
}

// furthest is the row that is furthest in downforce from the picked ones and alike with none; nil where there is none.
func furthest(free, picked []*model.Row, alike func(a, b *model.Row) bool) (best *model.Row) {
	off := 0.0
	for _, r := range free {
		near := nearness(r, picked)
		if near > off && !slices.ContainsFunc(picked, func(p *model.Row) bool { return alike(p, r) }) {
			best, off = r, near
		}
	}
	return best
}

// nearness is how far, in N, a row is from the nearest of some.
func nearness(r *model.Row, picked []*model.Row) float64 {
	least := max(r.Downforce-picked[0].Downforce, picked[0].Downforce-r.Downforce)
	for _, p := range picked[1:] {
		least = min(least, max(r.Downforce-p.Downforce, p.Downforce-r.Downforce))
	}
	return least
}

// leastWork is the row of those alike with one, and with none picked, that takes the least work from a picked one.
func leastWork(free, picked []*model.Row, one *model.Row, alike func(a, b *model.Row) bool) *model.Row {
	work := func(r *model.Row) (least choose.Work) {
		for i, p := range picked {
			if w := choose.WorkOf(p.Setting, r.Setting); i == 0 || w.Compare(least) < 0 {
				least = w
			}
		}
		return least
	}
	best := one
	for _, r := range free {
		if r == one || slices.Contains(picked, r) || !alike(one, r) ||
			slices.ContainsFunc(picked, func(p *model.Row) bool { return alike(p, r) }) {
			continue
		}
		if work(r).Compare(work(best)) < 0 {
			best = r
		}
	}
	return best
}

// Grouped puts rows whose lower joints are bolted alike together, those with the wing's plate lowest first, and within those by
// angle.
func Grouped(t *model.Table, rows []*model.Row) []*model.Row {
	key := func(r *model.Row) (plate float64, below string) {
		below, _ = t.NameParts(r.Setting)
		return math.Round(t.Car.PartPoses(r.Setting)[len(t.Car.Parts)-2].Z), below
	}
	all := slices.Clone(rows)
	slices.SortStableFunc(all, func(a, b *model.Row) int {
		za, ga := key(a)
		zb, gb := key(b)
		return cmp.Or(cmp.Compare(za, zb), cmp.Compare(ga, gb), cmp.Compare(a.Angle, b.Angle), cmp.Compare(a.ID, b.ID))
	})
	return all
}

package drill

import (
	"slices"

	"stanchion/model"
	"stanchion/model/choose"
)

// LevelChange is what further holes do to the settings at one height: nil for none.
type LevelChange struct{ Without, With *choose.Level }

// LevelChanges returns the heights at which new settings within limits count, as Shrink counts them: each height that
// there is with the new settings within 8 mm of its own, and then heights that there were not. A new setting between
// two heights counts for both, but does not make them one.
func (tr *Trial) LevelChanges() (all []LevelChange) {
	if tr.Table == nil {
		return nil
	}
	within := func(i int) bool { r := &tr.Table.Rows[i]; return r.Within() && !r.Stalled }
	var fresh, left []int
	for _, i := range tr.Added {
		if within(i) {
			fresh = append(fresh, i)
		}
	}
	left = slices.Clone(fresh)
	for k := range tr.Before {
		was := &tr.Before[k]
		var rows []*model.Row
		news := 0
		for i := range tr.Table.Rows {
			r := &tr.Table.Rows[i]
			switch {
			case !within(i):
			case slices.Contains(fresh, i):
				if r.Height >= was.Lowest-sameLevel && r.Height <= was.Highest+sameLevel {
					rows, news = append(rows, r), news+1
					left = slices.DeleteFunc(left, func(j int) bool { return j == i })
				}
			case r.Height >= was.Lowest && r.Height <= was.Highest:
				rows = append(rows, r)
			}
		}
		if news > 0 {
			now := choose.LevelOf(rows)
			all = append(all, LevelChange{was, &now})
		}
	}
	var rows []*model.Row
	for n, i := range left { // in the order of height
		rows = append(rows, &tr.Table.Rows[i])
		if n+1 == len(left) || tr.Table.Rows[left[n+1]].Height-tr.Table.Rows[i].Height > sameLevel {
			now := choose.LevelOf(rows)
			all, rows = append(all, LevelChange{nil, &now}), nil
		}
	}
	slices.SortStableFunc(all, func(a, b LevelChange) int {
		switch {
		case a.With.Height < b.With.Height:
			return -1
		case a.With.Height > b.With.Height:
			return 1
		}
		return 0
	})
	return all
}

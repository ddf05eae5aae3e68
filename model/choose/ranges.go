package choose

import (
	"strings"

	"stanchion/model"
)

// Range is rows that differ only in where bolts sit in slots: one way of bolting
// with a range of places. Mostly it is one row.
type Range struct{ Rows []*model.Row }

// Ranges puts rows that differ only in places along slots together, in the order
// of the first of each.
func Ranges(t *model.Table, rows []*model.Row) []Range {
	at := map[string]int{}
	var all []Range
	for _, r := range rows {
		key := withoutPlaces(t, r)
		i, met := at[key]
		if !met {
			i = len(all)
			at[key] = i
			all = append(all, Range{})
		}
		all[i].Rows = append(all[i].Rows, r)
	}
	return all
}

// withoutPlaces is a row's id with its slots named without the place in them.
func withoutPlaces(t *model.Table, r *model.Row) string {
	if !strings.Contains(r.ID, "@") {
		return r.ID
	}
	var b strings.Builder
	for j, f := range r.Fits {
		for _, p := range f.Pairs {
			for _, h := range [2]struct {
				part int
				hole int
			}{{j, p.Lower}, {j + 1, p.Upper}} {
				hole := t.Car.Parts[h.part].Holes[h.hole]
				id := hole.ID
				if hole.Slot != "" {
					id = hole.Slot
				}
				b.WriteString(id)
				b.WriteByte(':')
			}
		}
		b.WriteByte('/')
	}
	return b.String()
}

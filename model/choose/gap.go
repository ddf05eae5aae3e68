package choose

import (
	"cmp"
	"math"
	"slices"

	"stanchion/model"
)

// Gap is a step between two neighbouring angles that a hole could halve.
type Gap struct{ Low, High *model.Row }

// WidestGap returns the widest step between neighbouring angles at one height, of the
// settings that keep all limits and make downforce; ok is false where there is none that is wider
// than twice the play of its ends.
func WidestGap(t *model.Table) (gap Gap, ok bool) {
	var rows []*model.Row
	widest := 0.0
	flush := func() {
		slices.SortStableFunc(rows, func(a, b *model.Row) int { return cmp.Compare(a.Angle, b.Angle) })
		for i := 1; i < len(rows); i++ {
			low, high := rows[i-1], rows[i]
			step := high.Angle - low.Angle
			if step > widest+1e-9 && step > 2*math.Hypot(low.Play, high.Play) {
				widest, gap, ok = step, Gap{low, high}, true
			}
		}
		rows = rows[:0]
	}
	last := math.Inf(-1)
	for i := range t.Rows { // in the order of height
		r := &t.Rows[i]
		if !r.Within() || r.Stalled || r.Lifts() {
			continue
		}
		if r.Height-last > levelGap {
			flush()
		}
		rows, last = append(rows, r), r.Height
	}
	flush()
	return gap, ok
}

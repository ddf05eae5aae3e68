package logbook

import "slices"

// inForce returns the notes that count, the latest last: those that none replaces and that do
// not take one back. Of notes that replace one another in a circle, as a hand may have left
// them, the one that stands last in the file counts.
func inForce(all []Note) (notes []Note, circles [][]string) {
	last := make(map[string]int, len(all)) // where a note of an id stands
	for i, n := range all {
		last[n.ID] = i
	}
	delete(last, "")
	kept := map[string]string{} // the note that counts of a circle, and which replaces it there
	state := make([]int, len(all))
	for start := range all {
		var way []int
		for at := start; state[at] == 0; {
			state[at] = 1
			way = append(way, at)
			to, there := last[all[at].Replaces]
			if !there || all[at].Replaces == all[at].ID {
				break
			}
			if state[to] == 1 {
				circle := way[slices.Index(way, to):]
				top := slices.Max(circle)
				var ids []string
				for _, i := range circle {
					ids = append(ids, all[i].ID)
					if last[all[i].Replaces] == top {
						kept[all[top].ID] = all[i].ID
					}
				}
				circles = append(circles, ids)
			}
			at = to
		}
		for _, i := range way {
			state[i] = 2
		}
	}
	replaced := map[string]bool{}
	for _, n := range all {
		if n.Replaces != n.ID && kept[n.Replaces] != n.ID {
			replaced[n.Replaces] = true
		}
	}
	for _, n := range all {
		if !replaced[n.ID] && !n.Withdrawn {
			notes = append(notes, n)
		}
	}
	slices.SortStableFunc(notes, func(x, y Note) int { return x.At.Compare(y.At) })
	return notes, circles
}

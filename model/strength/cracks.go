package strength

import (
	"slices"

	"stanchion/holes/plane"
)

// Hot is a place of a plate that uses much of its strength, where cracks are looked for first.
type Hot struct {
	Part  string
	At    plane.Point // mm, in the part's own frame
	Share float64     // of the strength there that is used, in the plate's worst load case
	Hole  string      // the nearest, "" where the part has none
}

// How many places of a plate are named, how far apart at least, mm, and from which part of the plate's largest share on.
// Common practice in looking for cracks is holes and edges first; the numbers are our choice, no source.
const (
	mostHot   = 3
	hotApart  = 30.0
	hotFromOf = 0.6
)

// HotPlaces lists for each plate of a result the middle of the chord that uses most of its strength, and then the places of its
// field that use most, the most first; none where the plates were not solved.
func (f *Analysis) HotPlaces(r Result) (all []Hot) {
	if r.Solved == nil {
		return nil
	}
	for i := range r.Solved.Plates {
		p := &r.Solved.Plates[i]
		field := slices.Clone(p.Field)
		slices.SortStableFunc(field, func(a, b Used) int {
			switch {
			case a.Share > b.Share:
				return -1
			case a.Share < b.Share:
				return 1
			}
			return 0
		})
		var taken []Hot
		if l := p.Worst.Line; l[0] != l[1] {
			at := l[0].Add(l[1]).Times(0.5)
			taken = []Hot{{p.Name, at, p.Worst.Utilisation(), f.nearestHole(p.Part, at)}}
		}
		for _, u := range field {
			if len(taken) == mostHot || u.Share < hotFromOf*field[0].Share {
				break
			}
			if slices.ContainsFunc(taken, func(h Hot) bool { return h.At.Distance(u.At) < hotApart }) {
				continue
			}
			taken = append(taken, Hot{p.Name, u.At, u.Share, f.nearestHole(p.Part, u.At)})
		}
		all = append(all, taken...)
	}
	return all
}

// nearestHole names the hole of a part that is nearest to a place; "" where it has none.
func (f *Analysis) nearestHole(part int, at plane.Point) (name string) {
	least := 0.0
	for _, h := range f.Car.Parts[part].Holes {
		id := h.ID
		if h.Slot != "" {
			id = h.Slot
		}
		if d := h.At().Distance(at); name == "" || d < least {
			name, least = id, d
		}
	}
	return name
}

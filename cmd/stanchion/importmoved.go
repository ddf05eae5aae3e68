package main

import (
	"fmt"
	"math"

	"stanchion/holes"
	"stanchion/model"
	"stanchion/model/cad"
	"stanchion/model/units"
)

// movedHole is a hole of the part as it was, and as the drawing has it.
type movedHole struct{ was, is holes.Hole }

// remeasured takes those of the holes that were found for holes of the part that lie within reach and are nearest either way: the
// same holes, measured anew. Two that could be one hole are left as they are, and noted.
func remeasured(found *cad.Found, p model.Part, reach float64) (moved []movedHole) {
	nearest := func(h holes.Hole, all []holes.Hole) (at int) {
		at, best := -1, reach
		for i, o := range all {
			if d := o.At().Distance(h.At()); o.Slot == "" && d <= best {
				at, best = i, d
			}
		}
		return at
	}
	var kept []holes.Hole
	for i, h := range found.Holes {
		k := nearest(h, p.Holes)
		switch {
		case k < 0:
			kept = append(kept, h)
			continue
		case nearest(p.Holes[k], found.Holes) != i:
			found.Notes = append(found.Notes, fmt.Sprintf("the circle at %.2f, %.2f is near hole %s, and another is nearer: not taken", h.X, h.Z, p.Holes[k].ID))
			continue
		}
		if j := rival(h, p.Holes, k, reach); j >= 0 && nearest(p.Holes[j], found.Holes) == i {
			found.Notes = append(found.Notes, fmt.Sprintf("the circle at %.2f, %.2f may be hole %s, %.1f mm off, or %s, %.1f mm off: not taken; a shorter --moved takes it for neither",
				h.X, h.Z, p.Holes[k].ID, h.At().Distance(p.Holes[k].At()), p.Holes[j].ID, h.At().Distance(p.Holes[j].At())))
			continue
		}
		was := p.Holes[k]
		if _, built := p.Built[was.ID]; built {
			found.Notes = append(found.Notes, fmt.Sprintf("hole %s was measured as built: \"stanchion hole built\" measures it anew", was.ID))
			continue
		}
		if was.At().Distance(h.At()) < 0.005 && math.Abs(was.D-h.D) < 0.005 {
			found.Notes = append(found.Notes, fmt.Sprintf("the circle at %.2f, %.2f is hole %s, which the part has", h.X, h.Z, was.ID))
			continue
		}
		is := was
		is.X, is.Z, is.D = h.X, h.Z, h.D
		moved = append(moved, movedHole{was, is})
	}
	found.Holes = kept
	return moved
}

// rival returns the hole of a part within reach that a circle is less than twice as far from as from the nearest; -1 for none.
func rival(h holes.Hole, all []holes.Hole, nearest int, reach float64) int {
	best, least := -1, min(reach, 2*h.At().Distance(all[nearest].At()))
	for i, o := range all {
		if d := h.At().Distance(o.At()); i != nearest && o.Slot == "" && d < least {
			best, least = i, d
		}
	}
	return best
}

// movedText lists the holes that move.
func movedText(p *printer, moved []movedHole, u units.System) {
	for _, m := range moved {
		p.f("  move %-8s x %s to %s  z %s to %s  dia. %s to %s  (by %s)\n", units.Printable(m.was.ID), u.Dimension(m.was.X), u.Dimension(m.is.X),
			u.Dimension(m.was.Z), u.Dimension(m.is.Z), u.Dimension(m.was.D), u.Dimension(m.is.D), u.Dimension(m.was.At().Distance(m.is.At())))
	}
}

// inInches reports whether the holes of a drawing that is read in mm are those of a part drawn in inches: all of them smaller than every
// bolt of the part, and not so 25.4 times as large. bolt is the smallest shank, mm.
func inInches(found cad.Found, car *model.Car, part int) (bolt float64, yes bool) {
	bolt = math.Inf(1)
	for i, j := range car.Joints {
		if i == part || i == part-1 {
			bolt = min(bolt, j.Shank)
		}
	}
	if math.IsInf(bolt, 1) || len(found.Holes) == 0 {
		return 0, false
	}
	for _, h := range found.Holes {
		if h.D >= bolt/2 || h.D*units.Inch < 0.8*bolt {
			return bolt, false
		}
	}
	return bolt, true
}

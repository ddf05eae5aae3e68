package design

import "stanchion/holes/plane"

// trimmed leaves out front and rear holes without which no step opens.
func (c *cover) trimmed(h head) head {
	open := c.left(h.fronts, h.rears)
	for again := true; again; {
		again = false
		for i := len(c.kept.fronts); i < len(h.fronts); i++ {
			less := without(h.fronts, i)
			if len(less) > 0 && c.left(less, h.rears) <= open {
				h.fronts, again = less, true
				break
			}
		}
		if rears := c.needed(h.fronts, h.rears); len(rears) < len(h.rears) {
			h.rears, again = rears, true
		}
	}
	return h
}

func without(ps []plane.Point, i int) []plane.Point {
	return append(append([]plane.Point{}, ps[:i]...), ps[i+1:]...)
}

// onOtherFeet puts the heads that were found on feet with fewer holes, or that reach less far below the fixed part: all feet have one frame. A head
// that still gives everything there, clear of the foot's holes, makes a pattern of its own.
func onOtherFeet(found []pattern) (all []pattern) {
	all = found
	for _, p := range found {
		best := p
		for _, q := range found {
			if len(q.foot.tilts) == len(p.foot.tilts) && q.frame.same(p.frame) {
				best = better(best, q.foot)
			}
		}
		if len(p.foot.tilts) == 1 {
			for _, t := range p.frame.standing[:min(len(p.frame.standing), mostTilted)] {
				best = better(best, t)
			}
		}
		if best.key() != p.key() {
			all = append(all, best)
		}
	}
	return all
}

// same reports whether two frames differ in the spacing of the wing's bolts at most.
func (f *frame) same(g *frame) bool {
	if len(f.bracket) != len(g.bracket) || f.fresh != g.fresh || f.kept.at != g.kept.at {
		return false
	}
	for i := range f.bracket {
		if f.bracket[i] != g.bracket[i] {
			return false
		}
	}
	return f.wish.Step == g.wish.Step
}

// better is a pattern on another foot, where that is better and gives everything.
func better(p pattern, t foot) pattern {
	if len(t.holes) > len(p.foot.holes) || len(t.holes) == len(p.foot.holes) && t.hang >= p.foot.hang-1e-9 {
		return p
	}
	for _, q := range append(append([]plane.Point{}, p.head.fronts...), p.head.rears...) {
		if !apart(q, t.holes, p.frame.mixedRoom) {
			return p
		}
	}
	c := p.frame.newCover(t, p.frame.wish.Step, 0, 0)
	if c.left(p.head.fronts, p.head.rears) > 0 {
		return p
	}
	return pattern{p.frame, t, c.trimmed(p.head)}
}

package design

import (
	"math/bits"
	"slices"

	"stanchion/holes/plane"
)

// rears chooses rear holes for some front holes: the first step still open is closed by the candidate that closes most with it,
// as far as holes do not run into each other. Those that are kept are chosen already.
func (c *cover) rears(fronts []plane.Point, all []candidate) (chosen []plane.Point) {
	chosen = append(chosen, c.kept.rears...)
	done := c.served(fronts, chosen)
	for l := range c.wish.Heights {
		for i := c.starts; i < c.words*64; i++ { // beyond the last start
			done[l*c.words+i/64] |= 1 << (i % 64)
		}
	}
	open := slices.Clone(all) // those that do not run into a chosen one
	if len(chosen) > 0 {
		open = slices.DeleteFunc(open, func(o candidate) bool { return !apart(o.at, chosen, c.headRoom) })
	}
	give := func() { // what none of them closes stays open
		for k := range done {
			any := uint64(0)
			for i := range open {
				any |= open[i].mask[k]
			}
			done[k] |= ^any
		}
	}
	give()
	for {
		word, bit := -1, uint64(0)
		least := 1 << 30
		for l := range c.wish.Heights { // the lowest start open at any height
			for w := range c.words {
				if left := ^done[l*c.words+w]; left != 0 {
					if at := w*64 + bits.TrailingZeros64(left); at < least {
						least, word, bit = at, l*c.words+w, left&-left
					}
					break
				}
			}
		}
		if word < 0 {
			return chosen
		}
		best, most := -1, 0
		for i := range open {
			if open[i].mask[word]&bit == 0 {
				continue
			}
			n := 0
			for k, m := range open[i].mask {
				n += bits.OnesCount64(m &^ done[k])
			}
			if n > most {
				best, most = i, n
			}
		}
		if best < 0 {
			give()
			continue
		}
		for k, m := range open[best].mask {
			done[k] |= m
		}
		one := open[best].at
		chosen = append(chosen, one)
		open = slices.DeleteFunc(open, func(o candidate) bool { return o.at.Distance(one) < c.headRoom-1e-9 })
	}
}

// needed leaves out rear holes without which no step opens.
func (c *cover) needed(fronts, rears []plane.Point) []plane.Point {
	for i := len(rears) - 1; i >= len(c.kept.rears); i-- {
		less := append(append([]plane.Point{}, rears[:i]...), rears[i+1:]...)
		if c.left(fronts, less) <= c.left(fronts, rears) {
			rears = less
		}
	}
	return rears
}

// left counts the steps of the grid that are open with some holes, over all heights.
func (c *cover) left(fronts, rears []plane.Point) int {
	n := c.starts * len(c.wish.Heights)
	for _, w := range c.served(fronts, rears) {
		n -= bits.OnesCount64(w)
	}
	return n
}

// served marks the steps of the grid that some holes close.
func (c *cover) served(fronts, rears []plane.Point) []uint64 {
	mask := make([]uint64, c.words*len(c.wish.Heights))
	if len(rears) == 0 {
		return mask
	}
	raised := c.allRaised(fronts)
	for _, q := range rears {
		for i, p := range fronts {
			if d := p.Distance(q) - c.pitch; d <= c.slack && d >= -c.slack {
				c.serve(mask, raised[i], c.angleOf(p, q))
			}
		}
	}
	return mask
}

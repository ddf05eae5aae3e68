package holes

import (
	"fmt"

	"stanchion/holes/plane"
)

// Bolted is a chain with all of its settings, ready for the question what further holes change.
type Bolted struct {
	chain    Chain
	settings []*Setting // one for each place
	fits     [][]Fit
	shared   [][]*Fit // of each of fits, the one that the settings have, where any does
	ways     []way
	using    [][][]int32 // of each fit of each joint, the ways that take it
	cells    places      // of the ways
}

// way is one way of bolting: a setting or an alternative of one.
type way struct {
	Setting
	place int // which of the settings it is, or is an alternative of
}

// NewBolted prepares a chain with its settings, as Settings lists them, in any order.
func NewBolted(c Chain, settings []*Setting) (*Bolted, error) {
	n := len(c.Joints)
	b := &Bolted{chain: c, settings: settings, fits: make([][]Fit, n), shared: make([][]*Fit, n), using: make([][][]int32, n)}
	index := make([]map[string]int, len(c.Joints))
	for j, joint := range c.Joints {
		var err error
		if b.fits[j], err = Fits(c.Parts[j], c.Parts[j+1], joint); err != nil {
			return nil, fmt.Errorf("joint %q: %w (%d)", joint.Name, err, MaxFits)
		}
		b.using[j], index[j] = make([][]int32, len(b.fits[j])), make(map[string]int, len(b.fits[j]))
		for i := range b.fits[j] {
			index[j][pairsKey(b.fits[j][i].Pairs)] = i
			b.shared[j] = append(b.shared[j], &b.fits[j][i])
		}
	}
	n = 0
	for _, s := range settings {
		n += 1 + len(s.Alternatives)
	}
	b.ways, b.cells = make([]way, 0, n), newPlaces(n)
	known := map[*Fit]int{} // settings share their fits
	for place, s := range settings {
		alone := *s
		alone.Alternatives = nil
		b.add(way{alone, place}, index, known)
		for _, a := range s.Alternatives {
			b.add(way{a, place}, index, known)
		}
	}
	return b, nil
}

func (b *Bolted) add(w way, index []map[string]int, known map[*Fit]int) {
	i := len(b.ways)
	b.ways = append(b.ways, w)
	b.cells.add(w.Pose, i)
	for j, f := range w.Fits {
		at, ok := known[f]
		if !ok {
			if at, ok = index[j][pairsKey(f.Pairs)]; !ok {
				continue
			}
			known[f], b.shared[j][at] = at, f
		}
		b.using[j][at] = append(b.using[j][at], int32(i))
	}
}

// Change is what further holes change of the settings of a chain: those at the places in Gone, as the settings
// were given, give way to Settings.
type Change struct {
	Gone     []int
	Settings []Setting
}

// With returns what further holes change. chain is the one with them, each the last of its part. Put together with
// the settings that stay, the change is what Settings lists for it.
func (b *Bolted) With(chain Chain) (Change, error) {
	fresh, taken, err := b.joints(chain)
	if err != nil {
		return Change{}, err
	}
	added := b.combined(chain, fresh, taken)
	gone := make([]bool, len(b.ways))
	affected := make([]bool, len(b.ways))
	var queue []int
	touch := func(i int) {
		if !affected[i] {
			affected[i] = true
			queue = append(queue, i)
		}
	}
	for j := range taken {
		for f, more := range taken[j] {
			for _, i := range b.using[j][f] {
				if more {
					gone[i] = true
					touch(int(i))
				}
			}
		}
	}
	for i := range added {
		b.near(added[i].Pose, touch)
	}
	// Who stands for a place hangs on all that are close to one another: those are sorted out anew.
	for len(queue) > 0 {
		i := queue[len(queue)-1]
		queue = queue[:len(queue)-1]
		b.near(b.ways[i].Pose, touch)
	}
	var c Change
	replaced := make([]bool, len(b.settings))
	pool := added
	for i := range b.ways {
		if !affected[i] {
			continue
		}
		if p := b.ways[i].place; !replaced[p] {
			replaced[p] = true
			c.Gone = append(c.Gone, p)
		}
		if !gone[i] {
			pool = append(pool, b.ways[i].Setting)
		}
	}
	c.Settings = merge(pool)
	return c, nil
}

// joints finds for each joint the fits that take a new hole, and which of the others take a further bolt in one.
func (b *Bolted) joints(chain Chain) (fresh [][]Fit, taken [][]bool, err error) {
	total := 1
	for j, joint := range chain.Joints {
		d := Drilled{news(b.chain.Parts[j], chain.Parts[j]), news(b.chain.Parts[j+1], chain.Parts[j+1])}
		var through []Fit
		more := make([]bool, len(b.fits[j]))
		if len(d.Lower)+len(d.Upper) > 0 {
			if through, err = FitsThrough(chain.Parts[j], chain.Parts[j+1], joint, d); err != nil {
				return nil, nil, fmt.Errorf("joint %q: %w (%d)", joint.Name, err, MaxFits)
			}
			more = d.Takes(chain.Parts[j], chain.Parts[j+1], joint, b.fits[j])
		}
		fresh, taken = append(fresh, through), append(taken, more)
		n := len(through)
		for _, gone := range more {
			if !gone {
				n++
			}
		}
		if n > MaxFits {
			return nil, nil, fmt.Errorf("joint %q: %w (%d)", joint.Name, ErrTooMany, MaxFits)
		}
		if total *= n; total > MaxSettings {
			return nil, nil, fmt.Errorf("joints up to %q: %w (%d)", joint.Name, ErrTooMany, MaxSettings)
		}
	}
	return fresh, taken, nil
}

// news lists the holes that a part has beyond those that it had.
func news(was, is Part) []int {
	var all []int
	for i := len(was.Holes); i < len(is.Holes); i++ {
		all = append(all, i)
	}
	return all
}

// combined lists the settings with a fresh fit: of each joint in turn its fresh fits, with the fits that stay of the
// joints before it and all of those after it.
func (b *Bolted) combined(chain Chain, fresh [][]Fit, taken [][]bool) []Setting {
	stay := make([][]*Fit, len(fresh))
	for j := range fresh {
		for i := range b.fits[j] {
			if !taken[j][i] {
				stay[j] = append(stay[j], b.shared[j][i])
			}
		}
	}
	var all []Setting
	for at := range fresh {
		if len(fresh[at]) == 0 {
			continue
		}
		choice := make([][]*Fit, len(fresh))
		for j := range fresh {
			if j != at {
				choice[j] = append(choice[j], stay[j]...)
			}
			for i := range fresh[j] {
				if j >= at {
					choice[j] = append(choice[j], &fresh[j][i])
				}
			}
		}
		all = append(all, chain.each(choice)...)
	}
	return all
}

// near visits the ways whose last part is in the same place as at.
func (b *Bolted) near(at plane.Pose, visit func(i int)) {
	b.cells.within(at, func(i int32) {
		if samePose(b.ways[i].Pose, at) {
			visit(int(i))
		}
	})
}

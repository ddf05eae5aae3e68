package tui

import (
	"slices"

	"github.com/charmbracelet/x/ansi"

	"stanchion/holes/plane"
	"stanchion/model"
)

// named is a hole as it is drawn: a ring, or a disc with a bolt in it, and its name.
type named struct {
	at    plane.Point
	name  string
	used  bool
	trial bool
	right bool // its name stands to the right of it
	close bool // of the joint that the picture is about
}

// signs of holes.
const (
	signHole  = "○"
	signBolt  = "●"
	signTrial = "⊕"
)

// holes draws the holes with their names, as far as there is room: those with bolts first, then those
// of the joint that the picture is about. A hole whose name has no room is left out of a close view,
// so that no name can be taken for another's; in a far one holes without bolts have none.
func (s *scene) holes(r *model.Row) {
	all := s.partPoses(r)
	var list []named
	used := map[[2]int]bool{}
	slotted := map[string]bool{}
	for j, f := range r.Fits {
		for _, q := range f.Pairs {
			used[[2]int{j, q.Lower}] = true
			if h := all[j].part.Holes[q.Lower]; h.Slot != "" {
				slotted[h.Slot] = true
			}
		}
	}
	for j, p := range all {
		lo, hi := plane.Box(p.pose.ApplyAll(p.outline))
		for i, h := range p.part.Holes {
			n := named{at: p.pose.Apply(h.At()), name: h.ID, used: used[[2]int{j, i}], close: s.sight == seeJoint && j == s.joint}
			if h.Slot != "" && !n.used {
				continue // the slot's outline shows where its bolt can go
			}
			n.right = n.at.X-lo.X >= hi.X-n.at.X
			list = append(list, n)
		}
	}
	if d, ok := s.m.drilling(); ok && d.hole.Part < len(all) {
		p := all[d.hole.Part]
		list = append(list, named{at: p.pose.Apply(d.hole.At()), name: d.hole.ID, trial: true, close: true})
	}
	slices.SortStableFunc(list, func(a, b named) int { return b.weight() - a.weight() })
	for _, n := range list {
		s.hole(n)
	}
}

func (n named) weight() int {
	w := 0
	if n.trial {
		w += 4
	}
	if n.used {
		w += 2
	}
	if n.close {
		w++
	}
	return w
}

// hole draws one hole with its name beside it.
func (s *scene) hole(n named) {
	x, y := s.cellAt(n.at)
	sign, k := signHole, inkHole
	switch {
	case n.trial:
		sign, k = signTrial, inkBolt
	case n.used:
		sign, k = signBolt, inkBolt
	}
	named := s.sight == seeJoint || n.used && s.sight == seeParts
	if !named || !n.close && !n.used {
		if n.trial || n.used && s.sight != seeWhole {
			if s.Free(x, y, 1) {
				s.Label(x, y, sign, k)
			}
		}
		return
	}
	wide := ansi.StringWidth(n.name)
	for _, right := range [2]bool{n.right, !n.right} {
		from := x
		text := sign + n.name
		if !right {
			from, text = x-wide, n.name+sign
		}
		if s.Free(from, y, wide+1) && (from == 0 || s.Free(from-1, y, 1)) && (from+wide+1 >= s.W || s.Free(from+wide+1, y, 1)) {
			s.Label(from, y, text, k)
			return
		}
	}
	if n.used && s.Free(x, y, 1) {
		s.Label(x, y, sign, k)
	}
}

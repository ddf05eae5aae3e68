package choose

import (
	"cmp"
	"slices"

	"stanchion/holes"
)

// Work is what it takes to change from one setting to another, at one of two like uprights.
type Work struct {
	Moved int // bolts to be moved
	Below int // of these, at joints below the wing's
	Fewer int // by how many bolts the joint that loses most has fewer; 0 where none does
}

// Compare orders work, the least first: whether a joint has fewer bolts than before, how many
// bolts are moved, how many of them below the wing's joint.
func (w Work) Compare(v Work) int {
	return cmp.Or(cmp.Compare(w.Fewer, v.Fewer), cmp.Compare(w.Moved, v.Moved), cmp.Compare(w.Below, v.Below))
}

// WorkOf returns the work between two settings. A bolt stays when both settings put it
// through the same two holes; the others come out, or those that go in where more go in.
func WorkOf(from, to *holes.Setting) (w Work) {
	out, in := 0, 0
	for j, f := range from.Fits {
		stay := 0
		for _, p := range f.Pairs {
			if slices.Contains(to.Fits[j].Pairs, p) {
				stay++
			}
		}
		o, i := len(f.Pairs)-stay, len(to.Fits[j].Pairs)-stay
		out, in = out+o, in+i
		if j < len(from.Fits)-1 {
			w.Below += max(o, i)
		}
		w.Fewer = max(w.Fewer, o-i)
	}
	w.Moved = max(out, in)
	return w
}

// LeastWork returns the id of the way of bolting a setting's place that takes the least work
// from another setting, the setting itself where none takes less, and that work.
func LeastWork(from, to *holes.Setting) (id string, least Work) {
	id, least = to.ID, WorkOf(from, to)
	for i := range to.Alternatives {
		if w := WorkOf(from, &to.Alternatives[i]); w.Compare(least) < 0 {
			id, least = to.Alternatives[i].ID, w
		}
	}
	return id, least
}

// Moves returns how many bolts must be moved from one setting to another.
func Moves(from, to *holes.Setting) int { return WorkOf(from, to).Moved }

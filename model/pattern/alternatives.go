package pattern

import (
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/mat"

	"stanchion/holes/plane"
)

// alike is by how much the sums of squares of two sets of places may differ that both can be:
// three standard uncertainties of one distance.
const alikeCost = 9.0

// moved is how far apart in mm two places of a hole are that count as two.
const moved = 1.0

// reflection mirrors a place about the line through a and b.
func reflection(p, a, b plane.Point) plane.Point {
	d := b.Sub(a)
	l := d.X*d.X + d.Z*d.Z
	if l < 1e-12 {
		return p
	}
	t := ((p.X-a.X)*d.X + (p.Z-a.Z)*d.Z) / l
	foot := a.Add(d.Times(t))
	return foot.Times(2).Sub(p)
}

// flips returns places in which a part of the holes is mirrored about the line through two
// others: where nothing but those two ties the part to the rest, all distances stay as they
// are. A hole alone is also mirrored about the line through each two that it was measured to.
func (n *net) flips(at []plane.Point) (all [][]plane.Point) {
	size := len(n.names)
	near := make([][]int, size)
	tie := func(a, b int) {
		if a != b && !slices.Contains(near[a], b) {
			near[a], near[b] = append(near[a], b), append(near[b], a)
		}
	}
	for i := range n.long {
		tie(n.from[i], n.to[i])
	}
	for a := range n.known {
		for b := range a {
			tie(a, b)
		}
	}
	flip := func(part []int, a, b int) {
		next := slices.Clone(at)
		far := false
		for _, i := range part {
			if i < n.known {
				return
			}
			next[i] = reflection(at[i], at[a], at[b])
			far = far || next[i].Distance(at[i]) > moved
		}
		if far {
			all = append(all, next)
		}
	}
	for a := range size {
		for b := range a {
			pieces := parts(near, a, b)
			if len(pieces) < 2 && n.known == 0 {
				continue // that would mirror the whole
			}
			for _, part := range pieces {
				if 2*len(part) <= size-1 || n.known > 0 {
					flip(part, a, b)
				}
			}
		}
	}
	for i := n.known; i < size; i++ {
		for k, a := range near[i] {
			for _, b := range near[i][:k] {
				if len(near[i]) > 2 && len(near[i]) <= 8 {
					flip([]int{i}, a, b)
				}
			}
		}
	}
	return all
}

// parts returns the pieces into which holes fall when a and b are taken out.
func parts(near [][]int, a, b int) (all [][]int) {
	seen := make([]bool, len(near))
	seen[a], seen[b] = true, true
	for i := range near {
		if seen[i] {
			continue
		}
		part, seenOne := []int{i}, 0
		seen[i] = true
		for seenOne < len(part) {
			for _, k := range near[part[seenOne]] {
				if !seen[k] {
					seen[k] = true
					part = append(part, k)
				}
			}
			seenOne++
		}
		all = append(all, part)
	}
	return all
}

// reflected looks whether a flip fits better.
func (n *net) reflected(at []plane.Point, cost float64) ([]plane.Point, float64) {
	for _, next := range n.flips(at) {
		if n.cost(next) > 2*cost+1000 {
			continue
		}
		if next, c := n.refine(next); c < cost-1e-9 {
			at, cost = next, c
		}
	}
	return at, cost
}

// alternatives returns the places that keep to the sides that were said, and others that fit
// about as well and keep to them too.
func (n *net) alternatives(at []plane.Point, cost float64) (best []plane.Point, others [][]plane.Point) {
	found := [][]plane.Point{at}
	fits := func(next []plane.Point) {
		next, c := n.refine(next)
		if c > cost+alikeCost {
			return
		}
		for _, f := range found {
			if n.same(f, next) {
				return
			}
		}
		found = append(found, next)
	}
	for i := 0; i < len(found) && len(found) < 24; i++ {
		for _, next := range n.flips(found[i]) {
			if len(found) < 24 && n.cost(next) < cost+alikeCost+1e4 {
				fits(next)
			}
		}
	}
	if n.spare() <= 2 && len(n.names) >= 6 { // so few may fit in ways that no mirroring finds; five holes cannot
		chance := rand.New(rand.NewPCG(3, uint64(len(n.long))))
		for range 20 {
			if len(found) < 24 {
				fits(n.built(chance))
			}
		}
	}
	if n.known == 0 { // the whole may be mirrored too
		for _, f := range slices.Clone(found) {
			found = append(found, mirror(f))
		}
	}
	for _, f := range found {
		g := n.gauged(f)
		switch {
		case !n.keepsSides(g):
		case best == nil:
			best = g
		default:
			others = append(others, g)
		}
	}
	if best == nil { // what was said cannot be: the distances win, and the sides are told as open
		return n.gauged(at), nil
	}
	return best, others
}

// covariance is that of the places in their frame; what can move freely has a large one.
func (n *net) covariance(at []plane.Point) *mat.SymDense {
	size := 2 * len(n.names)
	normal := mat.NewSymDense(size, nil)
	for j := range size {
		normal.SetSym(j, j, 1/(anywhere*anywhere))
	}
	row := make([]float64, size)
	for i := range n.long {
		clear(row)
		n.row(i, at, row)
		for _, j := range n.touched(i) {
			for _, k := range n.touched(i) {
				if k >= j {
					normal.SetSym(j, k, normal.At(j, k)+row[j]*row[k])
				}
			}
		}
	}
	var held []int
	hold := func(j int) {
		held = append(held, j)
		for k := range size {
			normal.SetSym(j, k, 0)
		}
		normal.SetSym(j, j, 1)
	}
	for i := range n.names {
		if n.known > 0 && i < n.known {
			hold(2 * i)
			hold(2*i + 1)
		}
	}
	if n.known == 0 {
		first, second := n.origin()
		hold(2 * first)
		hold(2*first + 1)
		if across := 2*second + 1; n.p.Upwards {
			hold(across - 1)
		} else {
			hold(across)
		}
	}
	var chol mat.Cholesky
	cov := mat.NewSymDense(size, nil)
	if !chol.Factorize(normal) || chol.InverseTo(cov) != nil {
		for j := range size {
			cov.SetSym(j, j, anywhere*anywhere)
		}
	}
	for _, j := range held {
		cov.SetSym(j, j, 0)
	}
	return cov
}

// largest is the standard uncertainty of a hole in the direction in which it is largest, mm.
func largest(cov *mat.SymDense, i int) float64 {
	xx, zz, xz := cov.At(2*i, 2*i), cov.At(2*i+1, 2*i+1), cov.At(2*i, 2*i+1)
	return math.Sqrt(max((xx+zz)/2+math.Hypot((xx-zz)/2, xz), 0))
}

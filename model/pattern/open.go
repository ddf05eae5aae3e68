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

// same reports whether two sets of places are one: alike, but for a turn and a shift where nothing is held.
func (n *net) same(a, b []plane.Point) bool {
	a, b = n.gauged(a), n.gauged(b)
	worst := 0.0
	for i := range a {
		worst = max(worst, a[i].Distance(b[i]))
	}
	return worst < moved
}

// origin returns the two holes that the frame hangs on where none or one is known.
func (n *net) origin() (first, second int) {
	first = 0
	for k := range n.long { // the first distance of the first hole has the direction
		if n.from[k] == first {
			return first, n.to[k]
		}
		if n.to[k] == first {
			return first, n.from[k]
		}
	}
	return first, min(1, len(n.names)-1)
}

// gauged lays places into the plate's frame: the first hole in its place, the second behind or
// above it. What holes are held for is in it already.
func (n *net) gauged(at []plane.Point) []plane.Point {
	if n.known > 0 {
		return at
	}
	first, second := n.origin()
	var base plane.Point
	for _, k := range n.p.Known {
		if k.ID == n.names[first] {
			base = k.At
		}
	}
	d := at[second].Sub(at[first])
	turn := -math.Atan2(d.Z, d.X)
	if n.p.Upwards {
		turn += math.Pi / 2
	}
	sin, cos := math.Sincos(turn)
	all := make([]plane.Point, len(at))
	for i := range at {
		p := at[i].Sub(at[first])
		all[i] = base.Add(plane.Point{X: p.X*cos - p.Z*sin, Z: p.X*sin + p.Z*cos})
	}
	return all
}

// line are the two holes whose line sides are said of.
func (n *net) line() (first, second int) {
	if n.known > 0 {
		return 0, 1
	}
	return n.origin()
}

// side is by how much a hole is above the line of the first two holes, or behind it where that goes up.
func (n *net) side(at []plane.Point, i int) float64 {
	first, second := n.line()
	d, p := at[second].Sub(at[first]), at[i].Sub(at[first])
	l := math.Hypot(d.X, d.Z)
	if l < 1e-9 {
		return 0
	}
	across := (d.X*p.Z - d.Z*p.X) / l // to the left of the way from the first to the second
	if math.Abs(d.X) >= math.Abs(d.Z) {
		return math.Copysign(across, across*d.X) // above
	}
	return math.Copysign(across, -across*d.Z) // behind
}

// keepsSides reports whether each hole is on the side that was said of it.
func (n *net) keepsSides(at []plane.Point) bool {
	for _, s := range n.p.Sides {
		if i, ok := n.index[s.Hole]; ok {
			if x := n.side(at, i); s.Plus && x < 0 || !s.Plus && x > 0 {
				return false
			}
		}
	}
	return true
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

// open lists the holes that are not placed.
func (n *net) open(at []plane.Point, cov *mat.SymDense, others [][]plane.Point) (all []Open) {
	for i := range n.names {
		if !n.given(i) && largest(cov, i) > loose {
			all = append(all, Open{n.names[i], Free, n.settles(at, cov, i), false})
		}
	}
	free := func(i int) bool { return slices.ContainsFunc(all, func(o Open) bool { return o.Hole == n.names[i] }) }
	for i := range n.names {
		if n.given(i) || free(i) || len(all) > len(n.names) {
			continue
		}
		for _, o := range others {
			if o[i].Distance(at[i]) <= moved {
				continue
			}
			if n.known == 0 && n.mirrors(at, o) {
				continue // a side tells it
			}
			ask, _ := n.tells(at, o, i)
			all = append(all, Open{n.names[i], TwoSides, ask, n.side(at, i)*n.side(o, i) < 0})
			break
		}
	}
	if n.known == 0 && !slices.ContainsFunc(n.p.Sides, func(s Side) bool { return n.index[s.Hole] > 0 }) {
		far, most := -1, moved
		for i := range n.names {
			if x := math.Abs(n.side(at, i)); x > most && !free(i) {
				far, most = i, x
			}
		}
		if far >= 0 {
			all = append(all, Open{n.names[far], Mirrored, [2]string{}, true})
		}
	} else if !n.keepsSides(at) {
		for _, s := range n.p.Sides {
			all = append(all, Open{s.Hole, Mirrored, [2]string{}, true})
		}
	}
	return all
}

// mirrors reports whether one set of places is the other's mirror image.
func (n *net) mirrors(a, b []plane.Point) bool {
	for i := range a {
		for j := range i {
			if math.Abs(a[i].Distance(a[j])-b[i].Distance(b[j])) > moved {
				return false
			}
		}
	}
	return true
}

// measured reports whether the distance of two holes is measured.
func (n *net) measured(a, b int) bool {
	for i := range n.long {
		if n.from[i] == a && n.to[i] == b || n.from[i] == b && n.to[i] == a {
			return true
		}
	}
	return a < n.known && b < n.known
}

// tells returns the distance of a hole that differs most between two sets of places.
func (n *net) tells(at, other []plane.Point, i int) (ask [2]string, by float64) {
	for k := range n.names {
		if k == i || n.measured(i, k) {
			continue
		}
		if x := math.Abs(at[i].Distance(at[k]) - other[i].Distance(other[k])); x > by {
			by, ask = x, [2]string{n.names[k], n.names[i]}
		}
	}
	for _, k := range n.p.Known { // nothing was measured from it yet
		if _, ok := n.index[k.ID]; ok {
			continue
		}
		if x := math.Abs(at[i].Distance(k.At) - other[i].Distance(k.At)); x > 1.2*by {
			by, ask = x, [2]string{k.ID, n.names[i]}
		}
	}
	return ask, by
}

// settles returns the distance that would narrow a hole's place most.
func (n *net) settles(at []plane.Point, cov *mat.SymDense, i int) (ask [2]string) {
	most := 0.0
	for k := range n.names {
		if k == i || n.measured(i, k) {
			continue
		}
		d := at[i].Sub(at[k])
		l := math.Hypot(d.X, d.Z)
		if l < 1 {
			continue
		}
		g := map[int]float64{2 * i: d.X / l, 2*i + 1: d.Z / l, 2 * k: -d.X / l, 2*k + 1: -d.Z / l}
		across := [2]float64{}
		variance := Caliper * Caliper
		for a, x := range g {
			across[0] += cov.At(2*i, a) * x
			across[1] += cov.At(2*i+1, a) * x
			for b, y := range g {
				variance += x * y * cov.At(a, b)
			}
		}
		gain := (across[0]*across[0] + across[1]*across[1]) / variance
		if gain > most*1.0001 {
			most, ask = gain, [2]string{n.names[k], n.names[i]}
		}
	}
	for _, k := range n.p.Known { // nothing was measured from it yet
		d := at[i].Sub(k.At)
		l := math.Hypot(d.X, d.Z)
		if _, ok := n.index[k.ID]; ok || l < 1 {
			continue
		}
		x := (d.X*cov.At(2*i, 2*i) + d.Z*cov.At(2*i, 2*i+1)) / l
		z := (d.X*cov.At(2*i, 2*i+1) + d.Z*cov.At(2*i+1, 2*i+1)) / l
		if gain := (x*x + z*z) / (Caliper*Caliper + (d.X*x+d.Z*z)/l); gain > most*1.2 {
			most, ask = gain, [2]string{k.ID, n.names[i]}
		}
	}
	return ask
}

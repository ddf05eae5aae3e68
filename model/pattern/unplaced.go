package pattern

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"stanchion/holes/plane"
)

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
	tells := func(s Side) bool { i, ok := n.index[s.Hole]; return ok && math.Abs(n.side(at, i)) > moved }
	if n.known == 0 && !slices.ContainsFunc(n.p.Sides, tells) {
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
			if i, ok := n.index[s.Hole]; tells(s) && (n.known == 0 || ok && s.Plus != (n.side(at, i) > 0)) {
				all = append(all, Open{s.Hole, Against, [2]string{}, true})
			}
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

package cad

import (
	"cmp"
	"fmt"
	"slices"

	"stanchion/holes/plane"
)

// maxGap is how far two ends of lines may be apart and still be taken as meeting, mm.
const maxGap = 0.5

// bridged adds a straight edge across each gap between two ends that meet nothing, the narrowest first, and returns where they were.
func bridged(edges []edge, layers []string) (more []edge, on []string, gaps []string) {
	type end struct {
		at plane.Point
		of int
	}
	all := newEnds(edges)
	var loose []end
	for i, e := range edges {
		all.used[i] = true
		for _, p := range [2]plane.Point{e.a, e.b} {
			if _, meets := all.next(p); !meets && e.a.Distance(e.b) > sameSpot {
				loose = append(loose, end{p, i})
			}
		}
		all.used[i] = false
	}
	if len(loose) > maxFound {
		return nil, nil, nil
	}
	slices.SortStableFunc(loose, func(a, b end) int { return cmp.Compare(a.at.X, b.at.X) })
	type gap struct {
		a, b int
		mm   float64
	}
	var near []gap
	for i := range loose {
		for k := i + 1; k < len(loose) && loose[k].at.X-loose[i].at.X <= maxGap; k++ {
			if mm := loose[i].at.Distance(loose[k].at); mm <= maxGap && loose[i].of != loose[k].of {
				near = append(near, gap{i, k, mm})
			}
		}
	}
	slices.SortStableFunc(near, func(a, b gap) int { return cmp.Compare(a.mm, b.mm) })
	taken := make([]bool, len(loose))
	for _, n := range near {
		if taken[n.a] || taken[n.b] {
			continue
		}
		taken[n.a], taken[n.b] = true, true
		a, b := loose[n.a], loose[n.b]
		more, on = append(more, edge{a: a.at, b: b.at}), append(on, layers[a.of])
		gaps = append(gaps, fmt.Sprintf("a gap of %.2f mm at %.2f, %.2f", n.mm, a.at.X, a.at.Z))
	}
	return more, on, gaps
}

// join chains the edges that are left into loops, over gaps of up to maxGap where nothing else closes them.
func (g *gathering) join() {
	closed, open := chain(g.edges, g.layers)
	if more, on, gaps := bridged(g.edges, g.layers); len(more) > 0 {
		wider, left := chain(append(slices.Clone(g.edges), more...), append(slices.Clone(g.layers), on...))
		if len(wider) > len(closed) {
			closed, open = wider, left
			for i, text := range gaps {
				if i == maxListed {
					g.notes = append(g.notes, fmt.Sprintf("and %d more gaps closed", len(gaps)-i))
					break
				}
				g.notes = append(g.notes, text+" is closed by a straight line")
			}
		}
	}
	g.loops = append(g.loops, closed...)
	for layer, n := range open {
		g.passed["line or arc that closes no outline on layer "+layer] += n
	}
}

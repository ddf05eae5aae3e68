package fem

import (
	"sort"
)

// number gives the cells' nodes numbers: neighbours share those of their common edge where
// their metal meets across it. Numbers run along the shorter side of the grid, which keeps the
// equations' band narrow; the cells' middle nodes come last. Of the cells only those stay that hang together with one of those
// that keep names. It returns how many nodes there are.
func (g *grid) number(keep []int) int {
	parent := make([]int32, 9*len(g.cells))
	for i := range parent {
		parent[i] = int32(i)
	}
	root := func(i int32) int32 {
		for parent[i] != i {
			parent[i] = parent[parent[i]]
			i = parent[i]
		}
		return i
	}
	join := func(a, b int) { parent[root(int32(a))] = root(int32(b)) }
	meets := make([][]int, len(g.cells))
	for e := range g.cells {
		c := &g.cells[e]
		for _, above := range [2]bool{false, true} {
			col, row := c.col+1, c.row
			mine, other := [3]int{2, 5, 8}, [3]int{0, 3, 6}
			if above {
				col, row = c.col, c.row+1
				mine, other = [3]int{6, 7, 8}, [3]int{0, 1, 2}
			}
			if col >= g.cols || row >= g.rows {
				continue
			}
			for _, f := range g.at[row*g.cols+col] {
				if c.touches(&g.cells[f], above) {
					meets[e], meets[f] = append(meets[e], f), append(meets[f], e)
					for k := range 3 {
						join(9*e+mine[k], 9*f+other[k])
					}
				}
			}
		}
	}
	g.hang(meets, keep)
	type node struct {
		middle        bool
		first, second int
	}
	places := map[int32]node{}
	for e := range g.cells {
		c := &g.cells[e]
		if c.share == 0 {
			continue
		}
		for k := range 9 {
			x, z := 2*c.col+k%3, 2*c.row+k/3
			if g.cols > g.rows {
				x, z = z, x
			}
			places[root(int32(9*e+k))] = node{k == middle, z, x}
		}
	}
	roots := make([]int32, 0, len(places))
	for r := range places {
		roots = append(roots, r)
	}
	sort.Slice(roots, func(i, j int) bool {
		a, b := places[roots[i]], places[roots[j]]
		if a.middle != b.middle {
			return b.middle
		}
		if a.first != b.first {
			return a.first < b.first
		}
		if a.second != b.second {
			return a.second < b.second
		}
		return roots[i] < roots[j]
	})
	numbers := make(map[int32]int, len(roots))
	for i, r := range roots {
		numbers[r] = i
		if !places[r].middle {
			g.shared = i + 1
		}
	}
	for e := range g.cells {
		if g.cells[e].share == 0 {
			continue
		}
		for k := range 9 {
			g.cells[e].nodes[k] = numbers[root(int32(9*e+k))]
		}
	}
	return len(roots)
}

// hang drops the cells that do not hang together with one that keep names, by their share.
func (g *grid) hang(meets [][]int, keep []int) {
	held := make([]bool, len(g.cells))
	todo := append([]int(nil), keep...)
	for _, e := range keep {
		held[e] = true
	}
	for len(todo) > 0 {
		e := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		for _, f := range meets[e] {
			if !held[f] {
				held[f] = true
				todo = append(todo, f)
			}
		}
	}
	for e := range g.cells {
		if !held[e] {
			g.cells[e].share = 0
		}
	}
}

// band is the largest difference of the numbers of shared nodes in one element.
func (g *grid) band() int {
	most := 0
	for e := range g.cells {
		c := &g.cells[e]
		if c.share == 0 {
			continue
		}
		lo, hi := c.nodes[0], c.nodes[0]
		for k, n := range c.nodes {
			if k != middle {
				lo, hi = min(lo, n), max(hi, n)
			}
		}
		most = max(most, hi-lo)
	}
	return most
}

package holes

import (
	"math"

	"stanchion/holes/plane"
)

// grid finds the holes near a point without looking at all of them.
type grid struct {
	cell  float64
	cells map[[2]int32][]int32
	at    []plane.Point
}

// newGrid files points under square cells of the given side, mm.
func newGrid(at []plane.Point, cell float64) grid {
	g := grid{cell: max(cell, 1e-3), cells: make(map[[2]int32][]int32, len(at)), at: at}
	for i, p := range at {
		k := g.key(p)
		g.cells[k] = append(g.cells[k], int32(i))
	}
	return g
}

func (g grid) key(p plane.Point) [2]int32 {
	const far = 1 << 30
	at := func(x float64) int32 { return int32(min(max(math.Floor(x/g.cell), -far), far)) }
	return [2]int32{at(p.X), at(p.Z)}
}

// near calls visit for each point within r mm of p.
func (g grid) near(p plane.Point, r float64, visit func(i int)) {
	lo, hi := g.key(plane.Point{X: p.X - r, Z: p.Z - r}), g.key(plane.Point{X: p.X + r, Z: p.Z + r})
	if int64(hi[0]-lo[0]+1)*int64(hi[1]-lo[1]+1) > int64(len(g.cells)) {
		for i, q := range g.at { // the circle covers more cells than are in use
			if p.Distance(q) <= r {
				visit(i)
			}
		}
		return
	}
	for cx := lo[0]; cx <= hi[0]; cx++ {
		for cz := lo[1]; cz <= hi[1]; cz++ {
			for _, i := range g.cells[[2]int32{cx, cz}] {
				if p.Distance(g.at[i]) <= r {
					visit(int(i))
				}
			}
		}
	}
}

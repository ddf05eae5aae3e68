package outline

import (
	"container/heap"
	"math"
	"slices"

	"stanchion/holes/plane"
)

// Ways are looked for on a grid, mm, within so far of the holes.
const (
	stride = 4.0
	detour = 250.0
)

// tree joins places by ways along which a band is clear, the shortest that is still missing first: ways of straight pieces. ok is false
// where some place cannot be reached. Source: R. C. Prim, Bell System Technical Journal 36 (1957) 1389-1401.
func (s *space) tree(at []plane.Point) (ways [][]plane.Point, ok bool) {
	joined := at[:1:1]
	left := slices.Clone(at[1:])
	var g *grid
	for len(left) > 0 {
		best, from, to := math.Inf(1), plane.Point{}, -1
		for i, p := range left {
			for _, q := range joined {
				if d := p.Distance(q); d < best && s.clear(q, p) {
					best, from, to = d, q, i
				}
			}
		}
		var way []plane.Point
		if to >= 0 {
			way = []plane.Point{from, left[to]}
		} else {
			if g == nil {
				g = s.grid()
			}
			if way, to = g.way(joined, left); to < 0 {
				return nil, false
			}
			way = s.straighten(way)
		}
		joined = append(joined, left[to])
		left = slices.Delete(left, to, to+1)
		ways = append(ways, way)
	}
	return ways, true
}

// bands are the pieces of plate along ways.
func (s *space) bands(ways [][]plane.Point) (all []disc) {
	for _, way := range ways {
		for i, b := range way[1:] {
			a := way[i]
			n := max(1, int(math.Ceil(a.Distance(b)/2)))
			for k := range n + 1 {
				p := a.Add(b.Sub(a).Times(float64(k) / float64(n)))
				all = append(all, disc{p, s.wide(p)})
			}
		}
	}
	return all
}

// straighten takes corners out of a way and draws it tight, as far as its band stays clear.
func (s *space) straighten(way []plane.Point) []plane.Point {
	kept := []plane.Point{way[0]}
	for i := 0; i < len(way)-1; {
		k := i + 1
		for step := len(way) - 1 - i; step >= 1; step /= 2 {
			for k+step < len(way) && s.clear(way[i], way[k+step]) {
				k += step
			}
		}
		kept = append(kept, way[k])
		i = k
	}
	for range 30 {
		moved := 0.0
		for i := 1; i+1 < len(kept); i++ {
			a, c := kept[i-1], kept[i+1]
			_, to := plane.ToSegment(kept[i], a, c)
			for part := 1.0; part > 0.01; part /= 2 {
				p := kept[i].Add(to.Sub(kept[i]).Times(part))
				if s.clear(a, p) && s.clear(p, c) {
					moved = max(moved, p.Distance(kept[i]))
					kept[i] = p
					break
				}
			}
		}
		if moved < 0.02 {
			break
		}
	}
	return kept
}

// grid is the places where the middle of a band may be.
type grid struct {
	space *space
	lo    plane.Point
	w, h  int
	by    []float64 // by how much there is more room than a band needs, mm, at least; below 0 where there is less
}

func (s *space) grid() *grid {
	far := plane.Point{X: detour, Z: detour}
	lo, hi := s.lo.Sub(far), s.hi.Add(far)
	g := &grid{space: s, lo: lo, w: int((hi.X-lo.X)/stride) + 1, h: int((hi.Z-lo.Z)/stride) + 1}
	g.by = make([]float64, g.w*g.h)
	for n := range g.by {
		if n%g.w > 0 && math.Abs(g.by[n-1]) > 4*stride { // surely on the same side; how far from it is known to within the step
			g.by[n] = g.by[n-1] - math.Copysign(steepest*stride, g.by[n-1])
			continue
		}
		g.by[n] = s.free(g.place(n))
	}
	return g
}

// steepest is by how many mm free changes along a mm: room by one, width by half.
const steepest = 1.5

// clear reports whether a band may run straight from one place of the grid to another.
func (g *grid) clear(n, m int) bool {
	a, b := g.place(n), g.place(m)
	return g.by[n]+g.by[m] >= steepest*a.Distance(b) || g.space.clear(a, b)
}

func (g *grid) place(n int) plane.Point {
	return plane.Point{X: g.lo.X + float64(n%g.w)*stride, Z: g.lo.Z + float64(n/g.w)*stride}
}

// moves are the steps from a place of the grid: to the next, across, and as a knight.
var moves = [16][2]int{{1, 0}, {0, 1}, {-1, 0}, {0, -1}, {1, 1}, {-1, 1}, {-1, -1}, {1, -1},
	{2, 1}, {1, 2}, {-1, 2}, {-2, 1}, {-2, -1}, {-1, -2}, {1, -2}, {2, -1}}

// about lists the places of the grid that a place is joined to.
func (g *grid) about(p plane.Point) (all []int) {
	i, k := int((p.X-g.lo.X)/stride), int((p.Z-g.lo.Z)/stride)
	for z := k - 1; z <= k+2; z++ {
		for x := i - 1; x <= i+2; x++ {
			if x < 0 || z < 0 || x >= g.w || z >= g.h {
				continue
			}
			if n := z*g.w + x; g.by[n] >= 0 && g.space.clear(p, g.place(n)) {
				all = append(all, n)
			}
		}
	}
	return all
}

// way is the shortest from any of some places to the nearest of others, by E. W. Dijkstra, Numerische Mathematik 1 (1959) 269-271; to is -1 where
// there is none.
func (g *grid) way(from, to []plane.Point) (way []plane.Point, at int) {
	const unseen = -2
	before, start := make([]int, len(g.by)), map[int]plane.Point{}
	far := make([]float64, len(g.by))
	for n := range far {
		far[n], before[n] = math.Inf(1), unseen
	}
	var q queue
	for _, p := range from {
		for _, n := range g.about(p) {
			if d := p.Distance(g.place(n)); d < far[n] {
				far[n], before[n], start[n] = d, -1, p
				heap.Push(&q, reached{n, d})
			}
		}
	}
	ends := map[int]int{}
	for i, p := range to {
		for _, n := range g.about(p) {
			if _, taken := ends[n]; !taken {
				ends[n] = i
			}
		}
	}
	for len(q) > 0 {
		r := heap.Pop(&q).(reached)
		if r.far > far[r.n] {
			continue
		}
		if i, ok := ends[r.n]; ok {
			way = []plane.Point{to[i]}
			n := r.n
			for ; n >= 0; n = before[n] {
				way = append(way, g.place(n))
				if before[n] == -1 {
					way = append(way, start[n])
				}
			}
			slices.Reverse(way)
			return way, i
		}
		x, z := r.n%g.w, r.n/g.w
		for _, m := range moves {
			i, k := x+m[0], z+m[1]
			if i < 0 || k < 0 || i >= g.w || k >= g.h {
				continue
			}
			n := k*g.w + i
			d := r.far + stride*math.Hypot(float64(m[0]), float64(m[1]))
			if g.by[n] >= 0 && d < far[n] && g.clear(r.n, n) {
				far[n], before[n] = d, r.n
				heap.Push(&q, reached{n, d})
			}
		}
	}
	return nil, -1
}

// reached is a place of the grid and how far it is.
type reached struct {
	n   int
	far float64
}

type queue []reached

func (q queue) Len() int { return len(q) }
func (q queue) Less(a, b int) bool {
	return q[a].far < q[b].far || q[a].far == q[b].far && q[a].n < q[b].n
}
func (q queue) Swap(a, b int) { q[a], q[b] = q[b], q[a] }
func (q *queue) Push(x any)   { *q = append(*q, x.(reached)) }
func (q *queue) Pop() any {
	old := *q
	last := old[len(old)-1]
	*q = old[:len(old)-1]
	return last
}

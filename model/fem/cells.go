// Package fem answers: how does a drilled plate deform under what its bolts bring in, at what
// load does it buckle, how fast does it swing, and how is it stressed? It solves plane stress
// and bending with shear over a regular grid of cells laid over the plate; a cell that an edge
// passes counts only for the metal in it. Nothing is meshed.
//
// Lengths are in mm, forces in N, moments in N·mm, stresses in MPa, masses in t (1000 kg), so
// that frequencies come out in rad/s. The plate lies in the plane of x and z, y across it;
// right-handed. A turn in the plane is positive from x to z.
//
// It is linear in the material, with side deflection to second order. Holes of bolts bear on
// their washers' rings; stress under a washer, at a rim and in a sharp corner means nothing.
//
// Sources: J. Parvizian, A. Düster, E. Rank, "Finite cell method", Computational Mechanics 41
// (2007); O. C. Zienkiewicz, R. L. Taylor, "The Finite Element Method" (2000); R. D. Mindlin,
// J. Appl. Mech. 18 (1951); A. and P. Hansbo, Comput. Methods Appl. Mech. Eng. 193 (2004), for
// cells that an edge parts.
package fem

import (
	"math"

	"stanchion/holes/plane"
	"stanchion/model/sheet"
)

// cell is one element: the metal in a square of the grid, or one of the pieces that edges part
// it into.
type cell struct {
	col, row int
	metal    *[raster][raster]bool // nil for a whole one
	rule     []sample
	share    float64 // of the square that is metal
	nodes    [9]int
	index    int
}

func (c *cell) whole() bool { return c.metal == nil }

// touches reports whether the metal of a cell meets that of its neighbour to the right (or
// above) across their common edge.
func (c *cell) touches(d *cell, above bool) bool {
	for k := range raster {
		var mine, other bool
		if above {
			mine = c.whole() || c.metal[k][raster-1]
			other = d.whole() || d.metal[k][0]
		} else {
			mine = c.whole() || c.metal[raster-1][k]
			other = d.whole() || d.metal[0][k]
		}
		if mine && other {
			return true
		}
	}
	return false
}

// grid is a plate under squares of h mm.
type grid struct {
	shape      *sheet.Shape
	h          float64
	origin     plane.Point // lower left corner
	cols, rows int
	cells      []cell
	at         [][]int // the elements of each square, row by row
	shared     int     // how many nodes are not the middle of a cell; they come first
}

// lay lays squares of h mm over a shape.
func lay(s *sheet.Shape, h float64) *grid {
	lo, hi := s.Box()
	g := &grid{shape: s, h: h}
	g.cols, g.rows = max(1, int(math.Ceil((hi.X-lo.X)/h-1e-9))), max(1, int(math.Ceil((hi.Z-lo.Z)/h-1e-9)))
	// Centred, so that a straight plate's edges lie alike in their cells.
	g.origin = plane.Point{X: (lo.X+hi.X)/2 - h*float64(g.cols)/2, Z: (lo.Z+hi.Z)/2 - h*float64(g.rows)/2}
	g.at = make([][]int, g.cols*g.rows)
	for row := range g.rows {
		for col := range g.cols {
			g.square(col, row)
		}
	}
	return g
}

// square adds the elements of one square.
func (g *grid) square(col, row int) {
	corner := plane.Point{X: g.origin.X + float64(col)*g.h, Z: g.origin.Z + float64(row)*g.h}
	gap := g.shape.Gap(corner.Add(plane.Point{X: g.h / 2, Z: g.h / 2}))
	half := g.h * math.Sqrt2 / 2
	switch {
	case gap >= half:
		g.add(cell{col: col, row: row, rule: wholeRule, share: 1})
		return
	case gap <= -half:
		return
	}
	var metal [raster][raster]bool
	g.fill(&metal, corner, 0, 0, raster)
	for {
		piece, any := takePiece(&metal)
		if !any {
			return
		}
		rule, share := fitted(piece)
		g.add(cell{col: col, row: row, metal: piece, rule: rule, share: share})
	}
}

func (g *grid) add(c cell) {
	key := c.row*g.cols + c.col
	g.at[key] = append(g.at[key], len(g.cells))
	c.index = len(g.cells)
	g.cells = append(g.cells, c)
}

// fill marks the parts of a square that are metal, by halves: a part that no edge passes is
// marked whole, a last one by its middle.
func (g *grid) fill(metal *[raster][raster]bool, corner plane.Point, i, j, n int) {
	side := g.h * float64(n) / raster
	middle := corner.Add(plane.Point{X: (float64(i) + float64(n)/2) * g.h / raster, Z: (float64(j) + float64(n)/2) * g.h / raster})
	gap := g.shape.Gap(middle)
	if n > 1 && math.Abs(gap) < side*math.Sqrt2/2 {
		m := n / 2
		g.fill(metal, corner, i, j, m)
		g.fill(metal, corner, i+m, j, m)
		g.fill(metal, corner, i, j+m, m)
		g.fill(metal, corner, i+m, j+m, m)
		return
	}
	if gap <= 0 {
		return
	}
	for a := i; a < i+n; a++ {
		for b := j; b < j+n; b++ {
			metal[a][b] = true
		}
	}
}

// takePiece takes the parts that hang together with the first marked one out of a square.
func takePiece(metal *[raster][raster]bool) (*[raster][raster]bool, bool) {
	for i := range raster {
		for j := range raster {
			if !metal[i][j] {
				continue
			}
			var piece [raster][raster]bool
			todo := [][2]int{{i, j}}
			metal[i][j] = false
			for len(todo) > 0 {
				p := todo[len(todo)-1]
				todo = todo[:len(todo)-1]
				piece[p[0]][p[1]] = true
				for _, d := range [4][2]int{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
					a, b := p[0]+d[0], p[1]+d[1]
					if a >= 0 && a < raster && b >= 0 && b < raster && metal[a][b] {
						metal[a][b] = false
						todo = append(todo, [2]int{a, b})
					}
				}
			}
			return &piece, true
		}
	}
	return nil, false
}

// find returns the element with a place in the plane and where in it that is, from -1 to 1;
// ok is false outside the metal.
func (g *grid) find(p plane.Point) (element int, a, b float64, ok bool) {
	u, v := (p.X-g.origin.X)/g.h, (p.Z-g.origin.Z)/g.h
	col, row := min(max(int(math.Floor(u)), 0), g.cols-1), min(max(int(math.Floor(v)), 0), g.rows-1)
	a, b = 2*(u-float64(col))-1, 2*(v-float64(row))-1
	if math.Abs(a) > 1+1e-6 || math.Abs(b) > 1+1e-6 {
		return 0, 0, 0, false
	}
	i := min(max(int((a+1)/2*raster), 0), raster-1)
	j := min(max(int((b+1)/2*raster), 0), raster-1)
	here := g.at[row*g.cols+col]
	for _, e := range here {
		if c := &g.cells[e]; c.whole() || c.metal[i][j] {
			return e, a, b, true
		}
	}
	if len(here) == 0 {
		return 0, 0, 0, false
	}
	return here[0], a, b, false // beside an edge, by less than a part of the cell
}

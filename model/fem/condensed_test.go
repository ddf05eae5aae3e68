package fem

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// The same cells, added up into a whole matrix entry by entry and solved as that, on springs at some of a cell's nodes,
// its middle one among them: the displacements are the same, for whole cells and such that an edge passes.
func TestCondensedIsTheWholeMatrix(t *testing.T) {
	p := straight()
	for _, per := range []int{2, 3} {
		g := lay(p.shape, 25)
		nodes := g.number([]int{0})
		material := elastic{p.t, 70000, 0.3, 2.7e-9}
		of := func(r []sample) []float64 {
			if per == 2 {
				k := material.membrane(r, g.h)
				return k[:]
			}
			k := material.bending(r, g.h)
			return k[:]
		}
		m := g.stiffness(nodes, per, of)
		whole := mat.NewSymDense(nodes*per, nil)
		add := func(i, j int, v float64) { whole.SetSym(i, j, whole.At(i, j)+v) }
		size, cut, solid := 9*per, 0, of(wholeRule)
		for e := range g.cells {
			c := &g.cells[e]
			if c.share == 0 {
				continue
			}
			k := of(c.rule)
			if c.share != 1 {
				cut++
			}
			for i := range size {
				for j := i; j < size; j++ {
					v := k[i*size+j]
					if !c.whole() {
						v += void * solid[i*size+j]
					}
					add(c.nodes[i/per]*per+i%per, c.nodes[j/per]*per+j%per, v)
				}
			}
		}
		if cut == 0 {
			t.Error("no cell is passed by an edge")
		}
		for _, e := range []int{0, 2} {
			at := g.cells[e].nodes
			for which := range per {
				for _, pair := range [][3]float64{{0, 0, 9e4}, {0, middle, 3e4}, {2, middle, 2e4}, {2, 2, 9e4}, {middle, middle, 8e4}, {7, 7, 7e4}} {
					i, j := at[int(pair[0])]*per+which, at[int(pair[1])]*per+which
					m.add(j, i, pair[2])
					add(i, j, pair[2])
				}
			}
			// Two unknowns of one middle node.
			m.add(at[middle]*per, at[middle]*per+1, 1e3)
			add(at[middle]*per, at[middle]*per+1, 1e3)
		}
		var direct mat.Cholesky
		if !direct.Factorize(whole) {
			t.Fatal("the whole matrix is not held")
		}
		if err := m.factor(); err != nil {
			t.Fatal(err)
		}
		var got [3][]float64
		var want [3]mat.VecDense
		for k := range got {
			got[k] = make([]float64, nodes*per)
			for i := range got[k] {
				got[k][i] = math.Sin(float64(i * (k + 1)))
			}
			if err := direct.SolveVecTo(&want[k], mat.NewVecDense(nodes*per, append([]float64(nil), got[k]...))); err != nil {
				t.Fatal(err)
			}
		}
		m.solve(got[:]...)
		for k := range got {
			most := mat.Norm(&want[k], math.Inf(1))
			for i, x := range got[k] {
				if d := math.Abs(x - want[k].AtVec(i)); !(d <= 1e-7*most) {
					t.Fatalf("%d unknowns a node, load %d, unknown %d: %g, by the whole matrix %g", per, k, i, x, want[k].AtVec(i))
				}
			}
		}
	}
}

// What is not held has no factor: a cell on nothing at all.
func TestCondensedIsNotHeld(t *testing.T) {
	p := straight()
	g := lay(p.shape, 40)
	m := g.stiffness(g.number([]int{0}), 2, func(r []sample) []float64 { return make([]float64, 18*18) })
	if err := m.factor(); err != errLoose {
		t.Errorf("no stiffness at all: %v, want %v", err, errLoose)
	}
}

package fem

import (
	"sync"

	"gonum.org/v1/gonum/mat"
)

// middle is the node of a cell that no other cell has.
const middle = 4

// condensed is the stiffness of cells that hang together. The unknowns of their middle nodes, which come last, are
// eliminated cell by cell before the others are, which saves a quarter of the unknowns and of the band. Static
// condensation: R. J. Guyan, AIAA J. 3 (1965) 380, from memory; exact here, where nothing depends on time.
type condensed struct {
	*banded     // over the nodes that cells share
	per     int // unknowns of a node
	inner   []core
}

// core is the middle node of a cell.
type core struct {
	at  []int     // the unknowns of the cell's other nodes
	own []float64 // its stiffness, row by row; when factored, the inverse
	to  []float64 // what ties each of its unknowns to the others; when factored, own⁻¹ times it
}

// newCondensed makes one for a grid whose nodes are numbered.
func newCondensed(g *grid, per, nodes int) *condensed {
	m := &condensed{newBanded(g.shared*per, (g.band()+1)*per-1), per, make([]core, nodes-g.shared)}
	for e := range g.cells {
		c := &g.cells[e]
		if c.share == 0 {
			continue
		}
		in := core{own: make([]float64, per*per), to: make([]float64, per*8*per)}
		for k, node := range c.nodes {
			for u := range per {
				if k != middle {
					in.at = append(in.at, node*per+u)
				}
			}
		}
		m.inner[c.nodes[middle]-g.shared] = in
	}
	return m
}

// add adds to an entry; its mirror image stands for both. Middle nodes have entries with nodes of their cell alone.
func (m *condensed) add(i, j int, v float64) {
	if j < i {
		i, j = j, i
	}
	if j < m.n {
		m.banded.add(i, j, v)
		return
	}
	in, r := &m.inner[(j-m.n)/m.per], (j-m.n)%m.per
	if i >= m.n {
		s := (i - m.n) % m.per
		in.own[r*m.per+s] += v
		if r != s {
			in.own[s*m.per+r] += v
		}
		return
	}
	for k, at := range in.at {
		if at == i {
			in.to[r*len(in.at)+k] += v
			return
		}
	}
}

// factor makes it ready for solve.
func (m *condensed) factor() error {
	for i := range m.inner {
		if err := m.eliminate(&m.inner[i]); err != nil {
			return err
		}
	}
	return m.banded.factor()
}

// eliminate takes a middle node out of the equations of the others: K - Tᵀ O⁻¹ T.
func (m *condensed) eliminate(in *core) error {
	var own mat.Cholesky
	if !own.Factorize(mat.NewSymDense(m.per, in.own)) {
		return errLoose
	}
	var inverse mat.SymDense
	if err := own.InverseTo(&inverse); err != nil {
		return errLoose
	}
	n := len(in.at)
	through := make([]float64, len(in.to))
	for r := range m.per {
		for s := range m.per {
			in.own[r*m.per+s] = inverse.At(r, s)
			for k, t := range in.to[s*n : (s+1)*n] {
				through[r*n+k] += inverse.At(r, s) * t
			}
		}
	}
	for i, row := range in.at {
		for j, col := range in.at {
			if col < row {
				continue
			}
			for r := range m.per {
				m.data[row*(m.k+1)+col-row] -= in.to[r*n+i] * through[r*n+j]
			}
		}
	}
	in.to = through
	return nil
}

// solve replaces right-hand sides by their solutions, by the factor: all in one pass over it on
// each of two cores, since reading it takes longer than reckoning with it.
func (m *condensed) solve(rhs ...[]float64) {
	var wait sync.WaitGroup
	half := (len(rhs) + 1) / 2
	for _, part := range [2][][]float64{rhs[:half], rhs[half:]} {
		if len(part) == 0 {
			continue
		}
		wait.Go(func() {
			for _, x := range part {
				m.forth(x)
			}
			m.substitute(part)
			for _, x := range part {
				m.back(x)
			}
		})
	}
	wait.Wait()
}

// forth moves the forces on middle nodes to the others.
func (m *condensed) forth(x []float64) {
	for i := range m.inner {
		in := &m.inner[i]
		for r := range m.per {
			f, n := x[m.n+i*m.per+r], len(in.at)
			for k, t := range in.to[r*n : (r+1)*n] {
				x[in.at[k]] -= t * f
			}
		}
	}
}

// back finds the middle nodes' displacements from the others'.
func (m *condensed) back(x []float64) {
	var u [3]float64
	for i := range m.inner {
		in := &m.inner[i]
		mine, n := x[m.n+i*m.per:m.n+(i+1)*m.per], len(in.at)
		for r := range mine {
			u[r] = 0
			for s, f := range mine {
				u[r] += in.own[r*m.per+s] * f
			}
			for k, t := range in.to[r*n : (r+1)*n] {
				u[r] -= t * x[in.at[k]]
			}
		}
		copy(mine, u[:m.per])
	}
}

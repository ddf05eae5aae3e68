package fem

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"stanchion/holes/plane"
)

// meanForces works out the mean force in the plane of each unit case over each cell that an edge passes. The
// fitted rules of such cells are exact to degree 4, and a force that varies times two slopes is of degree
// 6: with its own values modes appear that lie outside the metal.
func (r *Response) meanForces() {
	area := make([]float64, len(r.grid.cells))
	for i := range r.mean {
		r.mean[i] = make([][3]float64, len(r.grid.cells))
	}
	r.grid.each(func(c *cell, _, nx, nz *[9]float64, a float64) {
		if c.whole() {
			return
		}
		area[c.index] += a
		for i := range r.mean {
			fx, fz, fxz := r.material.membraneForce(strain(c, nx, nz, r.plan[i]))
			m := &r.mean[i][c.index]
			m[0], m[1], m[2] = m[0]+a*fx, m[1]+a*fz, m[2]+a*fxz
		}
	})
	for i := range r.mean {
		for e, a := range area {
			if a > 0 {
				for k := range 3 {
					r.mean[i][e][k] /= a
				}
			}
		}
	}
}

// unitForce is the force in the plane of a unit case at the head, at a point of a cell's rule.
func (r *Response) unitForce(i int, c *cell, nx, nz *[9]float64) (fx, fz, fxz float64) {
	if !c.whole() {
		m := r.mean[i][c.index]
		return m[0], m[1], m[2]
	}
	return r.material.membraneForce(strain(c, nx, nz, r.plan[i]))
}

// reducePlan makes the vectors in which the plate's second order in its own plane is worked out, its
// responses: slender legs beside openings sway in the plane before they leave it.
func (r *Response) reducePlan(loads [][]float64) {
	r.planBasis = orthonormal(r.plan[:], loads)
	m := len(r.planBasis)
	for k := range r.planForce {
		r.planForce[k] = make([]float64, m)
		for j, v := range r.planBasis {
			r.planForce[k][j] = dot(loads[k], v)
		}
	}
	for i := range r.planGrown {
		r.planGrown[i] = mat.NewDense(m, m, nil)
	}
	slopes := make([][4]float64, m)
	r.grid.each(func(c *cell, _, nx, nz *[9]float64, area float64) {
		for j, v := range r.planBasis {
			var s [4]float64
			for k, n := range c.nodes {
				s[0] += nx[k] * v[2*n]
				s[1] += nz[k] * v[2*n]
				s[2] += nx[k] * v[2*n+1]
				s[3] += nz[k] * v[2*n+1]
			}
			slopes[j] = s
		}
		for i := range r.planGrown {
			fx, fz, fxz := r.unitForce(i, c, nx, nz)
			raw := r.planGrown[i].RawMatrix().Data
			for j := range m {
				a := &slopes[j]
				for k := range m {
					b := &slopes[k]
					raw[j*m+k] += area * (fx*(a[0]*b[0]+a[2]*b[2]) + fz*(a[1]*b[1]+a[3]*b[3]) +
						fxz*(a[0]*b[1]+a[1]*b[0]+a[2]*b[3]+a[3]*b[2]))
				}
			}
		}
	})
	for _, v := range r.planBasis {
		r.planMoves = append(r.planMoves, r.head.inPlane(v))
	}
}

// planTangent is the geometric stiffness of a load about the head in the plane.
func (r *Response) planTangent(l Load) *mat.SymDense {
	m := len(r.planBasis)
	fx, fz := l.X+ownShare*l.OwnX, l.Z+ownShare*l.OwnZ
	lever := l.Lever[0][0] + l.Lever[1][1] // the load's place turns with the head: F·r θ²
	g := mat.NewSymDense(m, nil)
	for j := range m {
		for k := j; k < m; k++ {
			g.SetSym(j, k, fx*r.planGrown[unitX].At(j, k)+fz*r.planGrown[unitZ].At(j, k)+l.Turn*r.planGrown[unitTurn].At(j, k)+
				lever*r.planMoves[j].Turn*r.planMoves[k].Turn)
		}
	}
	return g
}

// planBuckling is how many times a load about the head the plate sways away in its plane at.
func (r *Response) planBuckling(l Load) float64 { return factorOf(r.planTangent(l)) }

// factorOf is 1 over the largest eigenvalue of minus a geometric stiffness; infinite where there is none.
func factorOf(g *mat.SymDense) float64 {
	var eigen mat.EigenSym
	if !eigen.Factorize(g, false) {
		return math.NaN()
	}
	least := eigen.Values(nil)[0]
	if least >= -1e-12 {
		return math.Inf(1)
	}
	return -1 / least
}

// planState is the displacements in the plane under a load about the head, at first order or to second.
func (r *Response) planState(l Load, second bool) ([]float64, error) {
	m := len(r.planBasis)
	q := mat.NewVecDense(m, nil)
	for k, n := range [planCases]float64{l.X, l.Z, l.Turn, l.OwnX, l.OwnZ} {
		for j := range m {
			q.SetVec(j, q.AtVec(j)+n*r.planForce[k][j])
		}
	}
	if second {
		a := r.planTangent(l)
		for j := range m {
			a.SetSym(j, j, 1+a.At(j, j))
		}
		var factor mat.Cholesky
		if !factor.Factorize(a) {
			return nil, ErrBuckled
		}
		if err := factor.SolveVecTo(q, q); err != nil {
			return nil, ErrBuckled
		}
	}
	u := make([]float64, 2*r.nodes)
	for j, v := range r.planBasis {
		c := q.AtVec(j)
		for n, x := range v {
			u[n] += c * x
		}
	}
	return u, nil
}

// Within is how far a place has moved in the plane, mm; ok is false outside the metal.
func (s *State) Within(p plane.Point) (ux, uz float64, ok bool) {
	e, a, b, ok := s.r.grid.find(p)
	if !ok || s.r.grid.cells[e].share == 0 {
		return 0, 0, false
	}
	n, _, _ := shape(a, b)
	for i, k := range s.r.grid.cells[e].nodes {
		ux += n[i] * s.plan[2*k]
		uz += n[i] * s.plan[2*k+1]
	}
	return ux, uz, true
}

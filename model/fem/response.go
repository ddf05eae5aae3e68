package fem

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"stanchion/holes/plane"
)

// The unit cases in the plane and across it: at the head, and spread over the whole plate.
const (
	unitX = iota
	unitZ
	unitTurn
	ownX
	ownZ
	planCases
)

const (
	unitSide = iota
	unitMX
	unitMZ
	ownSide
	sideCases
)

// Response is how a held plate answers to what the bolts at its head bring in.
type Response struct {
	*Solver
	Head plane.Point // the middle of the washers' metal, about which moments count

	head  patch
	plan  [planCases][]float64 // displacements of the unit cases
	side  [sideCases][]float64
	basis [][]float64 // across the plane: vectors of unit strain energy, square to one another
	force [][]float64 // of each side case, the basis' coordinates at first order
	grown [3]*mat.Dense
	moves []Motion // of the head, by each vector of the basis

	mean      [3][][3]float64 // force in the plane of each unit case, its mean over each cell that an edge passes
	planBasis [][]float64     // as basis, in the plane
	planForce [planCases][]float64
	planGrown [3]*mat.Dense
	planMoves []Motion
}

// On works out how the plate answers to loads at bolts of its head.
func (s *Solver) On(bolts []Bolt) (*Response, error) {
	r := &Response{Solver: s}
	var err error
	if r.head, err = s.grid.patch(bolts); err != nil {
		return nil, err
	}
	for _, p := range r.head.points {
		if p.cell.share == 0 {
			return nil, errApart
		}
	}
	r.Head = r.head.centre
	r.solvePlan()
	forces := r.solveSide()
	r.reduce(forces)
	// The factors take most of the room, and are not needed any more.
	light := *s
	light.plan, light.side = nil, nil
	r.Solver = &light
	return r, nil
}

func (r *Response) solvePlan() {
	h := &r.head
	for k := range r.plan {
		r.plan[k] = make([]float64, 2*r.nodes)
	}
	polar := h.jxx + h.jzz
	for _, p := range h.points {
		dx, dz := p.at.X-h.centre.X, p.at.Z-h.centre.Z
		for i, n := range p.cell.nodes {
			f := p.n[i] * p.area
			r.plan[unitX][2*n] += f / h.area
			r.plan[unitZ][2*n+1] += f / h.area
			r.plan[unitTurn][2*n] -= f * dz / polar
			r.plan[unitTurn][2*n+1] += f * dx / polar
		}
	}
	r.grid.each(func(c *cell, n, _, _ *[9]float64, area float64) {
		for i, k := range c.nodes {
			r.plan[ownX][2*k] += n[i] * area / r.area
			r.plan[ownZ][2*k+1] += n[i] * area / r.area
		}
	})
	var loads [][]float64
	for _, v := range r.plan {
		loads = append(loads, append([]float64(nil), v...))
	}
	r.Solver.plan.solve(r.plan[:]...)
	r.meanForces()
	r.reducePlan(loads)
}

// solveSide works out the responses across the plane and returns the forces of the unit cases.
func (r *Response) solveSide() [sideCases][]float64 {
	forces := r.sideForces()
	for k := range forces {
		r.side[k] = append([]float64(nil), forces[k]...)
	}
	r.Solver.side.solve(r.side[:]...)
	return forces
}

// sideForces are the forces on the nodes of the unit cases across the plane.
func (r *Response) sideForces() [sideCases][]float64 {
	h := &r.head
	var forces [sideCases][]float64
	for k := range forces {
		forces[k] = make([]float64, 3*r.nodes)
	}
	bx, cx := h.tilt(1, 0)
	bz, cz := h.tilt(0, 1)
	for _, p := range h.points {
		dx, dz := p.at.X-h.centre.X, p.at.Z-h.centre.Z
		for i, n := range p.cell.nodes {
			f := p.n[i] * p.area
			forces[unitSide][3*n] += f / h.area
			forces[unitMX][3*n] += f * (bx*dx + cx*dz)
			forces[unitMZ][3*n] += f * (bz*dx + cz*dz)
		}
	}
	r.grid.each(func(c *cell, n, _, _ *[9]float64, area float64) {
		for i, k := range c.nodes {
			forces[ownSide][3*k] += n[i] * area / r.area
		}
	})
	return forces
}

// strain is the membrane strain at a point of a cell's rule under displacements u.
func strain(c *cell, nx, nz *[9]float64, u []float64) (ex, ez, exz float64) {
	for i, n := range c.nodes {
		ex += nx[i] * u[2*n]
		ez += nz[i] * u[2*n+1]
		exz += nz[i]*u[2*n] + nx[i]*u[2*n+1]
	}
	return ex, ez, exz
}

// membraneForce is the force in the plane per length, N/mm, at a strain.
func (p elastic) membraneForce(ex, ez, exz float64) (nx, nz, nxz float64) {
	d := p.e * p.t / (1 - p.nu*p.nu)
	return d * (ex + p.nu*ez), d * (ez + p.nu*ex), d * (1 - p.nu) / 2 * exz
}

// slope is the slope of w at a point of a cell's rule.
func slope(c *cell, nx, nz *[9]float64, u []float64) (x, z float64) {
	for i, n := range c.nodes {
		x += nx[i] * u[3*n]
		z += nz[i] * u[3*n]
	}
	return x, z
}

// reduce makes the vectors in which side deflection to second order is worked out: the
// responses φ and K⁻¹ G φ for the geometric stiffness G of each unit case at the head in the
// plane. In them K is the unit matrix.
func (r *Response) reduce(forces [sideCases][]float64) {
	vectors := append([][]float64(nil), r.side[:]...)
	loads := append([][]float64(nil), forces[:]...)
	var more [3][sideCases][]float64
	var rhs [][]float64
	for i := range more {
		for j := range more[i] {
			more[i][j] = make([]float64, 3*r.nodes)
			rhs = append(rhs, more[i][j])
		}
	}
	r.grid.each(func(c *cell, _, nx, nz *[9]float64, area float64) {
		var sx, sz [sideCases]float64
		for j := range sx {
			sx[j], sz[j] = slope(c, nx, nz, r.side[j])
		}
		for i := range more {
			fx, fz, fxz := r.unitForce(i, c, nx, nz)
			for j := range sx {
				px, pz := area*(fx*sx[j]+fxz*sz[j]), area*(fxz*sx[j]+fz*sz[j])
				for k, n := range c.nodes {
					more[i][j][3*n] += nx[k]*px + nz[k]*pz
				}
			}
		}
	})
	for _, v := range rhs {
		loads = append(loads, append([]float64(nil), v...))
	}
	r.Solver.side.solve(rhs...)
	vectors = append(vectors, rhs...)
	r.basis = orthonormal(vectors, loads)
	r.geometric()
	r.force = make([][]float64, sideCases)
	for k := range r.force {
		r.force[k] = make([]float64, len(r.basis))
		for j, v := range r.basis {
			r.force[k][j] = dot(forces[k], v)
		}
	}
	for _, v := range r.basis {
		r.moves = append(r.moves, r.head.across(v))
	}
}

// orthonormal takes from vectors, and the loads that each answers to, as many combinations as
// are independent, each of unit energy.
func orthonormal(vectors, loads [][]float64) (basis [][]float64) {
	m := len(vectors)
	scale := make([]float64, m)
	for i := range scale {
		scale[i] = 1 / math.Sqrt(max(dot(vectors[i], loads[i]), 1e-300))
	}
	gram := mat.NewSymDense(m, nil)
	for i := range m {
		for j := i; j < m; j++ {
			gram.SetSym(i, j, scale[i]*scale[j]*dot(vectors[i], loads[j]))
		}
	}
	var eigen mat.EigenSym
	if !eigen.Factorize(gram, true) {
		return nil
	}
	values := eigen.Values(nil)
	var turn mat.Dense
	eigen.VectorsTo(&turn)
	for k := m - 1; k >= 0 && values[k] > 1e-9*values[m-1]; k-- {
		v := make([]float64, len(vectors[0]))
		for i := range m {
			f := turn.At(i, k) * scale[i] / math.Sqrt(values[k])
			for n, x := range vectors[i] {
				v[n] += f * x
			}
		}
		basis = append(basis, v)
	}
	return basis
}

// geometric works out the geometric stiffness of each unit case at the head in the basis.
func (r *Response) geometric() {
	m := len(r.basis)
	for i := range r.grown {
		r.grown[i] = mat.NewDense(m, m, nil)
	}
	sx, sz := make([]float64, m), make([]float64, m)
	var raw [3][]float64
	for i := range raw {
		raw[i] = r.grown[i].RawMatrix().Data
	}
	r.grid.each(func(c *cell, _, nx, nz *[9]float64, area float64) {
		for j, v := range r.basis {
			sx[j], sz[j] = slope(c, nx, nz, v)
		}
		for i := range raw {
			fx, fz, fxz := r.unitForce(i, c, nx, nz)
			for j := range m {
				px, pz := area*(fx*sx[j]+fxz*sz[j]), area*(fxz*sx[j]+fz*sz[j])
				for k := range m {
					raw[i][j*m+k] += px*sx[k] + pz*sz[k]
				}
			}
		}
	})
}

func dot(a, b []float64) float64 {
	sum := 0.0
	for i, x := range a {
		sum += x * b[i]
	}
	return sum
}

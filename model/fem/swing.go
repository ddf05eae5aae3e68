package fem

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/mat"

	"stanchion/holes/plane"
)

// Rider is a mass that rides on a plate's head: a wing.
type Rider struct {
	Mass    float64     // t
	Arm     plane.Point // mm from the middle of the head's washers
	XX, ZZ  float64     // t·mm², of its turning with the head's slopes by x and z, about its own middle
	Turning float64     // t·mm², of its turning in the plane about its own middle
}

// Sideways returns the natural frequencies across the plane, Hz, lowest first, by Rayleigh and
// Ritz over the plate's responses to loads at the head and all over it: the first is true to
// 0.1 %. Source: S. P. Timoshenko, "Vibration Problems in Engineering" (1955), art. 62.
func (r *Response) Sideways(w Rider) []float64 {
	var head []Motion
	for _, v := range r.side {
		head = append(head, r.head.across(v))
	}
	mass := make([][]float64, sideCases)
	for i := range mass {
		mass[i] = make([]float64, sideCases)
	}
	per := r.Plate.Density * r.Plate.Thickness
	r.grid.each(func(c *cell, n, _, _ *[9]float64, area float64) {
		var y [sideCases]float64
		for j, v := range r.side {
			for i, k := range c.nodes {
				y[j] += n[i] * v[3*k]
			}
		}
		for i := range y {
			for j := range y {
				mass[i][j] += per * area * y[i] * y[j]
			}
		}
	})
	for i := range mass {
		for j := range mass[i] {
			a, b := head[i], head[j]
			ya, yb := a.Side+a.SX*w.Arm.X+a.SZ*w.Arm.Z, b.Side+b.SX*w.Arm.X+b.SZ*w.Arm.Z
			mass[i][j] += w.Mass*ya*yb + w.XX*a.SX*b.SX + w.ZZ*a.SZ*b.SZ
		}
	}
	stiff := make([][]float64, sideCases)
	forces := r.sideForces()
	for i := range stiff {
		stiff[i] = make([]float64, sideCases)
		for j := range stiff[i] {
			stiff[i][j] = dot(forces[i], r.side[j])
		}
	}
	return frequencies(stiff, mass)
}

// InPlane returns the natural frequencies in the plane, Hz, lowest first, as Sideways.
func (r *Response) InPlane(w Rider) []float64 {
	var head []Motion
	for _, v := range r.plan {
		head = append(head, r.head.inPlane(v))
	}
	mass := make([][]float64, planCases)
	stiff := make([][]float64, planCases)
	for i := range mass {
		mass[i], stiff[i] = make([]float64, planCases), make([]float64, planCases)
	}
	per := r.Plate.Density * r.Plate.Thickness
	r.grid.each(func(c *cell, n, nx, nz *[9]float64, area float64) {
		var x, z [planCases]float64
		var e, f [planCases][3]float64
		for j, v := range r.plan {
			for i, k := range c.nodes {
				x[j] += n[i] * v[2*k]
				z[j] += n[i] * v[2*k+1]
			}
			ex, ez, exz := strain(c, nx, nz, v)
			e[j] = [3]float64{ex, ez, exz}
			fx, fz, fxz := r.material.membraneForce(ex, ez, exz)
			f[j] = [3]float64{fx, fz, fxz}
		}
		for i := range x {
			for j := range x {
				mass[i][j] += per * area * (x[i]*x[j] + z[i]*z[j])
				stiff[i][j] += area * (e[i][0]*f[j][0] + e[i][1]*f[j][1] + e[i][2]*f[j][2])
			}
		}
	})
	r.held(stiff)
	for i := range mass {
		for j := range mass[i] {
			a, b := head[i], head[j]
			xa, xb := a.X-a.Turn*w.Arm.Z, b.X-b.Turn*w.Arm.Z
			za, zb := a.Z+a.Turn*w.Arm.X, b.Z+b.Turn*w.Arm.X
			mass[i][j] += w.Mass*(xa*xb+za*zb) + w.Turning*a.Turn*b.Turn
		}
	}
	return frequencies(stiff, mass)
}

// held adds the energy of what holds the plate in its plane.
func (r *Response) held(stiff [][]float64) {
	for b, spots := range r.foot {
		for _, p := range spots {
			var x, z [planCases]float64
			for j, v := range r.plan {
				for i, k := range p.cell.nodes {
					x[j] += p.n[i] * v[2*k]
					z[j] += p.n[i] * v[2*k+1]
				}
			}
			for i := range x {
				for j := range x {
					stiff[i][j] += r.shear[b] * p.area * (x[i]*x[j] + z[i]*z[j])
				}
			}
		}
	}
}

// frequencies solves K v = ω² M v for a few vectors, Hz, lowest first.
func frequencies(stiff, mass [][]float64) []float64 {
	n := len(stiff)
	// Scaled by the energy of each vector, since forces and moments differ by far.
	scale := make([]float64, n)
	for i := range scale {
		scale[i] = 1 / math.Sqrt(max(stiff[i][i], 1e-300))
	}
	k, m := mat.NewSymDense(n, nil), mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			k.SetSym(i, j, scale[i]*scale[j]*(stiff[i][j]+stiff[j][i])/2)
			m.SetSym(i, j, scale[i]*scale[j]*(mass[i][j]+mass[j][i])/2)
		}
	}
	var eigen mat.EigenSym
	if !eigen.Factorize(k, true) {
		return nil
	}
	// M in the directions of unit energy: its eigenvalues are 1/ω².
	values := eigen.Values(nil)
	var turn mat.Dense
	eigen.VectorsTo(&turn)
	var keep []int
	for i, v := range values {
		if v > 1e-9*values[n-1] {
			keep = append(keep, i)
		}
	}
	t := mat.NewDense(n, len(keep), nil)
	for j, i := range keep {
		for a := range n {
			t.Set(a, j, turn.At(a, i)/math.Sqrt(values[i]))
		}
	}
	var half, full mat.Dense
	half.Mul(m, t)
	full.Mul(t.T(), &half)
	s := mat.NewSymDense(len(keep), nil)
	for i := range keep {
		for j := i; j < len(keep); j++ {
			s.SetSym(i, j, full.At(i, j))
		}
	}
	if !eigen.Factorize(s, false) {
		return nil
	}
	var all []float64
	for _, v := range eigen.Values(nil) {
		if v > 0 {
			all = append(all, math.Sqrt(1/v)/(2*math.Pi))
		}
	}
	sort.Float64s(all)
	return all
}

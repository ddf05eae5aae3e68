package fem

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/mat"
)

// Rigid are the ways in which a plate's head can move as a rigid body, for both fields: across
// the plane y and the turns about x and z; in the plane x, z and the turn from x to z.
const Rigid = 3

// Field is how a held plate moves in the plane or across it under loads at its head: what a
// chain of plates needs of each for its frequencies.
type Field struct {
	Give [Rigid][Rigid]float64 // of the head under unit loads there: forces in N, moments in N·mm
	// Mass is ∫ρt y·y over six shapes: the responses to the three unit loads, and the three rigid
	// motions about the head. t, mm, rad.
	Mass [2 * Rigid][2 * Rigid]float64
}

// Field returns the plate's fields across its plane and in it.
func (r *Response) Field() (across, plan Field) {
	per := r.Plate.Density * r.Plate.Thickness
	for j := range Rigid {
		m := r.head.across(r.side[j])
		across.Give[0][j], across.Give[1][j], across.Give[2][j] = m.Side, -m.SZ, m.SX
		m = r.head.inPlane(r.plan[j])
		plan.Give[0][j], plan.Give[1][j], plan.Give[2][j] = m.X, m.Z, m.Turn
	}
	head := r.Head
	r.grid.each(func(c *cell, n, _, _ *[9]float64, area float64) {
		var y, x, z [2 * Rigid]float64
		var px, pz float64
		for i, k := range c.nodes {
			for j := range Rigid {
				y[j] += n[i] * r.side[j][3*k]
				x[j] += n[i] * r.plan[j][2*k]
				z[j] += n[i] * r.plan[j][2*k+1]
			}
			px += n[i] * (r.grid.origin.X + (float64(c.col)+float64(i%3)/2)*r.grid.h)
			pz += n[i] * (r.grid.origin.Z + (float64(c.row)+float64(i/3)/2)*r.grid.h)
		}
		dx, dz := px-head.X, pz-head.Z
		y[3], y[4], y[5] = 1, -dz, dx
		x[3], x[4], x[5] = 1, 0, -dz
		z[3], z[4], z[5] = 0, 1, dx
		for i := range y {
			for j := range y {
				across.Mass[i][j] += per * area * y[i] * y[j]
				plan.Mass[i][j] += per * area * (x[i]*x[j] + z[i]*z[j])
			}
		}
	})
	return across, plan
}

// Frequencies solves K v = ω² M v for a few shapes, Hz, lowest first.
// Source: S. P. Timoshenko, "Vibration Problems in Engineering" (1955), art. 62, Rayleigh and Ritz.
func Frequencies(stiff, mass [][]float64) []float64 {
	n := len(stiff)
	// Scaled by the energy of each shape, since forces and moments differ by far.
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

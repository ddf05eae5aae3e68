package calibrate

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// solution is the unknowns by generalised least squares. Columns are those that are told; a value
// that is not is 0.
type solution struct {
	set     *readingSet
	columns []int
	at      map[int]int // column by unknown
	x       []float64   // by column
	cov     *mat.Dense
	factor  *mat.TriDense // L of the readings' covariance LLᵀ
	inUse   []int         // equation by line
	line    map[int]int   // line by equation
	base    [][]float64   // columns of the whitened equations made orthonormal, as Q of QR
	right   []float64     // whitened
}

// maxCondition is that of a system of equations which still tells its unknowns.
const maxCondition = 1e12

var errUndetermined = errors.New("the readings do not determine the position of the fixed part; measure another setting as well")

// solve finds the unknowns by QR decomposition of the equations, whitened by the Cholesky factor of
// their covariance; with A = QR their own covariance is (AᵀA)⁻¹ = R⁻¹R⁻ᵀ.
// Source: generalised least squares, JCGM 102:2011, 6.3; G. Strang, K. Borre, "Linear Algebra,
// Geodesy, and GPS" (1997), ch. 11.
func (s *readingSet) solve(columns []int) (*solution, error) {
	sol := &solution{set: s, columns: columns, at: map[int]int{}, line: map[int]int{}}
	for i, c := range columns {
		sol.at[c] = i
	}
	for i, e := range s.eqs {
		if e.used {
			sol.line[i] = len(sol.inUse)
			sol.inUse = append(sol.inUse, i)
		}
	}
	lines, n := len(sol.inUse), len(columns)
	if lines < n {
		return nil, errUndetermined
	}
	if err := sol.whiten(); err != nil {
		return nil, err
	}
	a := mat.NewDense(lines, n, nil)
	off := make([]float64, lines)
	for k, i := range sol.inUse {
		off[k] = s.eqs[i].off
	}
	sol.right = sol.white(off)
	for c, unknown := range columns {
		column := make([]float64, lines)
		for k, i := range sol.inUse {
			for _, t := range s.eqs[i].terms {
				if t.unknown == unknown {
					column[k] += t.by
				}
			}
		}
		a.SetCol(c, sol.white(column))
	}
	var qr mat.QR
	qr.Factorize(a)
	var x mat.VecDense
	if err := qr.SolveVecTo(&x, false, mat.NewVecDense(lines, sol.right)); err != nil || qr.Cond() > maxCondition {
		return nil, errUndetermined
	}
	var r, inverse, cov, base mat.Dense
	qr.RTo(&r)
	if err := inverse.Inverse(r.Slice(0, n, 0, n)); err != nil {
		return nil, fmt.Errorf("the readings do not determine the position of the fixed part: %w", err)
	}
	cov.Mul(&inverse, inverse.T())
	base.Mul(a, &inverse)
	sol.x, sol.cov = x.RawVector().Data, &cov
	for c := range n {
		sol.base = append(sol.base, mat.Col(nil, c, &base))
	}
	return sol, nil
}

// whiten factorises the covariance of the equations in use.
func (s *solution) whiten() error {
	n := len(s.inUse)
	v := mat.NewSymDense(n, nil)
	for k, i := range s.inUse {
		v.SetSym(k, k, s.set.eqs[i].stdUnc*s.set.eqs[i].stdUnc)
	}
	for _, c := range s.set.commons {
		for i, by := range c.by {
			for j, with := range c.by {
				k, okK := s.line[i]
				l, okL := s.line[j]
				if okK && okL && k <= l {
					v.SetSym(k, l, v.At(k, l)+c.stdUnc*c.stdUnc*by*with)
				}
			}
		}
	}
	var chol mat.Cholesky
	if !chol.Factorize(v) {
		return errUndetermined
	}
	s.factor = mat.NewTriDense(n, mat.Lower, nil)
	chol.LTo(s.factor)
	return nil
}

// white solves Lw = v: what is left has a variance of 1 each, and no covariance.
func (s *solution) white(v []float64) []float64 {
	w := make([]float64, len(v))
	raw := s.factor.RawTriangular()
	for i := range v {
		row := raw.Data[i*raw.Stride : i*raw.Stride+i]
		w[i] = (v[i] - floats.Dot(row, w[:i])) / raw.Data[i*raw.Stride+i]
	}
	return w
}

// value returns an unknown with its standard uncertainty; NaN when it is not told.
func (s *solution) value(unknown int) (x, stdUnc float64) {
	c, ok := s.at[unknown]
	if !ok {
		return math.NaN(), math.NaN()
	}
	return s.x[c], math.Sqrt(s.cov.At(c, c))
}

// gain returns by how much an unknown goes with another one, cov/u²; 0 when one of them is not told.
func (s *solution) gain(unknown, with int) float64 {
	c, ok := s.at[unknown]
	k, told := s.at[with]
	if !ok || !told {
		return 0
	}
	return s.cov.At(c, k) / s.cov.At(k, k)
}

// residual returns what is left of an equation, in its own unit.
func (s *solution) residual(e equation) float64 {
	left := e.off
	for _, t := range e.terms {
		if c, ok := s.at[t.unknown]; ok {
			left -= s.x[c] * t.by
		}
	}
	return left
}

// beyond returns the part of a direction in the whitened readings that no value of the unknowns
// explains.
func (s *solution) beyond(by map[int]float64) []float64 {
	d := make([]float64, len(s.inUse))
	for i, x := range by {
		if k, ok := s.line[i]; ok {
			d[k] = x
		}
	}
	d = s.white(d)
	for _, column := range s.base {
		floats.AddScaled(d, -floats.Dot(column, d), column)
	}
	return d
}

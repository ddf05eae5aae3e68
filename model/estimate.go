package model

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// Estimate is what measurements on track tell of several unknowns together: by how much each is off the car
// file, with their covariance, in the units of the unknowns. It is not changed once it is made.
type Estimate struct {
	Of       []Unknown
	Value    []float64     // off the car file
	Cov      *mat.SymDense // of the values
	Readings int           // that it rests on; 0 where the file does not say

	factor *mat.TriDense // lower, its product with its transpose is the covariance
}

// NewEstimate returns what is known of unknowns. The error says why the covariance cannot be one.
func NewEstimate(of []Unknown, value []float64, cov *mat.SymDense) (*Estimate, error) {
	n := len(of)
	if n == 0 || len(value) != n || cov.SymmetricDim() != n {
		return nil, fmt.Errorf("%d unknowns, %d values, a covariance of %d", n, len(value), cov.SymmetricDim())
	}
	// In units of the standard uncertainties, so that no unit decides what is small.
	scaled := mat.NewSymDense(n, nil)
	for i := range n {
		for k := i; k < n; k++ {
			v := cov.At(i, k) / math.Sqrt(cov.At(i, i)*cov.At(k, k))
			if math.IsNaN(v) || math.IsInf(v, 0) || !(cov.At(i, i) > 0) {
				return nil, errNotDefinite
			}
			scaled.SetSym(i, k, v)
		}
	}
	var chol mat.Cholesky
	if !chol.Factorize(scaled) {
		return nil, errNotDefinite
	}
	j := &Estimate{Of: of, Value: value, Cov: cov, factor: new(mat.TriDense)}
	chol.LTo(j.factor)
	for i := range n {
		for k := range i + 1 {
			j.factor.SetTri(i, k, j.factor.At(i, k)*math.Sqrt(cov.At(i, i)))
		}
	}
	return j, nil
}

var errNotDefinite = errors.New("the covariance is not positive definite")

// index returns where an unknown stands; -1 where the estimate has nothing of it.
func (j *Estimate) index(u Unknown) int {
	if j == nil {
		return -1
	}
	return slices.Index(j.Of, u)
}

// StdUnc returns one standard uncertainty of an unknown; ok is false where the estimate has nothing of it.
func (j *Estimate) StdUnc(u Unknown) (std float64, ok bool) {
	i := j.index(u)
	if i < 0 {
		return math.NaN(), false
	}
	return math.Sqrt(j.Cov.At(i, i)), true
}

// Off returns by how much a fit on track found an unknown off the car file; 0 where it tells nothing.
func (f TrackFit) Off(u Unknown) float64 {
	if i := f.Estimate.index(u); i >= 0 {
		return f.Estimate.Value[i]
	}
	return 0
}

// Told returns the estimate as if one more reading had been taken whose standard uncertainty is noise and
// which moves by slope with each unknown, in the order of Of; the values stay what they are.
// Source: A. Tarantola, "Inverse Problem Theory" (2005), eq. 3.38, for one datum.
func (j *Estimate) Told(slope []float64, noise float64) *Estimate {
	n := len(j.Of)
	var ch mat.VecDense
	h := mat.NewVecDense(n, slope)
	ch.MulVec(j.Cov, h)
	of := mat.Dot(h, &ch) + noise*noise
	cov := mat.NewSymDense(n, nil)
	cov.SymRankOne(j.Cov, -1/of, &ch)
	next, err := NewEstimate(j.Of, j.Value, cov)
	if err != nil { // it tells so much that rounding decides
		return j
	}
	next.Readings = j.Readings + 1
	return next
}

// Measured is Told for one unknown measured by itself.
func (j *Estimate) Measured(u Unknown, noise float64) *Estimate {
	i := j.index(u)
	if i < 0 {
		return j
	}
	slope := make([]float64, len(j.Of))
	slope[i] = 1
	return j.Told(slope, noise)
}

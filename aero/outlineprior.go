package aero

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/lapack/lapack64"
)

// expectedTerms returns the standard deviation of each term of an outline before
// anything was read: where the nose is, how thick and how cambered sections are,
// and how far they depart from smooth forms, the less so the finer the detail.
//
// Source: ours, from the terms of exact four- and five-digit, Joukowski and
// cusped sections, whose Chebyshev terms fall off with the third to fifth power
// of half their order; of powers from 2.5 to 6, four leaves the least error of
// the largest lift.
func expectedTerms(departure float64) [nosedLen]float64 {
	s := [nosedLen]float64{termNose: 0.01, termForm: 0.15, termWedge: 0.01, termCheb: 0.05, termCheb + 2: 0.05}
	for j := range chebTerms {
		if j != 0 && j != 2 { // shift and turn of the chord line
			half := max(float64(j)/2, 1)
			s[termCheb+j] = departure / (half * half * half * half)
		}
	}
	return s
}

// The scale of departures from smooth forms, chords: what is usual, the standard
// deviation of its logarithm, wide, since the readings decide, and its limits.
const (
	usualDeparture = 0.1
	departureSpan  = 1.5
	leastDeparture = 1e-4
	mostDeparture  = 10
)

// traceEquations are those of the least squares of a tracing's distances, with
// weights: A β = b, the sum of the squares at β = 0, and the number of readings.
type traceEquations struct {
	a       blas64.Symmetric
	b       []float64
	squares float64
	count   float64
}

// outlinePosterior is what readings leave possible: outline terms about a mean, with the
// inverse of UᵀU, over std, as their covariance.
type outlinePosterior struct {
	mean   nosed
	std    [nosedLen]float64
	u      blas64.Triangular
	scaled []float64 // Uᵀ of the mean, over std
}

// posterior solves for the terms at a standard uncertainty of the readings, and
// returns the logarithm of the readings' probability besides. The mean is left
// open, for solve.
//
// Source: C. E. Rasmussen and C. K. I. Williams, "Gaussian Processes for Machine
// Learning" (2006), eq. 2.8 and 5.8, with the terms over their expected size as
// unknowns.
func (e *traceEquations) posterior(sigma, departure float64) (*outlinePosterior, float64) {
	p := &outlinePosterior{std: expectedTerms(departure), scaled: make([]float64, nosedLen)}
	precision := blas64.Symmetric{N: nosedLen, Stride: nosedLen, Uplo: blas.Upper, Data: make([]float64, nosedLen*nosedLen)}
	inv := 1 / (sigma * sigma)
	for i := range nosedLen {
		k := p.std[i] * inv
		p.scaled[i] = k * e.b[i]
		from, to := e.a.Data[i*e.a.Stride:], precision.Data[i*nosedLen:]
		for j := i; j < nosedLen; j++ {
			to[j] = k * p.std[j] * from[j]
		}
		to[i]++
	}
	var ok bool
	if p.u, ok = lapack64.Potrf(precision); !ok {
		return nil, math.Inf(-1)
	}
	p.under(p.scaled)
	log := -e.squares*inv/2 - e.count*math.Log(sigma)
	for i, v := range p.scaled {
		log += v*v/2 - math.Log(p.u.Data[i*nosedLen+i])
	}
	return p, log
}

// under sets v to U⁻ᵀv.
func (p *outlinePosterior) under(v []float64) {
	blas64.Trsv(blas.Trans, p.u, blas64.Vector{N: nosedLen, Data: v, Inc: 1})
}

// terms returns the terms for a place in the space in which they are independent
// and have a variance of 1.
func (p *outlinePosterior) terms(v []float64) nosed {
	c := slices.Clone(v)
	blas64.Trsv(blas.NoTrans, p.u, blas64.Vector{N: nosedLen, Data: c, Inc: 1})
	for i := range c {
		c[i] *= p.std[i]
	}
	return c
}

// solve sets the mean.
func (p *outlinePosterior) solve() { p.mean = p.terms(p.scaled) }

// variance returns that of a sum of the terms, row their factors.
func (p *outlinePosterior) variance(row []float64) float64 {
	var v [nosedLen]float64
	for i := range v {
		v[i] = row[i] * p.std[i]
	}
	p.under(v[:])
	return floats.Dot(v[:], v[:])
}

// draw returns the terms at a place of the space in which they are independent
// and have a variance of 1, times a factor, from the mean.
func (p *outlinePosterior) draw(z []float64, factor float64) nosed {
	v := slices.Clone(p.scaled)
	floats.AddScaled(v, factor, z)
	return p.terms(v)
}

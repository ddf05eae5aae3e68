package calibrate

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// left is what is measured less what is predicted.
func (p trackProblem) left(off []float64) *mat.VecDense {
	if len(p.measured) == 0 {
		return new(mat.VecDense)
	}
	left := mat.NewVecDense(len(p.measured), nil)
	for i, h := range p.predict(off) {
		left.SetVec(i, p.measured[i]-h)
	}
	return left
}

// slopes are the derivatives of the readings by the unknowns in use, in prior standard uncertainties.
// Where the figures end on one side the other tells.
func (p trackProblem) slopes(off []float64, used []int) *mat.Dense {
	return p.slopesOver(off, used, slopeStep)
}

// slopesOver is slopes from differences over so much of the prior standard uncertainties either way.
func (p trackProblem) slopesOver(off []float64, used []int, step float64) *mat.Dense {
	if len(p.measured) == 0 || len(used) == 0 {
		return new(mat.Dense)
	}
	jac := mat.NewDense(len(p.measured), len(used), nil)
	base := p.predict(off)
	for i, u := range used {
		at := off[u]
		off[u] = at + step*p.prior[u]
		up := p.predict(off)
		off[u] = at - step*p.prior[u]
		down := p.predict(off)
		off[u] = at
		for k := range base {
			jac.Set(k, i, slopeOf(up[k], base[k], down[k])/step)
		}
	}
	return jac
}

// slopeOf is half of the difference of two figures either side of one; where one of them is not known that
// of the other; 0 where nothing is.
func slopeOf(up, base, down float64) float64 {
	switch {
	case !math.IsNaN(up - down):
		return (up - down) / 2
	case !math.IsNaN(up - base):
		return up - base
	case !math.IsNaN(base - down):
		return base - down
	}
	return 0
}

// noise is the covariance of the readings for known unknowns.
func (p trackProblem) noise(off []float64) *mat.SymDense {
	m := len(p.measured)
	if m == 0 {
		return new(mat.SymDense)
	}
	noise := mat.NewSymDense(m, nil)
	if p.disturbed != nil {
		if d := p.disturbed(off); d != nil && !d.IsEmpty() {
			noise.SymOuterK(1, d)
		}
	}
	for i, s := range p.stdUnc {
		noise.SetSym(i, i, noise.At(i, i)+s*s)
	}
	return noise
}

package coast

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
)

// solve does steps of Gauss and Newton, damped where one would make it worse (Levenberg and Marquardt), and returns the normal matrix.
func (p *problem) solve(x []float64, weight float64) ([]float64, *mat.SymDense, int, error) {
	damp := 1e-3
	cost := p.cost(x, weight)
	for step := 1; step <= 100; step++ {
		normal, right := p.normal(x, weight)
		damped := mat.NewSymDense(p.size(), nil)
		damped.CopySym(normal)
		for i := range p.size() {
			damped.SetSym(i, i, normal.At(i, i)*(1+damp))
		}
		var chol mat.Cholesky
		var move mat.VecDense
		if !chol.Factorize(damped) || chol.SolveVecTo(&move, right) != nil {
			damp *= 10
			continue
		}
		next := append([]float64(nil), x...)
		for i := range next {
			next[i] += move.AtVec(i)
		}
		now := p.cost(next, weight)
		if !(now <= cost) {
			if damp *= 10; damp > 1e12 {
				break
			}
			continue
		}
		done := cost-now < 1e-9*(1+now)
		x, cost, damp = next, now, max(damp/10, 1e-9)
		if done {
			normal, _ = p.normal(x, weight)
			return x, normal, step, nil
		}
	}
	normal, _ := p.normal(x, weight)
	return x, normal, 100, errors.New("the fit does not settle: these are not coast-downs")
}

func (p *problem) cost(x []float64, weight float64) (sum float64) {
	for _, run := range p.left(x) {
		for _, e := range run {
			sum += weight * e * e
		}
	}
	for i, std := range p.priorStd {
		if !math.IsInf(std, 1) {
			sum += (x[i] - p.prior[i]) * (x[i] - p.prior[i]) / (std * std)
		}
	}
	return sum
}

// steps by which parameters are moved for slopes.
const tiny = 1e-5

func (p *problem) normal(x []float64, weight float64) (*mat.SymDense, *mat.VecDense) {
	n := p.size()
	normal, right := mat.NewSymDense(n, nil), mat.NewVecDense(n, nil)
	for r := range p.runs {
		of := p.of(r)
		base := p.model(x, r, nil)
		slopes := make([][]float64, len(of))
		for k, i := range of {
			h := tiny * max(1, math.Abs(x[i]))
			was := x[i]
			x[i] = was + h
			up := p.model(x, r, nil)
			x[i] = was - h
			down := p.model(x, r, nil)
			x[i] = was
			for j := range up {
				up[j] = (up[j] - down[j]) / (2 * h)
			}
			slopes[k] = up
		}
		for a, i := range of {
			sum := 0.0
			for j := range base {
				sum += slopes[a][j] * (p.runs[r].V[j] - base[j])
			}
			right.SetVec(i, right.AtVec(i)+weight*sum)
			for b, k := range of[a:] {
				dot := 0.0
				for j := range base {
					dot += slopes[a][j] * slopes[a+b][j]
				}
				normal.SetSym(i, k, normal.At(i, k)+weight*dot)
			}
		}
	}
	for i, std := range p.priorStd {
		if !math.IsInf(std, 1) {
			normal.SetSym(i, i, normal.At(i, i)+1/(std*std))
			right.SetVec(i, right.AtVec(i)+(p.prior[i]-x[i])/(std*std))
		}
	}
	return normal, right
}

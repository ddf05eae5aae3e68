package aero

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/mat"
)

// Alternatives returns n outlines that the readings make as likely as one
// another, with as many points as Points: what is computed from them scatters
// about what is computed from the fit by the uncertainty that the readings leave.
// They come in pairs to both sides of the fit. The same seed gives the same
// outlines.
//
// The standard deviation of the largest lift or of the stall over 8 of them is
// itself good to 20 %, over 16 to 12 %.
func (f OutlineFit) Alternatives(n int, seed uint64) [][]Vec {
	r := rand.New(rand.NewPCG(seed, 0))
	var all [][]Vec
	for len(all) < n {
		for _, z := range f.posterior.directions(min((n-len(all)+1)/2, mostDirections), r) {
			for _, s := range []float64{1, -1} {
				points, _, _ := f.outline(f.posterior.draw(z, s), outlineHalf)
				all = append(all, points)
			}
		}
	}
	return all[:n]
}

// mostDirections is how many directions are made square to one another at most:
// readings determine some ten parameters of an outline.
const mostDirections = 10

// directions returns n places in the space in which an outline's terms are
// independent and have a variance of 1. Along the n ways in which the outline's
// slope is least sure they are square to one another, at a random turn, and of
// equal length: together with their opposites they have the right variance there
// exactly. Along all other ways they are drawn at random.
func (p *outlinePosterior) directions(n int, r *rand.Rand) [][]float64 {
	normal := func(rows, columns int) *mat.Dense {
		m := mat.NewDense(rows, columns, nil)
		for i := range m.RawMatrix().Data {
			m.RawMatrix().Data[i] = r.NormFloat64()
		}
		return m
	}
	var qr mat.QR
	qr.Factorize(normal(n, n))
	var along mat.Dense
	qr.QTo(&along)
	along.Scale(math.Sqrt(float64(n)), &along)
	modes, z := p.modes(n), normal(nosedLen, n)
	var drawn, change mat.Dense
	drawn.Mul(modes.T(), z)
	along.Sub(&along, &drawn)
	change.Mul(modes, &along)
	z.Add(z, &change)
	all := make([][]float64, n)
	for k := range all {
		all[k] = mat.Col(nil, k, z)
	}
	return all
}

// modes returns, as columns, the n directions, of length 1 and square to one
// another, along which the outline's slope by t is least sure.
func (p *outlinePosterior) modes(n int) mat.Matrix {
	const places = 48
	slopes := mat.NewDense(places, nosedLen, nil)
	var f, df [nosedLen]float64
	for i := range places {
		noseTerms(2*(float64(i)+0.5)/places-1, &f, &df)
		row := slopes.RawRowView(i)
		for k := termForm; k < nosedLen; k++ {
			row[k] = df[k] * p.std[k]
		}
		p.under(row)
	}
	var gram mat.SymDense // of the slopes: its eigenvectors are their right singular vectors, the least sure last
	gram.SymOuterK(1, slopes.T())
	var eigen mat.EigenSym
	eigen.Factorize(&gram, true)
	var v mat.Dense
	eigen.VectorsTo(&v)
	return v.Slice(0, nosedLen, nosedLen-n, nosedLen)
}

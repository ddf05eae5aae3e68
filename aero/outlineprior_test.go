package aero

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/floats"
)

// fourReadings is four readings of the thickness itself, 0.12 each.
func fourReadings() traceEquations {
	e := traceEquations{a: blas64.Symmetric{N: nosedLen, Stride: nosedLen, Uplo: blas.Upper, Data: make([]float64, nosedLen*nosedLen)},
		b: make([]float64, nosedLen), squares: 4 * 0.12 * 0.12, count: 4}
	e.a.Data[termForm*nosedLen+termForm], e.b[termForm] = 4, 4*0.12
	return e
}

// By hand, four readings of 0.12 ± 0.1 of what is expected to be 0 ± 0.15: the
// precision is 4/0.01 + 1/0.0225 = 444.44, the mean 48/444.44 = 0.108, the
// variance 0.00225. Their covariance has the determinant 1e-8 (1 + 4 · 0.0225/0.01)
// = 1e-7, and zᵀC⁻¹z is (0.0576 - 0.0225 · 0.48²/0.1)/0.01 = 0.576, so the logarithm
// of their probability is -0.288 + 3.5 ln 10 = 7.7710 but for a constant.
func TestPosteriorByHand(t *testing.T) {
	e := fourReadings()
	p, log := e.posterior(0.1, 0.3)
	p.solve()
	row := make([]float64, nosedLen)
	row[termForm] = 1
	if math.Abs(p.mean[termForm]-0.108) > 1e-12 || math.Abs(p.variance(row)-0.00225) > 1e-12 || math.Abs(log-7.7710) > 5e-5 {
		t.Errorf("mean %.6f, variance %.6f, logarithm %.4f, want 0.108, 0.00225, 7.7710", p.mean[termForm], p.variance(row), log)
	}
	// What was not read stays as expected: 0 ± 0.3/3⁴ for the polynomial of order 6.
	row[termForm], row[termCheb+6] = 0, 1
	if math.Abs(math.Sqrt(p.variance(row))-0.3/81) > 1e-12 {
		t.Errorf("not read: ± %.6f, want 0.3/81", math.Sqrt(p.variance(row)))
	}
	if c := p.draw(make([]float64, nosedLen), 1); !floats.EqualApprox(c, p.mean, 1e-15) {
		t.Error("no draw is not the mean")
	}
}

// Along the least sure slopes, directions and their opposites scatter by exactly
// the variance; along what is not among them at random.
func TestDirectionsHaveTheVariance(t *testing.T) {
	e := fourReadings()
	p, _ := e.posterior(0.1, 0.1)
	p.solve()
	const n = 5
	modes := p.modes(n)
	all := p.directions(n, rand.New(rand.NewPCG(1, 0)))
	for i := range n {
		for j := range n {
			sum, square := 0.0, 0.0
			for _, z := range all {
				a, b := 0.0, 0.0
				for k, v := range z {
					a += v * modes.At(k, i)
					b += v * modes.At(k, j)
				}
				sum += a * b / n
			}
			for k := range nosedLen {
				square += modes.At(k, i) * modes.At(k, j)
			}
			want := 0.0
			if i == j {
				want = 1
			}
			if math.Abs(sum-want) > 1e-9 || math.Abs(square-want) > 1e-9 {
				t.Errorf("modes %d and %d: covariance %.6f, product %.6f, want %g", i, j, sum, square, want)
			}
		}
	}
	// The thickness form is read four times; its slope is still the least sure
	// but for those of the nose and the chord line: all lie along modes.
	if squares := floats.Dot(all[0], all[0]); squares < 40 || squares > 130 {
		t.Errorf("a direction has the square %.0f, want about %d", squares, nosedLen)
	}
}

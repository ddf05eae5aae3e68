package choose

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Of one figure and of two that do not hang together the chance is that of the tables: 68.27 % within one
// standard deviation, 95.00 % within 1.96, 84.13 % below 1.
func TestChanceClosedForms(t *testing.T) {
	inf := math.Inf(1)
	one := func(std, lo, hi float64) float64 {
		return boxChance([][]float64{{std * std}}, []float64{lo}, []float64{hi})
	}
	two := boxChance([][]float64{{4, 0}, {0, 9}}, []float64{-2, -inf}, []float64{2, 3})
	for what, c := range map[string][2]float64{
		"one":              {one(3, -3, 3), 0.682689},
		"1.96":             {one(0.5, -0.98, 0.98), 0.950004},
		"below 1":          {one(2, -inf, 2), 0.841345},
		"on the edge":      {one(2, 0, inf), 0.5},
		"known, inside":    {one(0, 0, 1), 1},
		"known, outside":   {one(0, 0.1, 1), 0},
		"two":              {two, 0.682689 * 0.841345},
		"nothing is asked": {boxChance(nil, nil, nil), 1},
	} {
		if math.Abs(c[0]-c[1]) > 1e-6 {
			t.Errorf("%s: %.6f, want %.6f", what, c[0], c[1])
		}
	}
}

// Two figures with a correlation of ρ are both above their means with 1/4 + asin ρ/2π, three with
// 1/8 + (asin ρ12 + asin ρ13 + asin ρ23)/4π. Source: W. F. Sheppard, Phil. Trans. R. Soc. A 192 (1899).
func TestChanceOfQuadrants(t *testing.T) {
	inf := math.Inf(1)
	for _, rho := range []float64{-0.99, -0.5, 0.2, 0.7, 0.95, 1} {
		got := boxChance([][]float64{{4, 6 * rho}, {6 * rho, 9}}, []float64{0, 0}, []float64{inf, inf})
		if want := 0.25 + math.Asin(rho)/(2*math.Pi); math.Abs(got-want) > 0.001 {
			t.Errorf("ρ %g: %.5f, want %.5f", rho, got, want)
		}
	}
	cov := [][]float64{{1, 0.5, -0.2}, {0.5, 1, 0.3}, {-0.2, 0.3, 1}}
	got := boxChance(cov, []float64{0, 0, 0}, []float64{inf, inf, inf})
	if want := 0.125 + (math.Asin(0.5)+math.Asin(-0.2)+math.Asin(0.3))/(4*math.Pi); math.Abs(got-want) > 0.001 {
		t.Errorf("three: %.5f, want %.5f", got, want)
	}
}

// Against drawing with another generator: up to five figures that hang on four sources, within three standard
// errors of the draws and 0.002.
func TestChanceAgainstMonteCarlo(t *testing.T) {
	const draws, sources = 40000, 4
	g := rand.New(rand.NewChaCha8([32]byte{7}))
	for n := 2; n <= 5; n++ {
		parts, lo, hi, own := make([][sources]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
		for i := range n {
			for k := range sources {
				parts[i][k] = g.NormFloat64()
			}
			own[i] = 0.3 * g.Float64()
			lo[i], hi[i] = -3*g.Float64(), 0.5+3*g.Float64()
		}
		cov := make([][]float64, n)
		for i := range n {
			cov[i] = make([]float64, n)
			for j := range n {
				for k := range sources {
					cov[i][j] += parts[i][k] * parts[j][k]
				}
			}
			cov[i][i] += own[i] * own[i]
		}
		in := 0
		for range draws {
			var z [sources]float64
			for k := range z {
				z[k] = g.NormFloat64()
			}
			ok := true
			for i := range n {
				x := own[i] * g.NormFloat64()
				for k := range sources {
					x += parts[i][k] * z[k]
				}
				ok = ok && x >= lo[i] && x <= hi[i]
			}
			if ok {
				in++
			}
		}
		want := float64(in) / draws
		got := boxChance(cov, lo, hi)
		if math.Abs(got-want) > 3*math.Sqrt(want*(1-want)/draws)+0.002 {
			t.Errorf("%d figures: %.4f, drawn %.4f", n, got, want)
		}
		if again := boxChance(cov, lo, hi); again != got {
			t.Errorf("%d figures: %g, then %g", n, got, again)
		}
	}
}

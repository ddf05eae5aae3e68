package plan

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// A quadratic in one variable: 3 to 6 runs out of −1, −½, 0, ½, 1. The largest det X'X are 4, 8, 16 and 32, by counting all: always runs
// at −1, 0 and 1, as evenly as can be. V. V. Fedorov, "Theory of Optimal Experiments" (1972), ch. 2: the optimum of a polynomial of degree 2.
func ExampleDOptimal() {
	var runs []*mat.Dense
	for _, x := range []float64{-1, -0.5, 0, 0.5, 1} {
		runs = append(runs, mat.NewDense(1, 3, []float64{1, x, x * x}))
	}
	for n := 3; n <= 6; n++ {
		picked, logDet := DOptimal(nil, runs, n, -1)
		count := make([]int, len(runs))
		for _, r := range picked {
			count[r]++
		}
		fmt.Printf("%d runs: det %.0f, ends and middle only: %v\n", n, math.Exp(logDet), count[1]+count[3] == 0)
	}
	// Output:
	// 3 runs: det 4, ends and middle only: true
	// 4 runs: det 8, ends and middle only: true
	// 5 runs: det 16, ends and middle only: true
	// 6 runs: det 32, ends and middle only: true
}

// Against all ways of picking, with two readings a run, something known before and a first run that is given.
func TestDOptimalByBruteForce(t *testing.T) {
	draw := rand.New(rand.NewPCG(5, 5))
	for range 30 {
		unknowns, n := 2+draw.IntN(2), 2+draw.IntN(3)
		var runs []*mat.Dense
		for range 5 {
			x := make([]float64, 2*unknowns)
			for i := range x {
				x[i] = draw.NormFloat64()
			}
			runs = append(runs, mat.NewDense(2, unknowns, x))
		}
		before := mat.NewSymDense(unknowns, nil)
		for i := range unknowns {
			before.SetSym(i, i, 1)
		}
		first := draw.IntN(6) - 1
		_, got := DOptimal(before, runs, n, first)
		want := math.Inf(-1)
		order := make([]int, n)
		var all func(i int)
		all = func(i int) {
			if i == n {
				m := mat.NewDense(unknowns, unknowns, nil)
				m.CloneFrom(before)
				for _, r := range order {
					var x mat.Dense
					x.Mul(runs[r].T(), runs[r])
					m.Add(m, &x)
				}
				d, _ := mat.LogDet(m)
				want = max(want, d)
				return
			}
			for r := range runs {
				if i == 0 && first >= 0 && r != first {
					continue
				}
				order[i] = r
				all(i + 1)
			}
		}
		all(0)
		if got < want-1e-9 {
			t.Errorf("exchange %.6f, the best of all %.6f", got, want)
		}
	}
}

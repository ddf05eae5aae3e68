package plan

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// DOptimal picks n runs out of those that can be made, each as often as is best, so that the readings narrow what is not known as a whole
// the most: the determinant of information, that of what is known before and of the runs' readings, is the largest. runs are slopes of a
// run's readings, a row each, in standard uncertainties of the reading by unknown; before may be nil. The first run is always first; with
// first below 0 none is given. It changes one run at a time for the best other, from several starts, as long as that gains.
// Source: V. V. Fedorov, "Theory of Optimal Experiments" (1972), ch. 3.
func DOptimal(before *mat.SymDense, runs []*mat.Dense, n, first int) (picked []int, logDet float64) {
	if len(runs) == 0 || n < 1 {
		return nil, math.Inf(-1)
	}
	_, unknowns := runs[0].Dims()
	information := func(picked []int, ridge float64) float64 {
		m := mat.NewSymDense(unknowns, nil)
		if before != nil {
			m.CopySym(before)
		}
		for i := range unknowns {
			m.SetSym(i, i, m.At(i, i)+ridge)
		}
		for _, r := range picked {
			m.SymRankK(m, 1, runs[r].T())
		}
		var c mat.Cholesky
		if !c.Factorize(m) {
			return math.Inf(-1)
		}
		return c.LogDet()
	}
	const least = 1e-9 // so that the first exchanges, which do not tell everything yet, can be compared
	best := math.Inf(-1)
	for start := range len(runs) {
		order := make([]int, n)
		for i := range order {
			order[i] = (start + i) % len(runs)
		}
		from := 0
		if first >= 0 {
			order[0], from = first, 1
		}
		here := information(order, least)
		for gained := true; gained; {
			gained = false
			for i := from; i < n; i++ {
				was, to := order[i], order[i]
				for r := range runs {
					order[i] = r
					if x := information(order, least); x > here+1e-9 {
						here, to, gained = x, r, true
					}
				}
				order[i] = to
				if to == was {
					order[i] = was
				}
			}
		}
		if picked == nil || here > best+1e-9 {
			best, picked = here, append([]int{}, order...)
		}
	}
	return picked, information(picked, 0)
}

package choose

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// boxPoints is how many points the chance of several targets at once is taken from; with it chances
// of up to six targets are right to 0.002.
const boxPoints = 512

// boxChance returns the probability that jointly normal figures with a mean of 0 and covariances cov
// all lie between lo and hi. Of one figure, and of those that do not hang together, it is exact. It is
// always the same for the same input. A figure without variance is 0, to within rounding.
// Source: A. Genz, "Numerical computation of multivariate normal probabilities", J. Comput. Graph.
// Statist. 1 (1992) 141-149, with the points of a lattice of square roots of primes, folded.
func boxChance(cov [][]float64, lo, hi []float64) float64 {
	n := len(lo)
	if n == 0 {
		return 1
	}
	l := cholesky(cov)
	if independent(l) {
		p := 1.0
		for i := range n {
			below, above := between0(lo[i], hi[i], l[i][i])
			p *= above - below
		}
		return p
	}
	sum, y := 0.0, make([]float64, n)
	for k := range boxPoints {
		p := 1.0
		for i := 0; i < n && p > 0; i++ {
			mean := 0.0
			for j := range i {
				mean += l[i][j] * y[j]
			}
			below, above := between0(lo[i]-mean, hi[i]-mean, l[i][i])
			p *= above - below
			if i < n-1 && p > 0 {
				at := below + folded(k, i)*(above-below)
				y[i] = distuv.UnitNormal.Quantile(min(max(at, 1e-16), 1-1e-16))
			}
		}
		sum += p
	}
	return sum / boxPoints
}

// between0 returns the probabilities of a normal figure about 0 to lie below lo and below hi.
func between0(lo, hi, std float64) (below, above float64) {
	if std == 0 {
		if lo > rounding || hi < -rounding {
			return 0, 0
		}
		return 0, 1
	}
	return distuv.UnitNormal.CDF(lo / std), distuv.UnitNormal.CDF(hi / std)
}

// folded is coordinate i of point k of the lattice, folded so that it does not jump at its ends.
func folded(k, i int) float64 {
	primes := [...]float64{2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37}
	_, f := math.Modf((float64(k) + 0.5) * math.Sqrt(primes[i%len(primes)]))
	return math.Abs(2*f - 1)
}

// cholesky returns the lower triangle whose product with its transpose is a matrix of covariances.
// What is left of a figure that wholly hangs on those before it is 0.
func cholesky(cov [][]float64) [][]float64 {
	l := make([][]float64, len(cov))
	for i := range cov {
		l[i] = make([]float64, len(cov))
		left := cov[i][i]
		for j := range i {
			if l[j][j] > 0 {
				s := cov[i][j]
				for k := range j {
					s -= l[i][k] * l[j][k]
				}
				l[i][j] = s / l[j][j]
			}
			left -= l[i][j] * l[i][j]
		}
		if left > 1e-12*cov[i][i] {
			l[i][i] = math.Sqrt(left)
		}
	}
	return l
}

// independent reports whether no figure hangs on another.
func independent(l [][]float64) bool {
	for i := range l {
		for j := range i {
			if l[i][j] != 0 {
				return false
			}
		}
	}
	return true
}

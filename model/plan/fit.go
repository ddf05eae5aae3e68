package plan

import "math"

// Driven is a session as the fit of a day takes it.
type Driven struct {
	Setting int     // of the day's settings, from 0
	At      float64 // where in the day: -1 for its first session, 1 for its last
	Weight  float64 // 1/variance of the run's mean, s⁻²
}

// DriftOf is the degree of the drift of track and driver over the day that is fitted beside so many settings in so many runs: 2 where
// three degrees of freedom are left then, else 1. Common practice, no source: with one or two left, the interval is made so much wider
// by a bend that is fitted too that the order of runs has to keep it out.
func DriftOf(runs, settings int) int {
	if runs-settings-2 >= 3 {
		return 2
	}
	return 1
}

// Fit is what the means of runs tell of settings, with a drift over the day.
type Fit struct {
	Degree int // of the drift
	Free   int // degrees of freedom that are left for the scatter

	driven  []Driven
	column  []int // of a setting; -1 for one that was not driven
	inverse [][]float64
}

// fitted makes the fit of runs of so many settings with a drift of a degree: weighted least squares with a level for each setting.
// ok is false where the runs do not tell the drift from the settings.
func fitted(driven []Driven, settings, degree int) (*Fit, bool) {
	f := &Fit{Degree: degree, driven: driven, column: make([]int, settings)}
	for i := range f.column {
		f.column[i] = -1
	}
	levels := 0
	for _, d := range driven {
		if f.column[d.Setting] < 0 {
			f.column[d.Setting] = levels
			levels++
		}
	}
	n := levels + degree
	f.Free = len(driven) - n
	var room [16][32]float64 // levels, drift and as much for the inverse
	if n > len(room) {
		return f, false
	}
	a := room[:n]
	var row [16]float64
	for _, d := range driven {
		f.terms(d, levels, row[:n])
		for i, x := range row[:n] {
			if x == 0 {
				continue
			}
			for k, y := range row[:n] {
				a[i][k] += d.Weight * x * y
			}
		}
	}
	if !inverted(a, n) {
		return f, false
	}
	f.inverse = make([][]float64, n)
	for i := range f.inverse {
		f.inverse[i] = append([]float64{}, a[i][n:2*n]...)
	}
	return f, true
}

// terms are the coefficients of a run: 1 for its setting, then the powers of where it is in the day.
func (f *Fit) terms(d Driven, levels int, row []float64) {
	clear(row)
	row[f.column[d.Setting]] = 1
	power := 1.0
	for i := levels; i < len(row); i++ {
		power *= d.At
		row[i] = power
	}
}

// inverted puts the inverse of the n columns on the left into those on the right, by Gauss and Jordan with pivots on the diagonal,
// which does for a matrix that is positive definite; it reports whether it is, clearly.
func inverted(a [][32]float64, n int) bool {
	var size [16]float64
	for i := range n {
		a[i][n+i] = 1
		size[i] = a[i][i]
	}
	for c := range n {
		pivot := a[c][c]
		if !(pivot > 1e-9*size[c]) {
			return false
		}
		for k := range 2 * n {
			a[c][k] /= pivot
		}
		for i := range n {
			if by := a[i][c]; i != c && by != 0 {
				for k := range 2 * n {
					a[i][k] -= by * a[c][k]
				}
			}
		}
	}
	return true
}

// Variance is that of the difference of two settings, b less a, in s² where weights are in s⁻²; infinite where one of them was not driven.
func (f *Fit) Variance(a, b int) float64 {
	i, k := f.column[a], f.column[b]
	if i < 0 || k < 0 || f.inverse == nil {
		return math.Inf(1)
	}
	return f.inverse[i][i] + f.inverse[k][k] - 2*f.inverse[i][k]
}

// shares are by how much each run's mean goes into the difference of two settings, b less a.
func (f *Fit) shares(a, b int) []float64 {
	levels := len(f.inverse) - f.Degree
	row := make([]float64, len(f.inverse))
	out := make([]float64, len(f.driven))
	for r, d := range f.driven {
		f.terms(d, levels, row)
		for i, x := range row {
			out[r] += d.Weight * x * (f.inverse[f.column[b]][i] - f.inverse[f.column[a]][i])
		}
	}
	return out
}

// Of is the difference of two settings by the means of the runs, in the order in which they were driven, and its standard error from
// the scatter that the fit leaves. NaN where the runs do not tell.
func (f *Fit) Of(means []float64, a, b int) (difference, standardError float64) {
	if math.IsInf(f.Variance(a, b), 1) {
		return math.NaN(), math.NaN()
	}
	for r, share := range f.shares(a, b) {
		difference += share * means[r]
	}
	if f.Free < 1 {
		return difference, math.NaN()
	}
	return difference, math.Sqrt(f.left(means) / float64(f.Free) * f.Variance(a, b))
}

// left is the weighted sum of squares that the fit leaves.
func (f *Fit) left(means []float64) float64 {
	n := len(f.inverse)
	levels := n - f.Degree
	row, right := make([]float64, n), make([]float64, n)
	for r, d := range f.driven {
		f.terms(d, levels, row)
		for i, x := range row {
			right[i] += d.Weight * x * means[r]
		}
	}
	found := make([]float64, n)
	for i := range found {
		for k, x := range right {
			found[i] += f.inverse[i][k] * x
		}
	}
	sum := 0.0
	for r, d := range f.driven {
		f.terms(d, levels, row)
		off := means[r]
		for i, x := range row {
			off -= x * found[i]
		}
		sum += d.Weight * off * off
	}
	return sum
}

// Bend is what a drift that bends puts into the difference of two settings, b less a, where the middle of the day is slower by 1 than
// its ends; 0 where a bend is fitted.
func (f *Fit) Bend(a, b int) (into float64) {
	if math.IsInf(f.Variance(a, b), 1) {
		return math.NaN()
	}
	for r, share := range f.shares(a, b) {
		at := f.driven[r].At
		into += share * (1 - at*at)
	}
	return into
}

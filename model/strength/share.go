package strength

import "math"

// Shares returns the parts of a wing's loads that uprights at places across the car bear, mm, the first
// and the last of which stand within a span of so many mm: reactions of a beam on rigid supports under an
// even load, with what overhangs. Two equal spans without overhang put 0.625 on the middle.
//
// Source: B. P. É. Clapeyron's theorem of three moments, as in S. P. Timoshenko, "Strength of Materials",
// part I (1955), ch. VII:
//
//	M(i-1) l(i) + 2 M(i) (l(i) + l(i+1)) + M(i+1) l(i+1) = -w (l(i)³ + l(i+1)³)/4
func Shares(at []float64, span float64) []float64 {
	n := len(at)
	switch n {
	case 0:
		return nil
	case 1:
		return []float64{1}
	}
	w := 1 / span
	middle := 0.0
	left, right := middle-span/2, middle+span/2
	l := make([]float64, n) // l[i] between i-1 and i
	for i := 1; i < n; i++ {
		l[i] = at[i] - at[i-1]
	}
	a, b := max(0, at[0]-left), max(0, right-at[n-1])
	m := make([]float64, n)
	m[0], m[n-1] = -w*a*a/2, -w*b*b/2
	// The inner moments, by elimination.
	diag, rhs := make([]float64, n), make([]float64, n)
	for i := 1; i < n-1; i++ {
		diag[i] = 2 * (l[i] + l[i+1])
		rhs[i] = -w * (math.Pow(l[i], 3) + math.Pow(l[i+1], 3)) / 4
	}
	if n > 2 {
		rhs[1] -= m[0] * l[1]
		rhs[n-2] -= m[n-1] * l[n-1]
	}
	for i := 2; i < n-1; i++ {
		k := l[i] / diag[i-1]
		diag[i] -= k * l[i]
		rhs[i] -= k * rhs[i-1]
	}
	for i := n - 2; i >= 1; i-- {
		next := 0.0
		if i+1 < n-1 {
			next = m[i+1] * l[i+1]
		}
		m[i] = (rhs[i] - next) / diag[i]
	}
	r := make([]float64, n)
	for i := range r {
		if i > 0 {
			r[i] += w*l[i]/2 + (m[i-1]-m[i])/l[i]
		}
		if i < n-1 {
			r[i] += w*l[i+1]/2 + (m[i+1]-m[i])/l[i+1]
		}
	}
	r[0] += w * a
	r[n-1] += w * b
	return r
}

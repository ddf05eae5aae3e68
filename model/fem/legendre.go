package fem

import "gonum.org/v1/gonum/integrate/quad"

// order is how many points a rule over a cell has each way: exact to degree 9, and what a cut
// cell's fitted rule takes to be exact to degree 4, which all stiffnesses of a nine-node cell
// are.
const order = 5

// gauss are the points and weights of Gauss and Legendre over -1 to 1 with so many points.
func gauss(n int) (x, w []float64) {
	x, w = make([]float64, n), make([]float64, n)
	quad.Legendre{}.FixedLocations(x, w, -1, 1)
	return x, w
}

// legendre are the polynomials P0 to P5 at x.
func legendre(x float64) [order + 1]float64 {
	p := [order + 1]float64{1, x}
	for n := 1; n < order; n++ {
		p[n+1] = (float64(2*n+1)*x*p[n] - float64(n)*p[n-1]) / float64(n+1)
	}
	return p
}

// antiderivative are the integrals of P0 to P4 from -1 to x: (P(n+1) - P(n-1))/(2n+1).
func antiderivative(x float64) (a [order]float64) {
	p := legendre(x)
	a[0] = x + 1
	for n := 1; n < order; n++ {
		a[n] = (p[n+1] - p[n-1]) / float64(2*n+1)
	}
	return a
}

// raster is how many parts a cell that an edge passes is divided into each way.
const raster = 16

// strips are the integrals of P0 to P4 over each of the raster's strips.
var strips = func() (s [raster][order]float64) {
	low := antiderivative(-1)
	for i := range raster {
		high := antiderivative(-1 + 2*float64(i+1)/raster)
		for n := range order {
			s[i][n] = high[n] - low[n]
		}
		low = high
	}
	return s
}()

// sample is a point of a rule, in a cell's own directions from -1 to 1, and its weight; the
// weights of a whole cell add up to 4.
type sample struct{ a, b, weight float64 }

// wholeRule is the rule of a cell that is metal all over: 3 by 3 points, exact for it.
var wholeRule = func() []sample {
	x, w := gauss(3)
	var all []sample
	for i := range x {
		for j := range x {
			all = append(all, sample{x[i], x[j], w[i] * w[j]})
		}
	}
	return all
}()

var gaussX, gaussW = gauss(order)

// fitted returns the rule that integrates every polynomial up to degree 4 each way exactly
// over the marked parts of a cell, and the share of the cell that they are. By the points'
// discrete orthogonality the weight at (i, j) is
//
//	wi wj Σ (2a+1)/2 (2b+1)/2 m(a,b) Pa(xi) Pb(xj)
//
// with m the parts' integrals of Pa Pb. Weights may be negative.
// Source: B. Müller, F. Kummer, M. Oberlack, Int. J. Numer. Meth. Engng 96 (2013), moment
// fitting.
func fitted(metal *[raster][raster]bool) (rule []sample, share float64) {
	var m [order][order]float64
	for i := range raster {
		var along [order]float64 // over this column of parts
		any := false
		for j := range raster {
			if metal[i][j] {
				any = true
				for b := range order {
					along[b] += strips[j][b]
				}
			}
		}
		if !any {
			continue
		}
		for a := range order {
			for b := range order {
				m[a][b] += strips[i][a] * along[b]
			}
		}
	}
	var p [order][order + 1]float64
	for i := range order {
		p[i] = legendre(gaussX[i])
	}
	for i := range order {
		for j := range order {
			w := 0.0
			for a := range order {
				for b := range order {
					w += float64(2*a+1) * float64(2*b+1) / 4 * m[a][b] * p[i][a] * p[j][b]
				}
			}
			rule = append(rule, sample{gaussX[i], gaussX[j], w * gaussW[i] * gaussW[j]})
		}
	}
	return rule, m[0][0] / 4
}

// shape are the nine shape functions of a biquadratic cell and their slopes by a and b, at a
// place in its own directions; node 3j+i stands at (i-1, j-1).
func shape(a, b float64) (n, da, db [9]float64) {
	va, sa := quadratic(a)
	vb, sb := quadratic(b)
	for j := range 3 {
		for i := range 3 {
			n[3*j+i] = va[i] * vb[j]
			da[3*j+i] = sa[i] * vb[j]
			db[3*j+i] = va[i] * sb[j]
		}
	}
	return n, da, db
}

func quadratic(a float64) (v, slope [3]float64) {
	return [3]float64{a * (a - 1) / 2, 1 - a*a, a * (a + 1) / 2}, [3]float64{a - 0.5, -2 * a, a + 0.5}
}

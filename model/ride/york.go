// Package ride tells from ride heights in a recording by how much each axle sinks with the square of the speed, and from that the load that
// the air puts on it. Ride heights in mm, speeds in m/s. The package knows no car file.
package ride

import (
	"errors"
	"math"
)

// Line is a straight line y = a + b·x with standard uncertainties.
type Line struct {
	A, AStdUnc float64
	B, BStdUnc float64
	ChiSquared float64 // with n − 2 degrees of freedom
}

// York fits a straight line to points with errors in both coordinates, each with its own standard uncertainties, not hanging together.
// Source: D. York, N. M. Evensen, M. L. Martínez and J. De Basabe Delgado, "Unified equations for the slope, intercept, and standard errors
// of the best straight line", Am. J. Phys. 72 (2004) 367, eqs. 13a to 13d.
func York(x, y, ux, uy []float64) (Line, error) {
	n := len(x)
	if n < 3 {
		return Line{}, errors.New("a line needs 3 points")
	}
	// To begin with, by least squares in y alone.
	var mx, my, sxx, sxy float64
	for i := range x {
		mx, my = mx+x[i]/float64(n), my+y[i]/float64(n)
	}
	for i := range x {
		sxx, sxy = sxx+(x[i]-mx)*(x[i]-mx), sxy+(x[i]-mx)*(y[i]-my)
	}
	if sxx == 0 {
		return Line{}, errors.New("all points have one x")
	}
	l := Line{B: sxy / sxx}
	beta := make([]float64, n)
	w := make([]float64, n)
	var xm, ym float64
	for range 200 {
		var sw float64
		xm, ym = 0, 0
		for i := range x {
			wx, wy := 1/(ux[i]*ux[i]), 1/(uy[i]*uy[i])
			w[i] = wx * wy / (wx + l.B*l.B*wy)
			if ux[i] == 0 {
				w[i] = wy
			}
			sw, xm, ym = sw+w[i], xm+w[i]*x[i], ym+w[i]*y[i]
		}
		xm, ym = xm/sw, ym/sw
		var up, down float64
		for i := range x {
			u, v := x[i]-xm, y[i]-ym
			beta[i] = w[i] * (u*uy[i]*uy[i] + l.B*v*ux[i]*ux[i])
			up, down = up+w[i]*beta[i]*v, down+w[i]*beta[i]*u
		}
		was := l.B
		l.B = up / down
		if math.Abs(l.B-was) <= 1e-15*math.Abs(l.B) {
			break
		}
	}
	l.A = ym - l.B*xm
	var sw, bm, sb float64
	for i := range x {
		sw, bm = sw+w[i], bm+w[i]*beta[i]
	}
	bm /= sw
	for i := range x {
		sb += w[i] * (beta[i] - bm) * (beta[i] - bm)
		l.ChiSquared += w[i] * (y[i] - l.A - l.B*x[i]) * (y[i] - l.A - l.B*x[i])
	}
	at := xm + bm
	l.BStdUnc = math.Sqrt(1 / sb)
	l.AStdUnc = math.Sqrt(1/sw + at*at/sb)
	if math.IsNaN(l.B) || math.IsInf(l.B, 0) {
		return l, errors.New("the line does not settle")
	}
	return l, nil
}

// Package coast finds the drag of a car from coast-downs: the speed over time itself is fitted by the integrated road load, never the
// deceleration, all runs together, with wind and slope as far as runs both ways tell them.
//
// SI units. The package knows no car file.
package coast

import "math"

// Load is a road load F = A + B·v + C·v², N, v in m/s.
type Load struct{ A, B, C float64 }

// At is the load at a speed.
func (l Load) At(v float64) float64 { return l.A + v*(l.B+v*l.C) }

// Speed is the speed that a car of an effective mass m, kg, has t seconds after it coasted at v0: the integral of m·dv/dt = −F.
// With D² = 4·A·C − B²: v = (D·tan(atan((2·C·v0 + B)/D) − D·t/(2·m)) − B)/(2·C). Below a standstill it stays there. t may be below 0.
// Source: G. D. Thompson, EPA, "The Vehicle Road Load Problem" (1976), for fitting the integrated form; F. White and H. Korst, SAE 720099
// (1972), for B = 0.
func (l Load) Speed(m, v0, t float64) float64 {
	a, b, c := l.A, l.B, l.C
	if math.Abs(c) < 1e-9 {
		if math.Abs(b) < 1e-9 {
			return max(0, v0-a*t/m)
		}
		return max(0, (v0+a/b)*math.Exp(-b*t/m)-a/b)
	}
	d2 := 4*a*c - b*b
	u, s := 2*c*v0+b, math.Sqrt(math.Abs(d2))
	// The tangent of the difference by that of its parts, which holds its digits where D is next to nothing.
	angle := s * t / (2 * m)
	switch {
	case angle == 0:
		u /= 1 + u*t/(2*m)
	case d2 > 0:
		if to := math.Atan2(u, s) - angle; to <= -math.Pi/2 {
			return 0
		} else if t < 0 && to >= math.Pi/2 {
			return math.Inf(1)
		}
		tan := math.Tan(angle)
		u = (u - s*tan) / (1 + u*tan/s)
	default: // downhill or down the wind: there is a speed that is kept
		tanh := math.Tanh(angle)
		down := 1 + u*tanh/s
		if down <= 0 {
			return 0
		}
		u = (u + s*tanh) / down
	}
	return max(0, (u-b)/(2*c))
}

// Time is the time in which a car slows down from one speed to another; NaN where it does not.
func (l Load) Time(m, from, to float64) float64 {
	if l.B == 0 && l.A > 0 && l.C > 0 {
		k := math.Sqrt(l.C / l.A)
		return m / math.Sqrt(l.A*l.C) * (math.Atan(from*k) - math.Atan(to*k))
	}
	d := math.Sqrt(4*l.A*l.C - l.B*l.B)
	return 2 * m / d * (math.Atan((2*l.C*from+l.B)/d) - math.Atan((2*l.C*to+l.B)/d))
}

// Way is the way in which it does, m, for B = 0.
func (l Load) Way(m, from, to float64) float64 {
	return m / (2 * l.C) * math.Log((l.A+l.C*from*from)/(l.A+l.C*to*to))
}

// factors of the statistical rule for n pairs of runs.
// Source: ISO 10521-1:2006 and UN GTR No. 15 (WLTP), annex 4, 4.3.1.4.2: h·s/(√n·mean) is 0.030 at most.
var factors = map[int]float64{3: 4.3, 4: 3.2, 5: 2.8, 6: 2.6, 7: 2.5, 8: 2.4}

// MostSpread is what Spread may be at most.
const MostSpread = 0.030

// What rolling resistance over weight can be, tyres of a road or track-day car on asphalt, out of gear. Common practice, no source.
const (
	leastRolling = 0.006
	mostRolling  = 0.025
)

// Rolls reports whether a rolling resistance, N, is one that a car of a mass, kg, can have by its tyres alone: an engine in gear or a brake that
// drags looks like more, a slope or the wind like less.
func Rolls(a, mass float64) bool {
	c := a / (mass * gravity)
	return c >= leastRolling && c <= mostRolling
}

// Pair is the harmonic mean of the times of a pair of runs, both ways.
func Pair(there, back float64) float64 { return 2 / (1/there + 1/back) }

// Spread is the statistical precision of the times of n pairs by the rule; NaN for fewer than 3 pairs, more than 8 take the factor of 8.
func Spread(pairs []float64) float64 {
	n := len(pairs)
	h, ok := factors[min(n, 8)]
	if !ok {
		return math.NaN()
	}
	mean, square := 0.0, 0.0
	for _, t := range pairs {
		mean += t / float64(n)
	}
	for _, t := range pairs {
		square += (t - mean) * (t - mean)
	}
	return h * math.Sqrt(square/float64(n-1)) / (math.Sqrt(float64(n)) * mean)
}

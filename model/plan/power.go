package plan

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/stat/distuv"
)

// Level is how often a difference may be called clear at most where there is none: two-sided, of all comparisons of a day together.
const Level = 0.05

// Power is how often a difference that is "seen" by a plan is clear at the end of the day: in 4 of 5 such days.
const Power = 0.8

// each is the level of one of several comparisons, so that all of them together keep Level.
// Source: Z. Šidák, J. Amer. Statist. Assoc. 62 (1967) 626-633.
func each(comparisons int) float64 {
	return -math.Expm1(math.Log1p(-Level) / float64(max(comparisons, 1)))
}

// critical is how many standard errors of free degrees of freedom a difference must have to be clear.
func critical(free, level float64) float64 {
	return distuv.StudentsT{Sigma: 1, Nu: free}.Quantile(1 - level/2)
}

// points of the rule by which PowerOf is worked out; 64 more change its seventh digit.
const points = 160

// PowerOf is the chance that a difference is clear by a two-sided t test which is as large as so many standard errors: that of the
// noncentral t distribution, by integration over the scatter that is found. NaN without degrees of freedom.
// Source: B. L. Welch, N. L. Johnson, "Applications of the non-central t-distribution", Biometrika 31 (1940) 362-389.
func PowerOf(standardErrors, free, level float64) float64 {
	if !(free > 0) {
		return math.NaN()
	}
	t := critical(free, level)
	chi := distuv.ChiSquared{K: free}
	found := func(s float64) float64 { // s: the scatter found, in parts of the true one
		return 2 * free * s * chi.Prob(free*s*s) * (distuv.UnitNormal.CDF(standardErrors-t*s) + distuv.UnitNormal.CDF(-standardErrors-t*s))
	}
	reach := 9 / math.Sqrt(2*free)
	return quad.Fixed(found, max(0, 1-reach), 1+reach, points, nil, 0)
}

// Seen is how many standard errors a difference must have to be clear with a chance; NaN without degrees of freedom.
func Seen(free, level, power float64) float64 {
	if !(free > 0) {
		return math.NaN()
	}
	lo, hi := 0.0, 2.0
	for PowerOf(hi, free, level) < power {
		lo, hi = hi, 2*hi
	}
	for range 50 {
		if middle := (lo + hi) / 2; PowerOf(middle, free, level) < power {
			lo = middle
		} else {
			hi = middle
		}
	}
	return hi
}

// EachByNormal is how many laps of each of two settings show a difference of so many standard deviations of a lap, by the normal
// approximation n = 2 (z₁ + z₂)²/ratio².
func EachByNormal(ratio, level, power float64) float64 {
	z := distuv.UnitNormal.Quantile(1-level/2) + distuv.UnitNormal.Quantile(power)
	return 2 * z * z / (ratio * ratio)
}

// Each is the same by the t test itself, whose scatter is found from the laps: not a whole number.
func Each(ratio, level, power float64) float64 {
	short := func(n float64) bool { return PowerOf(ratio*math.Sqrt(n/2), 2*n-2, level) < power }
	lo, hi := 1.01, 4.0
	for short(hi) {
		if lo, hi = hi, 2*hi; hi > 1e7 {
			return math.Inf(1)
		}
	}
	for range 60 {
		if middle := (lo + hi) / 2; short(middle) {
			lo = middle
		} else {
			hi = middle
		}
	}
	return hi
}

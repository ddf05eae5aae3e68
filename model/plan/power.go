package plan

import (
	"math"
	"sync"

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

// scatterFound is how a scatter is found with so many degrees of freedom, in parts of the true one: places and their weights.
type scatterFound struct{ critical, at, weight []float64 }

// found makes the rule for a test at a level.
func found(free, level float64) scatterFound {
	f := scatterFound{at: make([]float64, points), weight: make([]float64, points)}
	reach := 9 / math.Sqrt(2*free)
	quad.Legendre{}.FixedLocations(f.at, f.weight, max(0, 1-reach), 1+reach)
	chi, t := distuv.ChiSquared{K: free}, critical(free, level)
	for i, s := range f.at {
		f.weight[i] *= 2 * free * s * chi.Prob(free*s*s)
		f.critical = append(f.critical, t*s)
	}
	return f
}

// power is the chance that a difference of so many true standard errors is clear.
func (f scatterFound) power(standardErrors float64) (sum float64) {
	for i, t := range f.critical {
		sum += f.weight[i] * (math.Erfc((t-standardErrors)/math.Sqrt2) + math.Erfc((t+standardErrors)/math.Sqrt2)) / 2
	}
	return sum
}

// PowerOf is the chance that a difference is clear by a two-sided t test which is as large as so many standard errors: that of the
// noncentral t distribution, by integration over the scatter that is found. NaN without degrees of freedom.
// Source: B. L. Welch, N. L. Johnson, "Applications of the non-central t-distribution", Biometrika 31 (1940) 362-389.
func PowerOf(standardErrors, free, level float64) float64 {
	if !(free > 0) {
		return math.NaN()
	}
	return found(free, level).power(standardErrors)
}

// seenKnown remembers what Seen has worked out: a day asks for the same over and over.
var seenKnown sync.Map

// Seen is how many standard errors a difference must have to be clear with a chance; NaN without degrees of freedom.
func Seen(free, level, power float64) float64 {
	if !(free > 0) {
		return math.NaN()
	}
	key := [3]float64{free, level, power}
	if x, ok := seenKnown.Load(key); ok {
		return x.(float64)
	}
	x := seen(free, level, power)
	seenKnown.Store(key, x)
	return x
}

func seen(free, level, power float64) float64 {
	f, lo, hi := found(free, level), 0.0, 2.0
	for f.power(hi) < power {
		lo, hi = hi, 2*hi
	}
	for range 50 {
		if middle := (lo + hi) / 2; f.power(middle) < power {
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

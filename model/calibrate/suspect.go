package calibrate

import (
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/stat/distuv"
)

// FalseAlarm is the chance that readings without a slip name one as suspect, at most.
const FalseAlarm = 0.04

// Threshold returns how many standard uncertainties off the worst of n residuals is suspect, so that
// all n normal ones keep below it with a chance of 1 − FalseAlarm: for residuals that hang together
// the chance is larger.
// Source: Z. Šidák, "Rectangular confidence regions for the means of multivariate normal
// distributions", J. Amer. Statist. Assoc. 62 (1967) 626, Theorem 1 (from memory; sure).
func Threshold(n int) float64 {
	each := 1 - math.Pow(1-FalseAlarm, 1/float64(max(n, 1)))
	return distuv.UnitNormal.Quantile(1 - each/2)
}

// Slip is what a suspect reading may have wrong.
type Slip int

// The slips that can be told.
const (
	NoSlip      Slip = iota
	SlipAngle        // its angle, or its setting
	SlipHeight       // a height
	SlipTurning      // the level turned end for end: its zero is not that of the other readings on this floor
)

// test is one way in which a reading or a floor may be off.
type test struct {
	reading, floor int // the other one is -1
	slip           Slip
	by             map[int]float64 // equations that it moves
	beyond         []float64       // as solution.beyond
	times          float64         // standard uncertainties that it is off by
}

// least is the smallest part of a direction beyond the fit, whitened, for which a slip can be told.
const least = 1e-6

// alike is the correlation from which nobody can tell one slip from another.
const alike = 0.99

// tests lists what can be wrong with the readings in use and can be told, each with how far off it is.
// Source: W. Baarda, "A testing procedure for use in geodetic networks" (Netherlands Geodetic
// Commission, 1968): with whitened residuals r and the direction d of a slip beyond the fit, d·r/|d|
// is normal with variance 1.
func (s *solution) tests() (all []test) {
	angle := map[int]*test{}
	add := func(t *test) {
		t.beyond = s.beyond(t.by)
		if size := floats.Norm(t.beyond, 2); size > least {
			t.times = floats.Dot(t.beyond, s.right) / size
			all = append(all, *t)
		}
	}
	var turned []*test
	for i, e := range s.set.eqs {
		switch {
		case !e.used:
		case e.of == levelFirst:
			angle[e.reading] = &test{reading: e.reading, floor: -1, slip: SlipAngle, by: map[int]float64{i: 1}}
		case e.of == levelTurned:
			angle[e.reading].by[i] = 1
			if e.floor >= 0 {
				turned = append(turned, &test{reading: e.reading, floor: -1, slip: SlipTurning, by: map[int]float64{i - 1: 1, i: -1}})
			}
		case e.of.tape():
			add(&test{reading: e.reading, floor: -1, slip: SlipHeight, by: map[int]float64{i: 1}})
		case e.of == floorTurned:
			turned = append(turned, &test{reading: -1, floor: e.floor, slip: SlipTurning, by: map[int]float64{i - 1: 1, i: -1}})
		}
	}
	for i := range s.set.zeros { // in the order of the readings
		if t := angle[i]; t != nil {
			add(t)
		}
	}
	for _, t := range turned {
		add(t)
	}
	return all
}

// worst returns the test that is furthest off, and those that could as well explain what it found in
// another reading or floor.
func worst(all []test) (at test, others []test) {
	for _, t := range all {
		if math.Abs(t.times) > math.Abs(at.times) {
			at = t
		}
	}
	for _, t := range all {
		if at.times == 0 || t.reading == at.reading && t.floor == at.floor {
			continue
		}
		if r := floats.Dot(t.beyond, at.beyond) / floats.Norm(t.beyond, 2) / floats.Norm(at.beyond, 2); math.Abs(r) > alike {
			others = append(others, t)
		}
	}
	return at, others
}

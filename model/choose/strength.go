package choose

import (
	"math"

	"stanchion/model/strength"
)

// StrengthOf is how a setting holds at a speed in m/s, from what was found of it at the design speed: above
// that it is not checked, save where it does not hold anyway; nor where formulas alone do not settle that it uses
// no more than most of its strength.
func StrengthOf(f *strength.Analysis, r strength.Result, most, speed float64) Strength {
	s := Strength{Used: math.NaN()}
	if used, ok := r.Used(); ok {
		s.Used = used.Utilisation()
	}
	switch r.Verdict() {
	case strength.DoesNotHold:
		s.Fails = true
	case strength.Passes:
		s.Passes = !f.Slower(speed) && Settled(r, most)
	}
	return s
}

// FormulasMiss is by how much more than the formulas of beams say a plate may use of its strength when it is solved
// as it is drawn: near loaded holes up to 1.3 times as much was found (package strength).
const FormulasMiss = 1.3

// Settled reports whether what was found of a setting's strength settles that it uses no more than a part of it,
// or that it does not hold.
func Settled(r strength.Result, most float64) bool {
	used, ok := r.Used()
	return r.Solved != nil || !ok || used.Utilisation() > 1 || used.Utilisation()*FormulasMiss <= most
}

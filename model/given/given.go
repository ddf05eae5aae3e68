// Package given is for inputs that may be left open: a number that is given or not, so that
// no figure has to stand for "not given". The zero Number is not given.
package given

import "math"

// Number is a number that may be left open.
type Number struct {
	x     float64
	known bool
}

// Is returns a number that is given.
func Is(x float64) Number { return Number{x, true} }

// Known reports whether the number is given.
func (n Number) Known() bool { return n.known }

// Get returns the number, and whether it is given; else it is 0.
func (n Number) Get() (float64, bool) { return n.x, n.known }

// Or returns the number, or otherwise where it is not given.
func (n Number) Or(otherwise float64) float64 {
	if n.known {
		return n.x
	}
	return otherwise
}

// Value returns the number, NaN where it is not given: a figure that follows from it cannot
// be given either.
func (n Number) Value() float64 { return n.Or(math.NaN()) }

package model

import (
	"math"
	"testing"
)

// TestEitherSide: a wake over the upper side costs a fifth of what it costs below.
func TestEitherSide(t *testing.T) {
	for _, s := range []Struts{{LostLift: 0.03, FromBelow: true}, {LostLift: 0.006}} {
		if over, under := s.EitherSide(); math.Abs(over-0.006) > 1e-12 || math.Abs(under-0.03) > 1e-12 {
			t.Errorf("%+v: %v over, %v under", s, over, under)
		}
	}
}

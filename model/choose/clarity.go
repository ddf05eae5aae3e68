package choose

import (
	"math"

	"stanchion/model"
)

// The thresholds that every comparison of two settings goes by, in standard uncertainties of the
// difference: what is below AlikeBelow counts as equal, what is from ClearFrom on as different
// (about 95 % sure; JCGM 100:2008, 6.2 and G.6.6).
const (
	AlikeBelow = 1.0
	ClearFrom  = 2.0
)

// Clarity is how clear the difference between two settings is.
type Clarity int

// The degrees of clarity.
const (
	NotKnown Clarity = iota
	NoClearDifference
	NotSure
	Clear
)

// ClarityOf says how clear a difference is that has a standard uncertainty, in one unit. A
// difference of 0 without uncertainty is none.
func ClarityOf(difference, stdUnc float64) Clarity {
	switch times := times(difference, stdUnc); {
	case math.IsNaN(times):
		return NotKnown
	case times < AlikeBelow:
		return NoClearDifference
	case times < ClearFrom:
		return NotSure
	}
	return Clear
}

// times is a difference in its standard uncertainties.
func times(difference, stdUnc float64) float64 {
	if difference == 0 && stdUnc == 0 { // a setting does not differ from itself
		return 0
	}
	return math.Abs(difference) / stdUnc
}

// Apart says how clear the difference between two settings is, from its standard uncertainty:
// that of downforce or that of the front share, whichever is clearer.
func Apart(a, b *model.Row, stdUnc model.Contribution) Clarity {
	// What the body does is known of one and not of the other: that is no difference of theirs.
	if a.Position != nil && b.Position != nil && a.Deck.Known != b.Deck.Known {
		return NotKnown
	}
	force, share := times(a.Downforce-b.Downforce, stdUnc.Downforce), times(a.Share-b.Share, stdUnc.Share)
	return ClarityOf(max(force, share), 1)
}

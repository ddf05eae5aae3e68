package figures

import (
	"math"

	"stanchion/model/choose"
	"stanchion/model/units"
)

// ChangeWithStdUnc is Change with one standard uncertainty of the difference, without its sign. Both have one digit
// more where what is rounded would say another clarity than what is not, or where a difference that is not clear has
// a ± of no more than the last digit: 0.06 ± 0.04 pp is not sure, and "+0.1 ± 0.0" would be clear.
func (f Figure) ChangeWithStdUnc(now, before, stdUnc float64, u units.System) (change, band string) {
	if f.roundingMisleads(now, before, stdUnc, u) {
		return f.changeTo(1, now, before, u), units.Fixed(stdUnc/f.Quantity.size(u), f.digits(u)+1)
	}
	return f.Change(now, before, u), f.SpellStdUnc(stdUnc, u)
}

// roundingMisleads reports whether a difference and its standard uncertainty as they are shown have another clarity
// than they have.
func (f Figure) roundingMisleads(now, before, stdUnc float64, u units.System) bool {
	clarity := choose.ClarityOf(now-before, stdUnc)
	if clarity == choose.NotKnown || stdUnc == 0 {
		return false
	}
	size, digits := f.Quantity.size(u), f.digits(u)
	shown := rounded(now/size, digits) - rounded(before/size, digits)
	band := rounded(stdUnc/size, digits)
	return choose.ClarityOf(rounded(shown, digits), band) != clarity || clarity != choose.Clear && band*math.Pow10(digits) < 1.5
}

// changeTo is Change with further digits.
func (f Figure) changeTo(further int, now, before float64, u units.System) string {
	size, digits := f.Quantity.size(u), f.digits(u)+further
	return units.Signed(rounded(now/size, digits)-rounded(before/size, digits), digits)
}

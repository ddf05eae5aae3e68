package words

import (
	"fmt"

	"stanchion/model/choose"
	"stanchion/model/units"
)

// AdviceCautions go with every advice.
const AdviceCautions = "One change at a time, build up speed, and look at every bolt after the first laps."

// Advice says which setting to try next, and why, or why there is none.
func Advice(a choose.Advice) string {
	felt, wants := "understeer", "less wing"
	if a.Oversteer {
		felt, wants = "oversteer", "more wing"
	}
	switch a.Finding {
	case choose.SettingGone:
		return fmt.Sprintf("Note %s is the last that says how a setting felt, and the car file no longer gives its setting %s. Note the setting that is on the car now.", a.Note, units.Printable(a.Setting))
	case choose.OneEndOnly:
		return fmt.Sprintf("Note %s says how one end felt and not the other. Note both, best in fast corners.", a.Note)
	case choose.FeltNeutral:
		return fmt.Sprintf("In note %s the car was neutral. There is nothing for the wing to change.", a.Note)
	case choose.SlowOnly:
		return fmt.Sprintf("Note %s is about slow corners, where the wing does little. Change something else first, or note fast corners.", a.Note)
	case choose.NoneBetween:
		return fmt.Sprintf("Note %s says %s in fast corners, note %s the opposite. No setting between the two differs clearly from both: run the one you prefer and change something else, the wing cannot do finer.", a.Note, felt, a.TooMuch)
	case choose.NoneFarEnough:
		return fmt.Sprintf("Note %s says %s in fast corners, which asks for %s. No setting that keeps all limits changes enough to be felt: change something else, the wing cannot do this.", a.Note, felt, wants)
	}
	short := ""
	if a.TooMuch != "" {
		short = ", short of what note " + a.TooMuch + " found too much"
	}
	return fmt.Sprintf("Note %s says %s in fast corners, which asks for %s. This is the smallest step that is larger than its own uncertainty%s: front share %s pp.",
		a.Note, felt, wants, short, units.Signed(100*(a.To.Share-a.From.Share), 1))
}

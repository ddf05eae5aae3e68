package words

import (
	"fmt"
	"math"
	"strings"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/advise"
	"stanchion/model/choose"
	"stanchion/model/logbook"
	"stanchion/model/units"
)

// AdviceCautions go with every advice.
const AdviceCautions = "One change at a time, build up speed, and look at every bolt after the first laps."

// Advice says what was felt and what it asks for, or why there is nothing to try.
func Advice(a choose.Advice) string {
	felt := fmt.Sprintf("Note %s says %s in fast corners", a.Note, logbook.BalanceWord(a.Felt))
	if len(a.On) > 1 {
		felt = fmt.Sprintf("Notes %s say %s in fast corners, taken together", strings.Join(a.On, ", "), feltWord(a.Felt))
	}
	wants := ", which asks for a larger front share, that is for less wing"
	if a.Felt > 0 {
		wants = ", which asks for a smaller front share, that is for more wing"
	}
	slow := ""
	if a.Slow*a.Felt > 0 {
		slow = fmt.Sprintf(", and %s in slow ones: what is worse in fast corners is the wing's", feltWord(a.Slow))
	}
	switch a.Finding {
	case choose.SettingGone:
		return fmt.Sprintf("Note %s is the last that says how a setting felt, and the car file no longer gives its setting %s. Note the setting that is on the car now.", a.Note, units.Printable(a.Setting))
	case choose.SettingMoved:
		return fmt.Sprintf("Note %s is the last that says how a setting felt, and its setting was elsewhere then: nothing can be told from it. Run it as it is now, and note how it feels.", a.Note)
	case choose.NotedWithoutFigures:
		return felt + wants + ". The setting that was noted has no figures, so that no step can be worked out from it."
	case choose.OneEndOnly:
		return fmt.Sprintf("Note %s says how one end felt and not the other. Note both, or the balance, best in fast corners.", a.Note)
	case choose.FeltNeutral:
		return fmt.Sprintf("In note %s the car was neutral in fast corners. There is nothing for the wing to change.", a.Note)
	case choose.SlowOnly:
		return fmt.Sprintf("Note %s is about slow corners, where the wing does little. Change something else first, or note fast corners.", a.Note)
	case choose.PhaseOnly:
		text := fmt.Sprintf("In note %s fast corners were off at entry or exit only. The wing works from entry to exit, so leave it as it is and look elsewhere first.", a.Note)
		if !a.Middle {
			text += " Note the middle of fast corners too."
		}
		return text
	case choose.AlikeInSlow:
		return fmt.Sprintf("%s, and %s in slow ones, where the wing does little: it is not the wing: leave it as it is.", felt, feltWord(a.Slow))
	case choose.ShortAtBothEnds:
		return fmt.Sprintf("Note %s says that both ends are short of grip in fast corners. That asks for no less downforce: the wing stays at least as it is.", a.Note)
	case choose.UnstableFirst:
		return felt + wants + fmt.Sprintf(". But the car was unstable in note %s, and less wing makes it more so: find that first. The wing stays as it is.", a.UnstableNote())
	case choose.NotesContradict:
		return fmt.Sprintf("Notes %s and %s are about one setting, or two that are no different, and say the opposite of each other in fast corners, all else alike. Nothing can be told from them: run it again, or correct the wrong one (stanchion note add --replaces).", a.Contradicts[0], a.Contradicts[1])
	case choose.NotAboutCorners:
		return fmt.Sprintf("Note %s does not say what the balance was in fast corners. Nothing can be told for the wing: note it.", a.Note)
	case choose.PhaseAgainst, choose.NotedStalled, choose.StepTooLarge, choose.TriedThatWay:
		return felt + slow + wants + adviceFound(a)
	case choose.NoneBetween:
		if a.BoundUnstable {
			return felt + wants + fmt.Sprintf(". But with less wing the car was unstable in note %s, and no setting between the two differs clearly from both and keeps all limits: the wing stays as it is.", a.TooMuch)
		}
		return fmt.Sprintf("%s, note %s the opposite. No setting between the two differs clearly from both and keeps all limits: run the one you prefer and change something else; the present holes give no smaller step.", felt, a.TooMuch)
	case choose.NoneFarEnough:
		return felt + slow + wants + ". No setting that keeps all limits changes enough to be told from this one: change something else, the wing cannot do this."
	}
	return felt + slow + wants + "."
}

// feltWord names a balance that may be a mean.
func feltWord(b float64) string {
	if b != 0 && math.Abs(b) < 0.5 {
		return "a little " + map[bool]string{true: "oversteer", false: "understeer"}[b > 0]
	}
	return logbook.BalanceWord(b)
}

// AdviceLines says what the advice is and what it rests on. One reason is one line.
func AdviceLines(t *model.Table, a *advise.Advice, u units.System) []string {
	return append(AdviceAnswer(t, a, u), AdviceReasons(t, a, u)...)
}

// NextLines is the whole answer to which setting to try next, what to do first; an empty line stands before the reasons.
func NextLines(t *model.Table, a *advise.Advice, u units.System) (lines []string) {
	if r := a.To; a.Proposes() {
		if a.IsOnCar() {
			lines = append(lines, "the setting to try is on the car already: run it")
		}
		lines = append(lines, fmt.Sprintf("try %s, %s°: %s", u.Length(r.Height), units.Fixed(r.Angle/plane.Deg, 1), t.Name(r.Setting)),
			fmt.Sprintf("%s %s of downforce at %s, front share %s", units.Signed((r.Downforce-a.From.Downforce)/u.ForceSize(), 0), u.ForceUnit(), u.Speed(t.Speed), StepSize(a)))
	} else {
		lines = append(lines, Advice(a.Advice))
	}
	lines = append(append(lines, AdviceAnswer(t, a, u)...), AdviceCautions)
	why := AdviceReasons(t, a, u)
	if a.Proposes() {
		why = append([]string{Advice(a.Advice)}, why...)
	}
	if len(why) > 0 {
		lines = append(append(lines, "", "Why:"), why...)
	}
	return lines
}

// AdviceAnswer says what to do, for who is at the car: which bolts, what is on the car, how it holds.
func AdviceAnswer(t *model.Table, a *advise.Advice, u units.System) (lines []string) {
	lines = adviceFoundLines(t, a, u)
	if a.Proposes() {
		lines = append(lines, stepWork(t, a)...)
	}
	if a.OnCar != "" && !a.IsOnCar() {
		text := fmt.Sprintf("On the car by a later note is %s.", units.Printable(t.NameOf(a.OnCar)))
		if a.Proposes() {
			text += fmt.Sprintf(" Step and work are counted from the setting of note %s, %s", a.Note, units.Printable(t.NameOf(a.Setting)))
			if on, ok := t.Find(a.OnCar); ok {
				text += fmt.Sprintf("; from what is on the car it is: %s", MoveCount(on.Setting, a.To.Setting))
			}
			text += "."
		}
		lines = append(lines, text)
	}
	return append(lines, adviceStrength(t, a, u)...)
}

// AdviceReasons says what the advice rests on: size of the step, what counts as equal, notes that were left
// out, what points elsewhere, a new hole.
func AdviceReasons(t *model.Table, a *advise.Advice, u units.System) (lines []string) {
	add := func(text string, args ...any) { lines = append(lines, fmt.Sprintf(text, args...)) }
	if a.Proposes() {
		add("%s", stepSize(a))
		add("%s", stepRule(a))
		lines = append(lines, stepEqual(t, a)...)
		if a.Asked.Height && a.Changed != choose.HeightAlone {
			add("Asked was a change of height alone: none is among the steps of that size.")
		}
	}
	if a.Contradicts != [2]string{} && a.Finding != choose.NotesContradict {
		add("Notes %s and %s say the opposite of each other about one setting.", a.Contradicts[0], a.Contradicts[1])
	}
	if text := leftOut(a.LeftOut); text != "" {
		add("%s", text)
	}
	if a.Finding != choose.SettingMoved {
		lines = append(lines, movedLines(t, a, u)...)
	}
	for _, p := range a.Pointers {
		add("%s", pointer(p))
	}
	if a.Hole != nil {
		lines = append(lines, adviceHole(t, a, u)...)
	}
	return lines
}

// unlike says why a note bounds nothing.
var unlike = map[choose.Unlike]string{
	choose.OtherTyres: "other tyres", choose.OtherPressures: "other tyre pressures", choose.OtherTrack: "dry and wet track", choose.OtherPlace: "another place",
	choose.OtherFuel: "other fuel", choose.OtherAdjustments: "other adjustments", choose.OtherDriver: "another driver", choose.NoSuchSetting: "its setting is no longer in the car file",
	choose.Elsewhere:     "its setting was elsewhere then",
	choose.Contradictory: "notes on its setting contradict each other", choose.AgainstWing: "it goes against the way a wing acts",
}

// maxLeftOut is how many notes that were left out are named.
const maxLeftOut = 8

// leftOut names the notes that were left out, and why; "" for none.
func leftOut(all []choose.LeftOut) string {
	if len(all) == 0 {
		return ""
	}
	var parts []string
	for _, l := range all[max(len(all)-maxLeftOut, 0):] {
		parts = append(parts, l.Note+" ("+unlike[l.Why]+")")
	}
	more := ""
	if n := len(all) - len(parts); n > 0 {
		more = fmt.Sprintf(" and %d earlier", n)
	}
	return "Notes left out: " + strings.Join(parts, ", ") + more + "."
}

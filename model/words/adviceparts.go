package words

import (
	"fmt"

	"stanchion/model"
	"stanchion/model/advise"
	"stanchion/model/choose"
	"stanchion/model/strength"
	"stanchion/model/units"
)

// pointer says what comes first where what was felt is not the wing's. Common practice, no source.
func pointer(p choose.Pointer) string {
	way := "Understeer"
	ends := [2]string{"front", "rear"} // the end that gives first, the other
	if p.Oversteer {
		way, ends = "Oversteer", [2]string{"rear", "front"}
	}
	text, at := "", ""
	if p.Slow {
		at = " of slow corners"
	}
	switch p.Symptom {
	case choose.AlikeInAllCorners:
		text = fmt.Sprintf("%s in slow and fast corners alike: first the %s tyres and their pressures, then the anti-roll bars (softer at the %s or stiffer at the %s), springs, dampers.", way, ends[0], ends[0], ends[1])
	case choose.InSlowCorners:
		text = fmt.Sprintf("%s in slow corners: first the %s tyres and their pressures, then anti-roll bars, springs, dampers and differential, not the wing.", way, ends[0])
	case choose.AtEntry:
		text = "Understeer at entry" + at + ", not in the middle: first brake balance (less to the front) and how the brake is let go, then front dampers and toe."
		if p.Oversteer {
			text = "Oversteer at entry" + at + ", not in the middle: first brake balance (less to the rear) and engine braking, then rear dampers in rebound and rear toe."
		}
	case choose.AtExit:
		text = "Understeer at exit" + at + ", not in the middle: first the differential and how the throttle is opened, then front rebound and rear compression of the dampers."
		if p.Oversteer {
			text = "Oversteer at exit" + at + ", not in the middle: first rear tyres and throttle, then the differential and a softer rear (bar, springs, compression of the dampers)."
		}
	case choose.UnderBraking:
		text = "Unstable under braking: first brake balance (less to the rear) and rear toe, then front compression and rear rebound of the dampers."
	case choose.OnTheStraight:
		text = "Unstable on the straight: first toe and tyre pressures, then play in steering and suspension, and ride height at speed."
	case choose.ShortInFast:
		text = "Both ends short of grip in fast corners: downforce at both ends, the front with the rear. A rear wing alone cannot: it takes load off the front axle."
	case choose.ShortInAll:
		text = "Both ends short of grip in slow corners too: first tyres, their pressures and temperature. Downforce helps in fast corners only, and has to come at both ends."
	}
	return text + " (Common practice.)"
}

// adviceHole says which new hole would give a setting between the two, or that none was found.
func adviceHole(t *model.Table, a *advise.Advice, u units.System) []string {
	h := a.Hole
	if h.Found == nil {
		return []string{fmt.Sprintf("A new hole in part %s: no place was found that can be drilled and gives a setting between the two, clearly apart from both.", h.Part)}
	}
	hole, r := h.Found.Holes[0], h.Row
	lines := []string{
		fmt.Sprintf("A new hole would give one between: %s in part %s at x %s, z %s, %s wide.", hole.ID, h.Part, u.Dimension(hole.X), u.Dimension(hole.Z), u.Dimension(hole.D)),
		fmt.Sprintf("  it gives %s, %s, %s of downforce, front share %s pp from this setting: %s", u.Length(r.Height), degrees(r.Angle), u.Force(r.Downforce),
			units.Signed(100*(r.Share-a.From.Share), 1), units.Printable(h.Found.Table.Name(r.Setting))),
		"  " + Trial(&h.Found.Trial, u),
	}
	if t.Car.Parts[hole.Part].Outline == nil {
		lines = append(lines, fmt.Sprintf("  Part %s has no outline in the car file: whether the hole lies in its metal is not known.", h.Part))
	}
	return append(lines, "  Drill the template first, and check its strength: stanchion hole try.")
}

// adviceStrength says how the proposed setting holds, and whether that is weaker than now.
func adviceStrength(t *model.Table, a *advise.Advice, u units.System) (lines []string) {
	if !a.Proposes() {
		return nil
	}
	if a.Weaker() {
		lines = append(lines, fmt.Sprintf("WEAKER THAN NOW: the strength verdict of the setting noted is %q, of this one %q.", a.Now, a.Proposed))
	}
	if a.Proposed == strength.DoesNotHold {
		lines = append(lines, "IT DOES NOT HOLD: do not run it before that is mended (stanchion strength).")
	}
	return append(lines, "Strength "+Strength(a.Analysis, a.WhyUnchecked, a.To.Position, t.Speed, u), Caution)
}

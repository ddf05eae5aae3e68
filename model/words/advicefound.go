package words

import (
	"fmt"
	"math"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/advise"
	"stanchion/model/choose"
	"stanchion/model/units"
)

// adviceFound says why there is nothing to try, behind what was felt and what that asks for.
func adviceFound(a choose.Advice) string {
	switch a.Finding {
	case choose.PhaseAgainst:
		return ". But it oversteered at entry or exit, and less wing makes that worse: that comes first. No wing is taken off."
	case choose.NotedStalled:
		return fmt.Sprintf(". But the setting that was noted is STALLED, by %s past maximum CL: what it gives is not steady, and no step can be worked out from it. "+
			"It wants less angle, and more downforce comes from less angle too: run one that is clear of the stall, and note that.", degrees(-a.From.StallMargin))
	case choose.StepTooLarge:
		c := a.TooLarge
		if a.Capped {
			return fmt.Sprintf(". No clear step is small enough: the smallest goes further past what was driven than this setting and that of note %s are apart. Whether to take it is yours to decide.", a.Second)
		}
		return fmt.Sprintf(". No step that can be told is small enough: the smallest is %.0f %% of the wing's downforce at once, and no more than %.0f %% is proposed. "+
			"Whether to take it is yours to decide.", 100*math.Abs(c.Row.Downforce-a.From.Downforce)/math.Abs(a.From.Downforce), 100*choose.MostOfWing)
	case choose.TriedThatWay:
		if a.TriedSame {
			return ". Settings that way were tried and felt the same, and none lies clearly beyond them that can be run: the wing is not it. Change something else."
		}
		return ". A setting further that way was noted with the same balance or less of it, and none lies clearly beyond it that can be run: the wing does no more. Change something else."
	}
	return ""
}

// difference is by how much downforce another setting differs from the one noted.
func difference(from, to *model.Row, u units.System) string {
	return u.SignedForce(to.Downforce-from.Downforce) + " " + u.ForceUnit()
}

// adviceFoundLines says which settings a finding is about, and what is odd about the one that was noted.
func adviceFoundLines(t *model.Table, a *advise.Advice, u units.System) (lines []string) {
	add := func(text string, args ...any) { lines = append(lines, fmt.Sprintf(text, args...)) }
	switch {
	case a.From == nil:
		return nil
	case a.Finding == choose.SettingMoved:
		return movedLines(t, a, u)
	}
	if a.IsOnCar() {
		add("It is on the car already, by a later note: run it, and note how it felt.")
		if a.PastMost {
			add("It is %.0f %% of the wing's downforce at once, more than the %.0f %% that is proposed otherwise.",
				100*math.Abs(a.To.Downforce-a.From.Downforce)/math.Abs(a.From.Downforce), 100*choose.MostOfWing)
		}
	}
	if c := a.TooLarge; c != nil {
		add("The smallest that can be told: %s, %s.", candidate(t, *c), difference(a.From, c.Row, u))
	}
	if c := a.Unstalled; c != nil {
		add("With the least work, less angle and clear of the stall: %s, %s° (%s).", t.Name(c.Row.Setting), units.Fixed(c.Row.Angle*180/math.Pi, 1), MoveCount(a.From.Setting, c.Row.Setting))
	}
	if a.Tried != nil {
		add("Noted that way: %s, %s (note %s).", t.Name(a.Tried.Setting), difference(a.From, a.Tried, u), units.Printable(a.Second))
	}
	if a.From.Stalled && a.Finding != choose.NotedStalled {
		add("STALLED: the setting that was noted is %s past maximum CL. It wants less angle.", degrees(-a.From.StallMargin))
	}
	if a.From.Lifts() {
		add("LIFTS: the setting that was noted pulls the car up, by %s. It wants more angle.", u.Force(-a.From.Downforce))
	}
	if a.Proposes() {
		for _, l := range a.Tight {
			if l.Limit == model.LimitStall {
				add("%s", stepStall(l, runNow(t, a)))
				continue
			}
			add("Not clearly within a limit: %s.", tight(l, u))
		}
	}
	for _, w := range a.Unstable {
		if a.Felt < 0 && w.Note != a.Note {
			where := difference(a.From, w.Row, u)
			if w.Row.ID == a.From.ID {
				where = "this setting"
			}
			add("In note %s the car was %s: %s, %s.", units.Printable(w.Note), unstableWord(w), t.Name(w.Row.Setting), where)
		}
	}
	return lines
}

// movedLines says of notes whose setting was elsewhere where that was.
func movedLines(t *model.Table, a *advise.Advice, u units.System) (lines []string) {
	for _, m := range a.Moved {
		lines = append(lines, fmt.Sprintf("Note %s was of %s at %s, %s°; the file now gives %s, %s: holes were moved since, or the car measured anew.",
			units.Printable(m.Note), t.Name(m.Row.Setting), u.Length(m.Height), units.Fixed(m.Angle, 1), u.Length(m.Row.Height), degrees(m.Row.Angle)))
	}
	return lines
}

// runNow is the setting that is on the car: that of a later note, or the one noted.
func runNow(t *model.Table, a *advise.Advice) *model.Row {
	if r, ok := t.Find(a.OnCar); ok && !a.IsOnCar() {
		return r
	}
	return a.From
}

// lessMargin is by how much a stall margin must be less than another, rad, for that to be seen in the
// figures as they are printed.
const lessMargin = 0.05 * plane.Deg

// stepStall says how a step that is not clear of a minimum of the stall margin stands to it, and to what is run
// now. It is in capitals where it is not clear of the stall itself and has less margin than now.
func stepStall(l choose.Tight, now *model.Row) string {
	label, was, short := "Stall", "", "not clear of the stall"
	if !now.Stalled && !(l.Have > now.StallMargin-lessMargin) && choose.ClarityOf(l.Have, l.StdUnc) != choose.Clear {
		label = "NOT CLEAR OF THE STALL"
	}
	switch {
	case now.Stalled:
		was = fmt.Sprintf(" (now %s)", Stall(now))
	case !math.IsNaN(now.StallMargin):
		was = fmt.Sprintf(" (now %s)", degrees(now.StallMargin))
	}
	if l.Allowed != 0 {
		short = "not clearly above the minimum of " + degrees(l.Allowed)
	}
	return fmt.Sprintf("%s: margin %s ± %s%s, %s.", label, degrees(l.Have), degrees(l.StdUnc), was, short)
}

// unstableWord says how unstable the car was, and where.
func unstableWord(w choose.Unstable) string {
	text := map[int]string{-1: "slightly unstable", -2: "unstable", -3: "very unstable"}[w.Worst()]
	switch {
	case w.Braking == w.Straight:
		return text + " under braking and on the straight"
	case w.Braking < w.Straight:
		return text + " under braking"
	}
	return text + " on the straight"
}

// unitOf says what one step of the scale was taken for.
func unitOf(a *advise.Advice) string {
	if a.Unit > math.Abs(a.Smallest) {
		return fmt.Sprintf("the least that a driver is taken to feel (%s pp, common practice)", units.Fixed(100*choose.LeastUnit, 1))
	}
	return "the smallest step that is clear"
}

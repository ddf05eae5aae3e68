package words

import (
	"fmt"
	"math"
	"strings"

	"stanchion/model"
	"stanchion/model/advise"
	"stanchion/model/choose"
	"stanchion/model/units"
)

// StepSize spells the change of front share of a step with its standard uncertainty.
func StepSize(a *advise.Advice) string { return points(a.Change, a.StdUnc) }

// points spells a change of front share in percentage points with its standard uncertainty.
func points(change, std float64) string {
	digits := 1
	if std < 0.0005 {
		digits = 2
	}
	return units.Signed(100*change, digits) + " ± " + units.Fixed(100*std, digits) + " pp"
}

// stepSize says how large the step is, and where its size comes from.
func stepSize(a *advise.Advice) string {
	text := fmt.Sprintf("Step: front share %s (one standard uncertainty). ", points(a.Change, a.StdUnc))
	wanted := units.Signed(100*a.Wanted, 1) + " pp"
	switch a.Sizing {
	case choose.MultipleOfIt:
		text += fmt.Sprintf("Wanted is %s, %.0f times %s, for what was felt.", wanted, math.Abs(a.Wanted)/a.Unit, unitOf(a))
	case choose.FromTwoNotes:
		text += fmt.Sprintf("Wanted is %s, by a straight line through how this setting felt and that of note %s.", wanted, a.Second)
		if a.Capped {
			text = strings.TrimSuffix(text, ".") + ", which asks for more; but no further past what was driven than those two are apart."
		}
	case choose.BeyondWhatWasSame:
		text += fmt.Sprintf("Wanted is %s, clearly past the setting of note %s, where it felt no better.", wanted, a.Second)
	default:
		text += fmt.Sprintf("Wanted is %s, %s.", unitOf(a), wanted)
	}
	text += fmt.Sprintf(" Clear is a difference of %.0f standard uncertainties.", choose.ClearFrom)
	if a.BoundUnstable {
		return text + fmt.Sprintf(" It stays short of the setting of note %s, with less wing, where the car was UNSTABLE.", a.TooMuch)
	}
	if a.TooMuch != "" {
		text += fmt.Sprintf(" It stays short of what note %s found too much.", a.TooMuch)
	}
	return text
}

// changed says what a step changes.
func changed(c choose.Changed) string {
	return map[choose.Changed]string{choose.AngleAlone: "the angle alone", choose.HeightAlone: "the height alone", choose.AngleAndHeight: "angle and height"}[c]
}

// keeps says what a step changes and what it does not.
var keeps = map[choose.Changed]string{choose.AngleAlone: "the angle changes, the height stays", choose.HeightAlone: "the height changes, the angle stays",
	choose.AngleAndHeight: "angle and height change"}

// stepWork says which bolts are moved, what that changes, and which joint loses bolts.
func stepWork(t *model.Table, a *advise.Advice) []string {
	lines := []string{fmt.Sprintf("Work: %s; %s.", MoveCount(a.From.Setting, a.To.Setting), keeps[a.Changed])}
	for _, m := range Moves(t.Car, a.From.Setting, a.To.Setting) {
		lines = append(lines, "  "+m)
	}
	for j, f := range a.From.Fits {
		if was, is := len(f.Pairs), len(a.To.Fits[j].Pairs); is < was {
			lines = append(lines, fmt.Sprintf("FEWER BOLTS: joint %s would have %d bolts a side, it has %d now. No clear step that is small enough keeps them all.", t.Car.Joints[j].Name, is, was))
		}
	}
	return lines
}

// candidate names a step with its work.
func candidate(t *model.Table, c choose.Candidate) string {
	fewer := ""
	if c.Work.Fewer > 0 {
		fewer = ", fewer bolts in a joint"
	}
	return fmt.Sprintf("%s (%s, %s, front share %s pp%s)", t.Name(c.Row.Setting), units.Count(c.Work.Moved, "bolt"), changed(c.Changed),
		units.Signed(100*c.Change, 1), fewer)
}

// maxEqual is how many steps that count as equal are named.
const maxEqual = 4

// stepEqual names the steps that count as equal, and those passed over for their strength.
func stepEqual(t *model.Table, a *advise.Advice) (lines []string) {
	name := func(c choose.Candidate) string { return candidate(t, c) }
	for _, c := range a.PassedOver {
		lines = append(lines, "Passed over, as its strength verdict is weaker than that of the setting now: "+name(c)+".")
	}
	if c := a.Lighter; c != nil {
		size := "smaller"
		if math.Abs(c.Change) > math.Abs(a.Change) {
			size = "larger"
		}
		lines = append(append(lines, fmt.Sprintf("With less work, a %s step that is clear too: %s.", size, name(*c))), moves(t, a, c)...)
	}
	if c := a.Nearer; c != nil {
		lines = append(append(lines, fmt.Sprintf("Nearer to the wanted size: %s.", name(*c))), moves(t, a, c)...)
	}
	var names []string
	for _, c := range a.Equal {
		if a.Nearer == nil || c.Row.ID != a.Nearer.Row.ID {
			names = append(names, name(c))
		}
	}
	if len(names) == 0 {
		return lines
	}
	more := ""
	if n := len(names) - maxEqual; n > 0 {
		names, more = names[:maxEqual], fmt.Sprintf("; and %d more", n)
	}
	of := "Of that size too, with no less work: "
	if a.Rule != choose.LeastOfSize {
		of = "Alike with it, with no less work: "
	}
	return append(lines, of+strings.Join(names, "; ")+more+".")
}

// moves lists the bolts that another step than the one proposed moves, as lines below its name.
func moves(t *model.Table, a *advise.Advice, c *choose.Candidate) (lines []string) {
	for _, m := range Moves(t.Car, a.From.Setting, c.Row.Setting) {
		lines = append(lines, "  "+m)
	}
	return lines
}

// stepRule says what chose among the clear steps.
func stepRule(a *advise.Advice) string {
	switch {
	case a.IsOnCar():
		return "Chosen: what is on the car already, as its size is right."
	case a.Rule == choose.NearestBeyond:
		return "Chosen: the nearest clear step beyond, as none lies between half and twice the wanted one."
	case a.Rule == choose.NearestShort:
		return "Chosen: the nearest clear step short of it, as none lies between half and twice the wanted one, and none beyond."
	}
	weaker := ""
	if len(a.PassedOver) > 0 {
		weaker = " that are no weaker than now"
	}
	return fmt.Sprintf("Chosen: the least work of the clear steps between half and twice the wanted one%s, %s; then the nearest to it.", weaker, units.Count(a.Work.Moved, "bolt"))
}

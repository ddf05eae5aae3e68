package words

import (
	"fmt"
	"math"
	"strings"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/calibrate"
	"stanchion/model/figures"
	"stanchion/model/hardware"
	"stanchion/model/strength"
	"stanchion/model/units"
)

// NotApproval stands on every card, whatever the figures on it say.
const NotApproval = "This card is no approval. Wings that come off hurt people: have a licensed engineer check what runs on track or road, and follow local road rules and the event's technical rules."

// CardTitle says what a card is of, without the car's name.
func CardTitle(t *model.Table, r *model.Row) string {
	return upperFirstRune("setting " + t.Name(r.Setting))
}

func upperFirstRune(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// CardAir says at which speed and in which air a card's figures are.
func CardAir(t *model.Table, u units.System) string {
	return fmt.Sprintf("at %s in air of %.3f kg/m³", u.Speed(t.Speed), t.Density)
}

// BoltOf says how many bolts a joint takes on one side, and which.
func BoltOf(j hardware.Joint, u units.System) string {
	switch {
	case !j.Sized:
		return units.Count(j.Count, "bolt") + ", size not known"
	case math.IsNaN(j.Length) && (j.Nut == model.Insert || j.Nut == model.RivetNut):
		return fmt.Sprintf("%d × %s, length to suit the insert", j.Count, boltOf(j.Size.Name, j.Grade.Name, j.Length, u))
	case math.IsNaN(j.Length):
		return fmt.Sprintf("%d × %s, length not known", j.Count, boltOf(j.Size.Name, j.Grade.Name, j.Length, u))
	}
	return fmt.Sprintf("%d × %s", j.Count, boltOf(j.Size.Name, j.Grade.Name, j.Length, u))
}

// JointHoles says which holes a joint's bolts go through, and where in a slot.
func JointHoles(c *model.Car, s *holes.Setting, j int) string {
	var all []string
	for _, q := range c.Bolts(s)[j] {
		all = append(all, strings.TrimPrefix(hole(c, j+1, q[1]), "hole ")+" in "+strings.TrimPrefix(hole(c, j, q[0]), "hole "))
	}
	return strings.Join(all, ", ")
}

// TorqueOf says how tight a joint's bolts go; f is nil where strength cannot be checked.
func TorqueOf(f *strength.Analysis, j hardware.Joint, u units.System) string {
	if j.Nut == model.Insert || j.Nut == model.RivetNut {
		return "torque by the insert maker's data sheet"
	}
	if !j.Tightened {
		return "not known: size or grade of the bolts is not given"
	}
	how := " dry"
	if j.Tight.Galls { // the torque is for the least friction, that of paste
		how = ", with paste and slowly, as stainless seizes"
	}
	text := fmt.Sprintf("%s %s%s", torque(j.Tight.Torque, u), u.MomentUnit(), how)
	if j.Nut == model.TappedHole {
		if f == nil {
			return "no more than its tapped thread allows, which is not checked"
		}
		if allowed := f.ThreadTorque(j.Name); allowed < 1 {
			text = fmt.Sprintf("no more than %s %s%s, or the tapped thread strips", torque(j.Tight.Torque*allowed, u), u.MomentUnit(), how)
		}
	}
	if j.Tight.Guide {
		text += ", a guide only for this grade"
	}
	return text
}

// ToSet says what level and tape must read for a setting, how far the holes let it turn, and how near it comes to body and lid.
func ToSet(t *model.Table, r *model.Row, u units.System) []NamedText {
	c := t.Car
	one := func(rad float64) string { return units.Fixed(rad/plane.Deg, 1) + "°" }
	all := []NamedText{{"angle", fmt.Sprintf("%s, chord line to level ground, trailing edge %s", Figure(t, r, figures.Get(figures.GroundAngle), u), upOrDown(r.Angle))}}
	add := func(name, format string, args ...any) {
		all = append(all, NamedText{name, fmt.Sprintf(format, args...)})
	}
	for _, f := range c.Faces {
		add("level on "+f.Name, "%s ± %.1f°, trailing edge up positive", one(r.Angle+f.Angle), math.Hypot(f.AngleStdUnc(), model.DefaultReading)/plane.Deg)
	}
	if len(c.Faces) == 0 {
		add("level", "%s ± %.1f° on the chord line", one(r.Angle), model.DefaultReading/plane.Deg)
	}
	if r.Play > 0.05*plane.Deg {
		add("play", "the holes let it turn by %s either way: hold it at the angle while tightening", one(r.Play))
	}
	lead, trail := calibrate.LeadingEdge(r.Position).Z, calibrate.TrailingEdge(c, r.Position).Z
	_, unc := calibrate.TapeAngle(lead, trail, c.Wing.Chord, model.DefaultTape)
	add("leading edge", "%s above the ground by tape", u.Length(lead))
	add("trailing edge", "%s, so %s %s from one to the other", u.Length(trail), u.SignedLength(trail-lead), u.LengthUnit())
	add("quarter chord", "%s, on the chord line %s behind the leading edge", u.Length(r.Height), u.Length(c.Wing.QuarterChord().X))
	add("by tape", "each read to ±%s, the edges tell the angle to ±%.1f°", u.Dimension(model.DefaultTape), unc/plane.Deg)
	if text := Sides(t, r, u); text != "" {
		add("as built", "%s", strings.TrimPrefix(text, "As built: "))
	}
	switch {
	case r.Gap.Known():
		add("gap", "%s", Gap(r.Gap, u))
		if text := Opening(r.Gap.Lid); text != "" {
			add("lid", "%s", strings.TrimPrefix(text, "the lid "))
		}
	default:
		add("gap", "NOT CHECKED: body and lid, or the parts' outlines, are not given")
	}
	if unseen := c.WithoutOutline(); r.Gap.Known() && len(unseen) > 0 {
		add("no outline", "gap NOT CHECKED of %s", strings.Join(unseen, ", "))
	}
	return all
}

// onCard are the figures of a card: what the setting does to the car.
var onCard = []figures.Key{figures.Downforce, figures.OnCar, figures.Drag, figures.FrontChange, figures.RearChange, figures.FrontShare, figures.BalanceShift}

// DoesToCar lists what a setting does to the car, each figure as its page says it.
func DoesToCar(t *model.Table, r *model.Row, u units.System) []NamedText {
	names := map[string]bool{"stall": true, "look again": true, "at speed": true}
	for _, k := range onCard {
		names[figures.Get(k).Name] = true
	}
	var all []NamedText
	for _, f := range Figures(t, r, u) {
		if names[f.Name] {
			all = append(all, f)
		}
	}
	return all
}

// HowSure says what the ± of a card's figures stand for, and where they are a rough guide only.
func HowSure(t *model.Table, r *model.Row) string {
	b := t.Budget(r)
	if len(b.Parts) == 0 {
		return "No uncertainties: the figures are not known."
	}
	text := "± is one standard uncertainty: about two times in three within it."
	if why := Rough(r, b); why != "" {
		text += " Rough guide only: " + why + "."
	}
	most := 0
	for i, c := range b.Parts {
		if math.Abs(c.Downforce) > math.Abs(b.Parts[most].Downforce) {
			most = i
		}
	}
	if math.Abs(b.Parts[most].Downforce) >= 0.05 {
		text += fmt.Sprintf(" Most of it: %s.", b.Parts[most].What)
	}
	return text
}

// CardMarks are what stands across a card: none only where all that is checked holds and all limits are kept. The rest of a
// card says why. f is nil where strength cannot be checked.
func CardMarks(f *strength.Analysis, t *model.Table, r *model.Row, u units.System) []string {
	var res strength.Result
	var err error
	if f != nil {
		res, err = f.Best(f.Table.RowAt(r.Position))
	}
	checked := f != nil && err == nil
	var marks []string
	if r.Breaks() {
		marks = append(marks, "BREAKS A LIMIT")
	}
	if r.Stalled {
		marks = append(marks, "STALLED")
	}
	if r.NoForces() {
		marks = append(marks, "NO FIGURES")
	}
	switch {
	case checked && res.Verdict() == strength.DoesNotHold:
		return append([]string{"DOES NOT HOLD"}, marks...)
	case !checked || res.Verdict() != strength.Passes || f.Slower(t.Speed):
		return append(marks, "STRENGTH NOT CHECKED")
	case upTo(f, res, u) != "":
		return append(marks, "CHECKED UP TO "+u.Speed(f.Table.Speed)+" ONLY")
	}
	return marks
}

// CardTicks are the boxes of a card, in the order of the work.
func CardTicks(f *strength.Analysis, t *model.Table, r *model.Row, u units.System) []string {
	lead, trail := calibrate.LeadingEdge(r.Position).Z, calibrate.TrailingEdge(t.Car, r.Position).Z
	ticks := []string{"Both sides bolted through the same holes, finger-tight"}
	add := func(format string, args ...any) { ticks = append(ticks, fmt.Sprintf(format, args...)) }
	add("Level read; wanted %s° on the chord line", units.Fixed(r.Angle/plane.Deg, 1))
	add("Tape read; wanted %s at the leading edge, %s at the trailing edge", u.LengthFigure(lead), u.Length(trail))
	for _, j := range hardware.Of(t.Car, *r.Setting) {
		if j.Name != model.ChassisJoint {
			add("Joint %s tightened: %s", j.Name, TorqueOf(f, j, u))
		}
	}
	if t.Car.Lid.Outline != nil {
		add("Lid opened slowly by hand, touches nothing; shut and latched")
	}
	add("After the first laps: bolts tight, no cracks")
	return ticks
}

// CardsLeft says which of all settings have no card, and how to get one.
func CardsLeft(left []string, all int, file string) string {
	if len(left) == 0 {
		return ""
	}
	shown := left[:min(len(left), mostNamed)]
	more := ""
	if n := len(left) - len(shown); n > 0 {
		more = fmt.Sprintf("; and %d more", n)
	}
	return fmt.Sprintf("Without a card of its own: %s%s. Name one for its card, such as: stanchion card %s '%s' -o card.pdf; or give --most %d.",
		strings.Join(shown, "; "), more, units.Printable(file), strings.ReplaceAll(left[0], "'", `'\''`), all)
}

// CardsChecked says in a line whether strength is checked, and for which speed; f is nil where it is not, and why says so.
func CardsChecked(f *strength.Analysis, why error, u units.System) string {
	if f == nil {
		return fmt.Sprintf("STRENGTH NOT CHECKED: %v.", why)
	}
	return fmt.Sprintf("Strength is by the checks at the design speed of %s; what they leave out is listed by \"stanchion strength\".", u.Speed(f.Table.Speed))
}

// CardsMade says of which settings cards were made, and of how many the overview is.
func CardsMade(names []string, over int) string {
	text := fmt.Sprintf("%s, of %s", units.Count(len(names), "card"), strings.Join(names, "; "))
	if over > 1 {
		text += fmt.Sprintf("; an overview of %d settings", over)
	}
	return text
}

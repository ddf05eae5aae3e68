package words

import (
	"fmt"
	"math"

	"stanchion/model"
	"stanchion/model/figures"
	"stanchion/model/units"
)

// flowOrigin says where the flow angle comes from.
func flowOrigin(t *model.Table) string {
	if t.Car.TrackFit.Tells(model.FlowAngleOff) {
		return "fitted to the track"
	}
	if t.Car.FlowMeasured() {
		return "given"
	}
	return "assumed"
}

// What devices on the tails of cars give in downforce for each newton of drag: a spoiler on a boot
// lid 7, a rear wing 7 to 14 of its own.
// Source: J. Katz, "Automotive Aerodynamics" (2016), Table 7.3; report on the tests of a stock car,
// 1969, for the spoiler on the lid.
const leastRatio, mostRatio = 3, 25

// oddRatio says when a setting's downforce is too much or too little for its drag to be believed;
// "" where it is not. Little lift has little drag, and says nothing.
func oddRatio(r *model.Row) string {
	ratio := r.OnCar / r.Drag
	if r.Stalled || !(r.CL > 0.4) || math.IsNaN(ratio) || ratio >= leastRatio && ratio <= mostRatio {
		return ""
	}
	return fmt.Sprintf("%.0f N of downforce for each of drag; on published cars it is %d to %d: measure the flow at the wing", ratio, leastRatio, mostRatio)
}

// bodyNote says what the body takes of the downforce.
func bodyNote(t *model.Table, r *model.Row, u units.System) string {
	return fmt.Sprintf(": the low pressure under the wing also lifts the body, by %s ± %s", u.ForceFigure(r.DeckLift),
		withUnit(figures.Get(figures.DeckLift).SpellStdUnc(t.Budget(r).DeckLift, u), u.ForceUnit()))
}

// onCarUnknown says why the downforce on the car is not given beside the wing's.
func onCarUnknown(t *model.Table, r *model.Row) string {
	switch {
	case math.IsNaN(r.Downforce):
		return units.NotGiven
	case t.Car.TrackFit.Downforce.Known():
		return "as the wing's: it was fitted on track, body and all"
	case len(t.Car.Body) == 0:
		return "less, as the wing lifts the body below it: by how much is worked out from [body] outline and width"
	case !t.Car.BodyWidth.Known():
		return "less, as the wing lifts the body below it: by how much is worked out with [body] width"
	}
	if why := t.WhyNoDeck(r); why != nil {
		return fmt.Sprintf("not worked out: %v", why)
	}
	return "not worked out"
}

// dragNote says what the drag is made of where the flow leans the lift.
func dragNote(t *model.Table, r *model.Row, u units.System) string {
	counted := figures.Get(figures.LeanCounted)
	text := fmt.Sprintf("; the wing's own drag %s, lean of its lift as counted %s %s", u.ForceFigure(r.OwnDrag), counted.Spell(counted.Of(t, r), u), u.ForceUnit())
	switch {
	case math.IsNaN(r.Lean) || math.Abs(r.Lean) < 0.5:
		return ""
	case r.Lean > 0:
		return text + " (rearwards: all of it)"
	case r.LeanCredit == 0:
		return text + fmt.Sprintf(" (its %s %s forwards do not count: the car's own lift is not given, or it makes downforce)", u.ForceFigure(-r.Lean), u.ForceUnit())
	}
	text += fmt.Sprintf(" (forwards: half of the possible gain of %s %s", u.ForceFigure(r.LeanCredit), u.ForceUnit())
	if r.OwnDrag < r.LeanCredit/2 {
		text += ", and no more than the wing's own drag"
	}
	return text + ")"
}

// sinks says by how much an axle sinks, mm; below 0 it rises.
func sinks(mm float64, u units.System) string {
	if mm < 0 {
		return "rises " + u.Dimension(-mm)
	}
	return "sinks " + u.Dimension(mm)
}

package words

import (
	"fmt"
	"math"
	"strings"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/drill"
	"stanchion/model/figures"
	"stanchion/model/speeds"
	"stanchion/model/units"
)

// NamedText is one line about a setting: what it is about, and what is said of it.
type NamedText struct{ Name, Text string }

// onPage are the figures of the page on one setting, in the order in which they are asked
// for in the garage, with what is said beside some of them.
var onPage = []struct {
	key  figures.Key
	note func(t *model.Table, r *model.Row, u units.System) string
}{
	{figures.Height, always(" above ground, of the quarter-chord point")},
	{figures.Top, always(" above ground, of the highest point")},
	{figures.Rearmost, always(" behind the rear axle, of the rearmost point")},
	{figures.GroundAngle, func(t *model.Table, r *model.Row, u units.System) string {
		if t.Car.Uncertainty.SetWithLevel {
			return " (set with a level)"
		}
		return fmt.Sprintf(" (play in the holes: up to %s either way)", Figure(t, r, figures.Get(figures.Play), u))
	}},
	{figures.Attack, func(t *model.Table, r *model.Row, u units.System) string {
		return fmt.Sprintf(" (flow angle %s, %s)", degrees(r.Flow.Angle), flowOrigin(t))
	}},
	{figures.CL, always("")},
	{figures.CD, always("")},
	{figures.StallMargin, nil},
	{figures.Downforce, func(t *model.Table, r *model.Row, u units.System) string { return ", of the wing itself" }},
	{figures.OnCar, bodyNote},
	{figures.Drag, dragNote},
	{figures.UprightsDrag, func(t *model.Table, r *model.Row, u units.System) string { return ", in the drag above" }},
	{figures.FrontChange, always("")},
	{figures.RearChange, always("")},
	{figures.FrontShare, func(t *model.Table, r *model.Row, u units.System) string {
		return fmt.Sprintf(" of the load on the axles (%s %% without the wing's forces)", units.Fixed(100*t.Without.FrontShare(), 1))
	}},
	{figures.BalanceShift, always(" of front share")},
}

// always is a note that every setting has.
func always(text string) func(*model.Table, *model.Row, units.System) string {
	return func(*model.Table, *model.Row, units.System) string { return text }
}

// Figures lists the figures of a row with what is to be said of them.
func Figures(t *model.Table, r *model.Row, u units.System) []NamedText {
	var all []NamedText
	for _, l := range onPage {
		if l.note == nil {
			all = append(all, NamedText{"stall", stallWithStdUnc(t, r)})
			continue
		}
		f := figures.Get(l.key)
		switch {
		case l.key == figures.OnCar && !t.DeckKnown(r):
			all = append(all, NamedText{f.Name, onCarUnknown(t, r)})
			continue
		case l.key == figures.UprightsDrag && math.IsNaN(r.StrutsDrag):
			continue
		}
		all = append(all, NamedText{f.Name, LongFigure(t, r, f, u) + l.note(t, r, u)})
	}
	if odd := oddRatio(r); odd != "" {
		all = append(all, NamedText{"look again", odd})
	}
	limits := "keeps all"
	if !r.Within() {
		limits = "✗ " + strings.Join(Outside(r, u), "; ")
	}
	all = append(all, NamedText{"limits", limits})
	if r.Gap.Known() {
		all = append(all, NamedText{"clearance", Gap(r.Gap, u)})
	}
	if s, ok, why := speeds.OnSprings(t, r); ok {
		all = append(all, NamedText{"at speed",
			fmt.Sprintf("on its springs the car %s in front and %s at the rear: angle %s°, downforce %s, share shift %s pp",
				sinks(s.Front, u), sinks(s.Rear, u), units.Fixed(s.Angle/plane.Deg, 2), u.Force(s.Downforce), units.Signed(100*s.Shift, 1))})
	} else if t.Car.FrontRate.Known() && !math.IsNaN(r.Downforce) {
		all = append(all, NamedText{"at speed", "not known: " + why})
	}
	if s := t.Car.Uncertainty.HolePosition; s > 0 {
		d := drill.Errors(t, r, s)
		all = append(all, NamedText{"as drilled",
			fmt.Sprintf("holes known to ±%s: %.0f %% chance that the bolts do not go in on one side or the other; angle ±%s° a side, ±%s° left to right",
				u.Fine(s), 100*d.Misfit, units.Fixed(d.AngleStdUnc/plane.Deg, 2), units.Fixed(d.LeftRight/plane.Deg, 2))})
	}
	return all
}

// LongFigure is Figure with a force in both of its units.
func LongFigure(t *model.Table, r *model.Row, f figures.Figure, u units.System) string {
	if f.Quantity != figures.Force {
		return Figure(t, r, f, u)
	}
	x := f.Of(t, r)
	text := u.Force(x)
	if f.Signed && x > 0 {
		text = "+" + text
	}
	if s, ok := f.StdUncOf(t.Budget(r).Contribution); ok && !math.IsNaN(s) {
		text += " ± " + withUnit(f.SpellStdUnc(s, u), f.Unit(u))
	}
	return text
}

func flowOrigin(t *model.Table) string {
	if t.Car.TrackFit.Tells(model.FlowAngleOff) {
		return "fitted to the track"
	}
	if t.Car.FlowMeasured() {
		return "given"
	}
	return "assumed"
}

// Stall says how far a row is from the stall.
func Stall(r *model.Row) string {
	switch {
	case math.IsNaN(r.Attack) || math.IsNaN(r.CL):
		return units.NotGiven
	case math.IsNaN(r.StallMargin):
		return "not known: the data end before it"
	case r.Stalled:
		return fmt.Sprintf("STALLED, %.1f° past maximum CL", -r.StallMargin/plane.Deg)
	}
	return fmt.Sprintf("%.1f° margin", r.StallMargin/plane.Deg)
}

// stallWithStdUnc is Stall with one standard uncertainty of the margin, where that is known.
func stallWithStdUnc(t *model.Table, r *model.Row) string {
	text := Stall(r)
	if std := t.Budget(r).Margin; std > 0 && !math.IsNaN(r.StallMargin) && !math.IsNaN(r.CL) {
		text += " ± " + degrees(std)
	}
	return text
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

// Describe says all there is to one setting in lines of text: how to bolt it,
// its figures with their bands and what those are made of, and what is assumed.
func Describe(t *model.Table, r *model.Row, u units.System) []string {
	var lines []string
	add := func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) }
	add("%s: setting %s", t.Car.Name, t.Name(r.Setting))
	add("")
	for i, s := range Steps(t.Car, r, u) {
		add("%2d. %s", i+1, s)
	}
	add("")
	add("%s", TapeLine(t, r, u))
	add("")
	add("At %s in air of %.3f kg/m³:", u.Speed(t.Speed), t.Density)
	for _, f := range Figures(t, r, u) {
		add("  %-17s %s", f.Name, f.Text)
	}
	if ways := Ways(t, r); len(ways) > 0 {
		add("")
		add("The same place can be bolted in other ways: %s", strings.Join(ways, "; "))
	}
	if b := t.Budget(r); len(b.Parts) > 0 {
		add("")
		add("± is one standard uncertainty. Of the downforce's %s:", u.Force(b.Downforce))
		for _, c := range b.Parts {
			if math.Abs(c.Downforce) >= 0.05 {
				add("  %-36s %5s %s", c.What, u.ForceFigure(math.Abs(c.Downforce)), u.ForceUnit())
			}
		}
		if b.Drawn {
			add("  the total is by random draws, as the lift curve is not straight here: the parts do not add up to it")
		}
		if why := Rough(r, b); why != "" {
			add("  Rough guide only: %s.", why)
		}
		for _, k := range []figures.Key{figures.Downforce, figures.BalanceShift} {
			f := figures.Get(k)
			std, _ := f.StdUncOf(b.Contribution)
			if next := MeasureNext(t, r, nil, f, u, 3); len(next) > 0 {
				add("To bring ±%s of %s down, measure next:", NarrowStdUnc(f, std, u), f.Name)
				for _, l := range next {
					add("  %s", l)
				}
			}
		}
	}
	add("")
	lines = append(lines, DescribeWing(t, u)...)
	for _, a := range t.Car.Assumed {
		add("Assumed: %s: %s (%s).", a.What, a.Value, a.Note)
	}
	add("")
	add("Its id in files: %s", r.ID)
	add("")
	add("An estimate for choosing a setting, not approval of the wing or its mounting.")
	return lines
}

// Ways names the other ways of bolting a row's place.
func Ways(t *model.Table, r *model.Row) []string {
	var names []string
	for i := range r.Alternatives {
		names = append(names, t.Name(&r.Alternatives[i]))
	}
	return names
}

// DescribeWing says where the wing's curve comes from, and what is computed
// where published values lead.
func DescribeWing(t *model.Table, u units.System) []string {
	var lines []string
	add := func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) }
	add("Wing: %s; Reynolds number %.2g.", t.Wing.From, t.Wing.Reynolds)
	if s := t.Wing.Section; s != nil && s.Beside != nil {
		add("Section as run, published and carried to this Reynolds number / computed from its shape: zero lift %s° / %s°, slope %.3f / %.3f per °, maximum cl %.2f at %.1f° / %.2f at %.1f°.",
			units.Fixed(s.ZeroLift/plane.Deg, 1), units.Fixed(s.Beside.ZeroLift/plane.Deg, 1), s.Slope*plane.Deg, s.Beside.Slope*plane.Deg,
			s.MaxLift, s.MaxAngle/plane.Deg, s.Beside.MaxLift, s.Beside.MaxAngle/plane.Deg)
	}
	if s := t.Wing.Section; s != nil && s.Transition != "" {
		add("Transition on the section: %s; what the surface does comes on top.", s.Transition)
	}
	if !math.IsNaN(t.Wing.Stall) {
		add("The wing alone: maximum CL %.2f at an angle of attack of %.1f°; beyond that it is stalled.%s", t.Wing.MaxLift, t.Wing.Stall/plane.Deg,
			stallOnCar(t))
	}
	for _, n := range units.AllIn(t.Wing.Notes, u) {
		add("Note: %s.", n)
	}
	return lines
}

// stallOnCar says where the wing stalls over the body; "" where that is not worked out.
func stallOnCar(t *model.Table) string {
	lo, hi := math.Inf(1), math.Inf(-1)
	for i := range t.Rows {
		if r := &t.Rows[i]; t.DeckKnown(r) && !math.IsNaN(r.StallMargin) {
			at := t.StallAt(r.Position)
			lo, hi = min(lo, at), max(hi, at)
		}
	}
	switch {
	case lo > hi:
		return ""
	case hi-lo < 0.1*plane.Deg:
		return fmt.Sprintf(" Over the body, which steepens its lift, it stalls at %.1f°.", lo/plane.Deg)
	}
	return fmt.Sprintf(" Over the body, which steepens its lift, it stalls at %.1f° to %.1f°, by height.", lo/plane.Deg, hi/plane.Deg)
}

// Rough says why the uncertainties of a row are only a rough guide; "" where they are more.
func Rough(r *model.Row, b model.Budget) string {
	switch b.Rough {
	case model.PastStall:
		return "past the stall the flow is unsteady"
	case model.NearStall:
		return fmt.Sprintf("the stall is %.1f° ± %.1f° away", r.StallMargin/plane.Deg, b.Margin/plane.Deg)
	}
	return ""
}

// sinks says by how much an axle sinks, mm; below 0 it rises.
func sinks(mm float64, u units.System) string {
	if mm < 0 {
		return "rises " + u.Dimension(-mm)
	}
	return "sinks " + u.Dimension(mm)
}

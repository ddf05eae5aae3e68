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

package words

import (
	"fmt"
	"math"
	"strings"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/figures"
	"stanchion/model/units"
)

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
	if text := Sides(t, r, u); text != "" {
		add("%s", text)
	}
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

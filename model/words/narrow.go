package words

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/figures"
	"stanchion/model/units"
)

// InputStdUnc spells how well an input is known, as the screen has it.
func InputStdUnc(in model.InputUncertainty) string {
	switch in.Unit {
	case model.InRadians:
		return units.Fixed(in.StdUnc/plane.Deg, 1) + "°"
	case model.AsFraction:
		if in.StdUnc < 0.01 {
			return units.Fixed(100*in.StdUnc, 1) + " %"
		}
		return units.Fixed(100*in.StdUnc, 0) + " %"
	}
	if in.Unit == model.InSquareMetres {
		return units.Fixed(in.StdUnc, 2) + " m²"
	}
	return units.Fixed(in.StdUnc, 2)
}

// WhyLines says why a figure of a setting is what it is: its equation with the numbers put in, each input
// with where it comes from, what each uncertain one gives to the ±, and which measurement would narrow it
// most. from, when there is one, is the setting that is compared with.
func WhyLines(t *model.Table, r, from *model.Row, f figures.Figure, u units.System) []string {
	e := figures.Explain(t, r, f)
	var lines []string
	add := func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) }
	add("%s %s, %s", f.Name, Figure(t, r, f, u), f.How)
	add("")
	if len(e.Contributions) > 0 && !math.IsNaN(e.StdUnc) {
		if next := MeasureNext(t, r, nil, f, u, 3); len(next) > 0 {
			add("One more measurement would bring ±%s down to:", NarrowStdUnc(f, e.StdUnc, u))
			for _, l := range next {
				add("  %s", l)
			}
		}
		if from != nil && from.ID != r.ID {
			if std, ok := f.StdUncOf(model.DifferenceStdUnc(t.Budget(r), t.Budget(from))); ok {
				parts := differenceParts(t, r, from, f, u)
				line := fmt.Sprintf("Against %s only ±%s counts, as what both are off by alike cancels: %s.", t.Name(from.Setting),
					withUnit(f.SpellStdUnc(std, u), f.Unit(u)), strings.Join(parts, ", "))
				if next := MeasureNext(t, r, from, f, u, 1); len(next) > 0 {
					line += " Measured, it would be " + next[0] + "."
				}
				lines = append(lines, line)
			}
		}
		if rough := Rough(r, t.Budget(r)); rough != "" {
			add("The ± is a rough guide only: %s.", rough)
		}
		add("")
	}
	width := 0
	for _, l := range e.Lines {
		width = max(width, len([]rune(l.Name)))
	}
	for _, l := range e.Lines {
		add("  %-*s = %s", width, l.Name, l.Symbolic)
		add("  %-*s = %s = %s", width, "", l.Numeric, l.Result)
	}
	if len(e.Lines) > 0 {
		add("")
	}
	if len(e.Inputs) > 0 {
		add("  input            value  where it comes from")
		for _, in := range e.Inputs {
			add("  %-5s %9s %-6s %s; %s", in.Name, in.Value, in.Unit, in.Meaning, in.Origin)
		}
		add("")
	}
	if len(e.Contributions) > 0 && !math.IsNaN(e.StdUnc) {
		add("  %-36s %8s   gives ±%s", "what is uncertain", "known to", inUnit(f.Unit(u)))
		for _, c := range e.Contributions {
			mark := " "
			if t.Car.Uncertainty.Default[c.Input.Key] {
				mark = markDefault
			}
			add("  %-36s %8s %s %8s", c.What, InputStdUnc(c.Input), mark, f.SpellStdUnc(c.By, u))
		}
		how := "square root of the sum of squares"
		if t.Budget(r).Drawn {
			how = "by random draws, as the lift curve is not straight here"
		}
		add("  %s: ±%s   %s not in the file: usual value", how, withUnit(f.SpellStdUnc(e.StdUnc, u), f.Unit(u)), markDefault)
		add("")
	}
	if s := e.Sources(); len(s) > 0 {
		add("Sources:")
		for _, source := range s {
			add("  %s", source)
		}
	}
	if f.ByFlow {
		add("  the wing's curve: %s", t.Wing.From)
	}
	return lines
}

// differenceParts names what the ± of a difference is made of, the most first, as far as it counts.
func differenceParts(t *model.Table, r, from *model.Row, f figures.Figure, u units.System) (parts []string) {
	by := map[string]float64{}
	var names []string
	for _, p := range model.DifferenceParts(t.Budget(r), t.Budget(from)) {
		if _, met := by[p.What]; !met {
			names = append(names, p.What)
		}
		by[p.What] = math.Hypot(by[p.What], f.StdUnc(p))
	}
	slices.SortStableFunc(names, func(a, b string) int { return cmp.Compare(by[b], by[a]) })
	for _, n := range names[:min(len(names), 3)] {
		if by[n] > 0 {
			parts = append(parts, n+" "+f.SpellStdUnc(by[n], u))
		}
	}
	return parts
}

// markDefault marks what the car file does not give.
const markDefault = "*"

// inUnit is a unit behind the name of a column; "" for figures that have none.
func inUnit(unit string) string {
	if unit == "" {
		return ""
	}
	return ", " + unit
}

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

// howToMeasure says what to measure so that an input is known better. Common practice, no source.
var howToMeasure = map[string]string{
	"speed ratio":               "a pitot tube at the height of the wing against the road speed, at two heights",
	"flow angle":                "tufts or a vane at the height of the wing, filmed on a straight",
	"play in the holes":         "bolts that fill their holes, or a level reading with the bolts tight",
	"angle reading":             "a digital level on the chord line, read both ways round on level ground",
	"speed":                     "satellite speed over a long straight, both ways",
	"air density":               "temperature and pressure in the paddock at the time",
	"section's lift slope":      "ride heights at speed on a straight, then a fit to the runs",
	"section's maximum CL":      "ride heights at speed near the stall, then a fit to the runs",
	"section's zero-lift angle": "ride heights at speed at two angles, then a fit to the runs",
	"section drag":              "top speed or coasting down with two settings, then a fit to the runs",
}

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
		lines = append(lines, Narrow(e, u)...)
		if from != nil && from.ID != r.ID {
			if std, ok := f.StdUncOf(model.DifferenceStdUnc(t.Budget(r), t.Budget(from))); ok {
				parts, first := differenceParts(t, r, from, f, u)
				line := fmt.Sprintf("Against %s only ±%s counts, as what both are off by alike cancels: %s.", t.Name(from.Setting),
					withUnit(f.SpellStdUnc(std, u), f.Unit(u)), strings.Join(parts, ", "))
				if how := howToMeasure[first]; how != "" {
					line += " To tell the two apart better: " + how + "."
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
		add("  what is uncertain           known to   gives ±, %s", f.Unit(u))
		for _, c := range e.Contributions {
			mark := " "
			if t.Car.Uncertainty.Default[c.Input.Key] {
				mark = markDefault
			}
			add("  %-28s %7s %s %8s", c.What, InputStdUnc(c.Input), mark, f.SpellStdUnc(c.By, u))
		}
		add("  square root of the sum of squares: ±%s   %s the file gives none: common practice", withUnit(f.SpellStdUnc(e.StdUnc, u), f.Unit(u)),
			markDefault)
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
func differenceParts(t *model.Table, r, from *model.Row, f figures.Figure, u units.System) (parts []string, first string) {
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
	if len(parts) > 0 {
		first = names[0]
	}
	return parts, first
}

// markDefault marks what the car file does not give.
const markDefault = "*"

// Narrow says which measurement would narrow the ± of a figure most: what is left when the largest
// contributions are known exactly, and how each is measured.
func Narrow(e figures.Explanation, u units.System) []string {
	f := e.Figure
	left := func(without ...float64) string {
		sum := e.StdUnc * e.StdUnc
		for _, by := range without {
			sum -= by * by
		}
		return f.SpellStdUnc(math.Sqrt(max(sum, 0)), u)
	}
	var lines []string
	for i, c := range e.Contributions {
		if i == 3 || c.By < e.StdUnc/4 {
			break
		}
		line := fmt.Sprintf("With %s known exactly ±%s is left.", c.What, withUnit(left(c.By), f.Unit(u)))
		if how := howToMeasure[c.What]; how != "" {
			line += " Measure: " + how + "."
		}
		lines = append(lines, line)
	}
	if len(lines) > 1 {
		a, b := e.Contributions[0], e.Contributions[1]
		lines = append(lines, fmt.Sprintf("Both %s and %s: ±%s.", a.What, b.What, withUnit(left(a.By, b.By), f.Unit(u))))
	}
	return lines
}

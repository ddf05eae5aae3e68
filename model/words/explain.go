package words

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"stanchion/model"
	"stanchion/model/figures"
	"stanchion/model/units"
)

// Figure spells a figure of a row with its unit and its uncertainty.
func Figure(t *model.Table, r *model.Row, f figures.Figure, u units.System) string {
	x := f.Of(t, r)
	text := f.Spell(x, u)
	if s, ok := f.StdUncOf(t.Budget(r).Contribution); ok && !math.IsNaN(x) {
		text += " ± " + f.SpellStdUnc(s, u)
	}
	return withUnit(text, f.Unit(u))
}

// withUnit puts a unit behind a figure: degrees close up, others apart.
func withUnit(text, unit string) string {
	switch unit {
	case "":
		return text
	case "°":
		return strings.ReplaceAll(text, " ± ", "° ± ") + unit
	}
	return text + " " + unit
}

// Explain says in lines how a figure of a setting is worked out: its equation with the numbers
// put in, the inputs with where they come from, what makes it uncertain, and the source.
func Explain(t *model.Table, r *model.Row, f figures.Figure, u units.System) []string {
	e := figures.Explain(t, r, f)
	var lines []string
	add := func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) }
	add("%s %s, %s", f.Name, Figure(t, r, f, u), f.How)
	if len(e.Lines) > 0 {
		width := 0
		for _, l := range e.Lines {
			width = max(width, len([]rune(l.Name)))
		}
		for _, l := range e.Lines {
			add("  %-*s = %s", width, l.Name, l.Symbolic)
			add("  %-*s = %s = %s", width, "", l.Numeric, l.Result)
		}
	}
	for _, in := range e.Inputs {
		add("  %-5s %9s %-6s %s; %s", in.Name, in.Value, in.Unit, in.Meaning, in.Origin)
	}
	if slices.ContainsFunc(e.Inputs, func(in figures.Input) bool { return in.Origin == figures.OfCurve }) || len(e.Lines) == 0 ||
		f.Quantity == figures.Number {
		add("  the wing's curve: %s", t.Wing.From)
	}
	if len(e.Contributions) > 0 {
		var parts []string
		for _, c := range e.Contributions {
			parts = append(parts, fmt.Sprintf("%s %s", c.What, f.SpellStdUnc(c.By, u)))
		}
		add("  ± %s is one standard uncertainty, the root of the sum of squares of: %s", withUnit(f.SpellStdUnc(e.StdUnc, u), f.Unit(u)),
			strings.Join(parts, ", "))
	}
	if s := e.Sources(); len(s) > 0 {
		add("  source: %s", strings.Join(s, "; "))
	}
	add("  worked out in %s", f.In)
	return lines
}

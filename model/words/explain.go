package words

import (
	"math"
	"strings"

	"stanchion/model"
	"stanchion/model/figures"
	"stanchion/model/units"
)

// Figure spells a figure of a row with its unit and its uncertainty.
func Figure(t *model.Table, r *model.Row, f figures.Figure, u units.System) string {
	return withUnit(BareFigure(t, r, f, u), f.Unit(u))
}

// BareFigure is Figure without its unit, for a column that has it in its head.
func BareFigure(t *model.Table, r *model.Row, f figures.Figure, u units.System) string {
	x := f.Of(t, r)
	text := f.Spell(x, u)
	if s, ok := f.StdUncOf(t.Budget(r).Contribution); ok && !math.IsNaN(x) {
		text += " ± " + f.SpellStdUnc(s, u)
	}
	return text
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

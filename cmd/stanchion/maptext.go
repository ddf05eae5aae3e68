package main

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/choose"
	"stanchion/model/figures"
	"stanchion/model/units"
	"stanchion/model/words"
)

// column is one column of the table for people.
type column struct {
	key        figures.Key // of its figure; empty for what stands beside one
	head, unit string
	wide       int
	cell       func(t *model.Table, r *model.Row) string
}

// givesWay lists the columns that give way where the terminal has no room for all, the first of them first.
var givesWay = []figures.Key{figures.Attack, figures.CL, figures.RearChange, figures.FrontChange, figures.FrontShare, figures.Drag,
	figures.OnCar, figures.BalanceShift}

// fitting leaves columns out until a row with so much behind it has room, and says which.
func fitting(all []column, behind, cells int) (kept []column, out []string) {
	wide := func() (n int) {
		for _, c := range kept {
			n += c.wide + 1
		}
		return n
	}
	kept = slices.Clone(all)
	for _, key := range givesWay {
		if wide() <= cells-behind {
			break
		}
		if i := slices.IndexFunc(kept, func(c column) bool { return c.key == key }); i >= 0 {
			out = append(out, kept[i].head)
			kept = slices.Delete(kept, i, i+1)
		}
	}
	return kept, out
}

// columns lists the columns of the table: where the lift on the body is worked out, the downforce
// on the car stands beside the wing's own.
func columns(t *model.Table, u units.System) []column {
	var all []column
	for _, c := range []struct {
		key  figures.Key
		wide int
	}{{figures.Height, 8}, {figures.GroundAngle, 7}, {figures.Attack, 7}, {figures.CL, 6}, {figures.Downforce, 9}, {figures.Drag, 7},
		{figures.FrontChange, 7}, {figures.RearChange, 7}, {figures.FrontShare, 7}, {figures.BalanceShift, 7}} {
		f := figures.Get(c.key)
		all = append(all, column{c.key, f.Heading(), f.Unit(u), c.wide, func(t *model.Table, r *model.Row) string { return f.Spell(f.Of(t, r), u) }})
		if c.key == figures.Downforce {
			all = append(all, column{"", "±", f.Unit(u), 4, func(t *model.Table, r *model.Row) string {
				std, _ := f.StdUncOf(t.Budget(r).Contribution)
				return f.SpellStdUnc(std, u)
			}})
			if t.Car.HasDeck() {
				on := figures.Get(figures.OnCar)
				all = append(all, column{figures.OnCar, "on car", on.Unit(u), 7, func(t *model.Table, r *model.Row) string { return on.Spell(on.Of(t, r), u) }})
			}
		}
	}
	return all
}

// mapText prints the table for people.
func mapText(cmd *cobra.Command, t *model.Table, rows []*model.Row, u units.System, each, stalledLast bool) error {
	if len(rows) == 0 {
		return nil
	}
	p := out(cmd)
	p.f("%s at %s, air %.3f kg/m³\n", t.Car.Name, u.Speed(t.Speed), t.Density)
	p.f("wing: %s\n", t.Wing.From)
	for _, a := range t.Car.Assumed {
		p.f("assumed: %s: %s\n", a.What, a.Value)
	}
	if stalledLast {
		p.f("stalled settings come last; --stalled sorts them in\n")
	}
	longest := 0
	for _, r := range rows {
		longest = max(longest, utf8.RuneCountInString(t.Name(r.Setting)))
	}
	cells := p.on.extent.rows
	all, left := fitting(columns(t, u), 1+min(longest, cells/3), cells)
	if len(left) > 0 {
		p.f("no room for %s: a wider terminal shows them, and --format csv\n", strings.Join(left, ", "))
	}
	p.f("\n")
	heads, inUnits := "", ""
	for i, c := range all {
		heads += fmt.Sprintf("%*s ", c.wide, c.head)
		inUnits += fmt.Sprintf("%*s", c.wide+min(i, 1), c.unit)
	}
	p.row("%s setting", heads)
	p.row("%s", inUnits)
	for _, g := range choose.Ranges(t, rows) {
		if len(g.Rows) > 1 && !each {
			rangeText(p, t, g, u)
			continue
		}
		for _, r := range g.Rows {
			rowText(p, t, r, all, u)
		}
	}
	return p.err
}

// rowText prints one setting.
func rowText(p *printer, t *model.Table, r *model.Row, all []column, u units.System) {
	line := ""
	for _, c := range all {
		line += fmt.Sprintf("%*s ", c.wide, c.cell(t, r))
	}
	line += " " + t.Name(r.Setting)
	why := ""
	if !r.Within() {
		why = "✗ " + strings.Join(words.Outside(r, u), "; ")
	}
	p.rowWith(line, why)
}

// rangeText prints the places in a slot as one line: from the first to the last,
// and how far the limits let it go.
func rangeText(p *printer, t *model.Table, g choose.Range, u units.System) {
	first, last := g.Rows[0], g.Rows[0]
	var least, most *model.Row
	for _, r := range g.Rows {
		if r.Angle < first.Angle {
			first = r
		}
		if r.Angle > last.Angle {
			last = r
		}
		if r.Within() && (least == nil || r.Angle < least.Angle) {
			least = r
		}
		if r.Within() && (most == nil || r.Angle > most.Angle) {
			most = r
		}
	}
	limits := "none keeps all limits"
	switch {
	case least != nil && (least != first || most != last):
		limits = fmt.Sprintf("all limits kept from %s° to %s°", units.Fixed(least.Angle/plane.Deg, 1), units.Fixed(most.Angle/plane.Deg, 1))
	case least != nil:
		limits = "all keep all limits"
	}
	p.row("%8s %s° to %s°: downforce %s to %s %s, shift %s to %s pp; %d places, %s  %s … %s",
		u.LengthFigure(first.Height), units.Fixed(first.Angle/plane.Deg, 1), units.Fixed(last.Angle/plane.Deg, 1),
		u.ForceFigure(first.Downforce), u.ForceFigure(last.Downforce), u.ForceUnit(),
		units.Signed(100*first.Shift, 1), units.Signed(100*last.Shift, 1), len(g.Rows), limits, t.Name(first.Setting), t.Name(last.Setting))
}

package main

import (
	"fmt"
	"strings"

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
	head, unit string
	wide       int
	cell       func(t *model.Table, r *model.Row) string
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
		all = append(all, column{f.Heading(), f.Unit(u), c.wide, func(t *model.Table, r *model.Row) string { return f.Spell(f.Of(t, r), u) }})
		if c.key == figures.Downforce {
			all = append(all, column{"±", f.Unit(u), 4, func(t *model.Table, r *model.Row) string {
				std, _ := f.StdUncOf(t.Budget(r).Contribution)
				return f.SpellStdUnc(std, u)
			}})
			if t.Car.HasDeck() {
				on := figures.Get(figures.OnCar)
				all = append(all, column{"on car", on.Unit(u), 7, func(t *model.Table, r *model.Row) string { return on.Spell(on.Of(t, r), u) }})
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
	all := columns(t, u)
	p.f("\n")
	for _, c := range all {
		p.f("%*s ", c.wide, c.head)
	}
	p.f(" setting\n")
	for i, c := range all {
		p.f("%*s", c.wide+min(i, 1), c.unit)
	}
	p.f("\n")
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
	for _, c := range all {
		p.f("%*s ", c.wide, c.cell(t, r))
	}
	p.f(" %s", t.Name(r.Setting))
	if !r.Within() {
		p.f("   ✗ %s", strings.Join(words.Outside(r, u), "; "))
	}
	p.f("\n")
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
	p.f("%8s %s° to %s°: downforce %s to %s %s, shift %s to %s pp; %d places, %s  %s … %s\n",
		u.LengthFigure(first.Height), units.Fixed(first.Angle/plane.Deg, 1), units.Fixed(last.Angle/plane.Deg, 1),
		u.ForceFigure(first.Downforce), u.ForceFigure(last.Downforce), u.ForceUnit(),
		units.Signed(100*first.Shift, 1), units.Signed(100*last.Shift, 1), len(g.Rows), limits, t.Name(first.Setting), t.Name(last.Setting))
}

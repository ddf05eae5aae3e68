package main

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"sort"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/choose"
	"stanchion/model/figures"
	"stanchion/model/units"
	"stanchion/model/words"
)

// sorts are the orders that map offers; each compares rows.
var sorts = map[string]func(a, b *model.Row) bool{
	"height":    nil, // the table's own order
	"angle":     func(a, b *model.Row) bool { return a.Angle < b.Angle },
	"downforce": func(a, b *model.Row) bool { return above(a.Downforce, b.Downforce) },
	"drag":      func(a, b *model.Row) bool { return above(-a.Drag, -b.Drag) },
	"balance":   func(a, b *model.Row) bool { return above(-a.Shift, -b.Shift) },
	"margin":    func(a, b *model.Row) bool { return above(a.StallMargin, b.StallMargin) },
}

// above puts larger figures first and figures that are not given last.
func above(a, b float64) bool { return a > b || !math.IsNaN(a) && math.IsNaN(b) }

func newMap() *cobra.Command {
	var o options
	var order string
	var inside, each bool
	c := &cobra.Command{
		Use:   "map CARFILE",
		Short: "list every setting with its figures",
		Long: `map lists every way the wing can be bolted on: its height (of the quarter-chord
point), angle to the ground, angle of attack, coefficients, forces at one speed,
axle changes, front share and balance shift.

Exit code 1 means that nothing fits, or nothing within the limits.`,
		Example: `  stanchion map car.toml
  stanchion map car.toml --inside-limits --sort downforce --speed 180km/h
  stanchion map car.toml --format json`,
		Args:              arguments(1, 1),
		ValidArgsFunction: carFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			less, ok := sorts[order]
			if !ok {
				return fmt.Errorf("--sort %q; use one of %s", order, keysOf(sorts))
			}
			t, err := o.table(args[0])
			if err != nil {
				return err
			}
			rows := make([]*model.Row, 0, len(t.Rows))
			for i := range t.Rows {
				if !inside || t.Rows[i].Within() {
					rows = append(rows, &t.Rows[i])
				}
			}
			if less != nil {
				sort.SliceStable(rows, func(a, b int) bool { return less(rows[a], rows[b]) })
			}
			switch o.format {
			case "json":
				err = mapJSON(cmd.OutOrStdout(), t, rows)
			case "csv":
				err = mapCSV(cmd.OutOrStdout(), t, rows)
			default:
				err = mapText(cmd, t, rows, shown(t.Car), each)
			}
			if err == nil && len(rows) == 0 {
				return nothing(args[0], t, inside)
			}
			return err
		},
	}
	o.add(c, speedOfFile, "table", "csv", "json")
	c.Flags().StringVar(&order, "sort", "height", "order: "+keysOf(sorts))
	c.Flags().BoolVar(&inside, "inside-limits", false, "only settings that keep all limits")
	c.Flags().BoolVar(&each, "each-place", false, "a line for every place in a slot, not one for its range")
	_ = c.RegisterFlagCompletionFunc("sort", cobra.FixedCompletions(strings.Split(keysOf(sorts), ", "), cobra.ShellCompDirectiveNoFileComp))
	return c
}

// tableOf reads a car and works out its settings at the speed of a flag.
func tableOf(name, speed string) (*model.Table, error) {
	car, err := loadCar(name)
	if err != nil {
		return nil, err
	}
	v, err := chosenSpeed(car, speed)
	if err != nil {
		return nil, err
	}
	t, err := car.Map(v)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return t, nil
}

func nothing(name string, t *model.Table, inside bool) error {
	if len(t.Rows) > 0 && inside {
		return noAnswer("%s: none of its %d settings keeps all limits: %s", name, len(t.Rows), words.LimitCounts(t))
	}
	return noAnswer("%s: the wing cannot be bolted on: no holes match; \"stanchion why\" says by how much holes miss", name)
}

func keysOf[V any](m map[string]V) string {
	var keys []string
	for k := range m {
		keys = append(keys, k)
	}
	sort.Strings(keys)
	return strings.Join(keys, ", ")
}

func mapJSON(w io.Writer, t *model.Table, rows []*model.Row) error {
	doc := struct {
		Format   int           `json:"format"`
		Car      string        `json:"car"`
		Speed    *float64      `json:"speed_m_s"`
		Density  *float64      `json:"air_density_kg_m3"`
		Wing     string        `json:"wing_data"`
		Reynolds *float64      `json:"reynolds"`
		Assumed  []assumedJSON `json:"assumed"`
		Settings []settingJSON `json:"settings"`
	}{1, t.Car.Name, figure(t.Speed, 4), figure(t.Density, 5), t.Wing.From, figure(t.Wing.Reynolds, 0), assumed(t.Car),
		make([]settingJSON, len(rows))}
	for i, r := range rows {
		doc.Settings[i] = setting(t, r)
	}
	return writeJSON(w, doc)
}

// mapCSV prints the fields of the JSON under the same names; lists have their
// entries separated by spaces and semicolons.
func mapCSV(w io.Writer, t *model.Table, rows []*model.Row) error {
	c := csv.NewWriter(w)
	for i, r := range rows {
		var names, cells []string
		for _, f := range setting(t, r) {
			names, cells = append(names, f.key), append(cells, f.cell())
		}
		if i == 0 {
			if err := c.Write(names); err != nil {
				return err
			}
		}
		if err := c.Write(cells); err != nil {
			return err
		}
	}
	c.Flush()
	return c.Error()
}

// cell spells a field in CSV.
func (f field) cell() string {
	switch x := f.value.(type) {
	case string:
		return units.Cell(x)
	case bool:
		return strconv.FormatBool(x)
	case *bool:
		if x == nil {
			return ""
		}
		return strconv.FormatBool(*x)
	case *float64:
		return numberCell(x)
	case []string:
		return units.Cell(strings.Join(x, "; "))
	case []jointJSON:
		var parts []string
		for _, j := range x {
			var pairs []string
			for _, p := range j.Pairs {
				pairs = append(pairs, p[0]+":"+p[1])
			}
			parts = append(parts, j.Joint+" "+strings.Join(pairs, " "))
		}
		return units.Cell(strings.Join(parts, "; "))
	}
	return ""
}

// numberCell spells a number in CSV; empty where it cannot be given.
func numberCell(x *float64) string {
	if x == nil {
		return ""
	}
	return strconv.FormatFloat(*x, 'f', -1, 64)
}

// column is one column of the table for people.
type column struct {
	head, unit string
	wide       int
	cell       func(t *model.Table, r *model.Row) string
}

// columns lists the columns of the table.
func columns(u units.System) []column {
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
		}
	}
	return all
}

// mapText prints the table for people.
func mapText(cmd *cobra.Command, t *model.Table, rows []*model.Row, u units.System, each bool) error {
	if len(rows) == 0 {
		return nil
	}
	p := out(cmd)
	p.f("%s at %s, air %.3f kg/m³\n", t.Car.Name, u.Speed(t.Speed), t.Density)
	p.f("wing: %s\n", t.Wing.From)
	for _, a := range t.Car.Assumed {
		p.f("assumed: %s: %s\n", a.What, a.Value)
	}
	all := columns(u)
	p.f("\n")
	for _, c := range all {
		p.f("%*s ", c.wide, c.head)
	}
	p.f(" bolts (holes lower:upper)\n")
	for i, c := range all {
		p.f("%*s", c.wide+min(i, 1), c.unit)
	}
	p.f("\n")
	for _, g := range choose.Ranges(t, rows) {
		if len(g.Rows) > 1 && !each {
			rangeText(p, g, u)
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
	p.f(" %s", r.ID)
	if !r.Within() {
		p.f("   ✗ %s", strings.Join(words.Outside(r, u), "; "))
	}
	p.f("\n")
}

// rangeText prints the places in a slot as one line: from the first to the last,
// and how far the limits let it go.
func rangeText(p *printer, g choose.Range, u units.System) {
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
		units.Signed(100*first.Shift, 1), units.Signed(100*last.Shift, 1), len(g.Rows), limits, first.ID, last.ID)
}

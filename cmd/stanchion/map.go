package main

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"sort"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"stanchion/model"
	"stanchion/model/choose"
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
	}{1, t.Car.Name, figure(t.Speed, 4), figure(t.Density, 5), t.Wing.From, figure(t.Wing.Reynolds, 0), assumed(t.Car), make([]settingJSON, len(rows))}
	for i, r := range rows {
		doc.Settings[i] = setting(t, r)
	}
	return writeJSON(w, doc)
}

// mapCSV prints the figures of the JSON under the same names; lists have their
// entries separated by spaces and semicolons.
func mapCSV(w io.Writer, t *model.Table, rows []*model.Row) error {
	c := csv.NewWriter(w)
	var header []string
	for i, r := range rows {
		data, err := json.Marshal(setting(t, r))
		if err != nil {
			return err
		}
		var names, fields []string
		d := json.NewDecoder(strings.NewReader(string(data)))
		d.UseNumber()
		if _, err := d.Token(); err != nil {
			return err
		}
		for d.More() {
			name, _ := d.Token()
			var v any
			if err := d.Decode(&v); err != nil {
				return err
			}
			names, fields = append(names, fmt.Sprint(name)), append(fields, cell(fmt.Sprint(name), v))
		}
		if i == 0 {
			header = names
			if err := c.Write(header); err != nil {
				return err
			}
		}
		if err := c.Write(fields); err != nil {
			return err
		}
	}
	c.Flush()
	return c.Error()
}

// cell spells one JSON value in a CSV field.
func cell(name string, v any) string {
	switch x := v.(type) {
	case nil:
		return ""
	case bool:
		return strconv.FormatBool(x)
	case []any:
		var parts []string
		for _, e := range x {
			if m, ok := e.(map[string]any); ok && name == "bolts" {
				var pairs []string
				for _, p := range m["pairs"].([]any) {
					q := p.([]any)
					pairs = append(pairs, fmt.Sprintf("%v:%v", q[0], q[1]))
				}
				parts = append(parts, fmt.Sprintf("%v %s", m["joint"], strings.Join(pairs, " ")))
				continue
			}
			parts = append(parts, fmt.Sprint(e))
		}
		return units.Cell(strings.Join(parts, "; "))
	case string:
		return units.Cell(x)
	}
	return fmt.Sprint(v) // a number
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
		p.f("assumed: %s %s\n", a.What, a.Value)
	}
	p.f("\n%8s %7s %7s %6s %9s %4s %7s %7s %7s %7s %7s  %s\n", "height", "angle", "attack", "CL", "downforce", "±", "drag", "Δfront", "Δrear", "share", "shift", "bolts (holes lower:upper)")
	p.f("%8s %7s %7s %6s %9s %4s %7s %7s %7s %7s %7s\n", u.LengthUnit(), "°", "°", "", u.ForceUnit(), u.ForceUnit(), u.ForceUnit(), u.ForceUnit(), u.ForceUnit(), "%", "pp")
	for _, g := range choose.Ranges(t, rows) {
		if len(g.Rows) > 1 && !each {
			rangeText(p, g, u)
			continue
		}
		for _, r := range g.Rows {
			rowText(p, t, r, u)
		}
	}
	return p.err
}

// rowText prints one setting.
func rowText(p *printer, t *model.Table, r *model.Row, u units.System) {
	mark := ""
	if !r.Within() {
		mark = "   ✗ " + strings.Join(words.Outside(r, u), "; ")
	}
	p.f("%8s %7s %7s %6s %9s %4s %7s %7s %7s %7s %7s  %s%s\n",
		u.LengthFigure(r.Height), units.Fixed(r.Angle/model.Deg, 1), units.Fixed(r.Attack/model.Deg, 1), units.Fixed(r.CL, 2),
		u.ForceFigure(r.Downforce), u.ForceFigure(t.Bands(r).Downforce), u.ForceFigure(r.Drag), u.ForceFigure(r.Change.Front), u.ForceFigure(r.Change.Rear),
		units.Fixed(100*r.Share, 1), units.Signed(100*r.Shift, 1), r.ID, mark)
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
	limits := "none within limits"
	switch {
	case least != nil && (least != first || most != last):
		limits = fmt.Sprintf("within limits from %s° to %s°", units.Fixed(least.Angle/model.Deg, 1), units.Fixed(most.Angle/model.Deg, 1))
	case least != nil:
		limits = "all within limits"
	}
	p.f("%8s %s° to %s°: downforce %s to %s %s, shift %s to %s pp; %d places, %s  %s … %s\n",
		u.LengthFigure(first.Height), units.Fixed(first.Angle/model.Deg, 1), units.Fixed(last.Angle/model.Deg, 1),
		u.ForceFigure(first.Downforce), u.ForceFigure(last.Downforce), u.ForceUnit(),
		units.Signed(100*first.Shift, 1), units.Signed(100*last.Shift, 1), len(g.Rows), limits, first.ID, last.ID)
}

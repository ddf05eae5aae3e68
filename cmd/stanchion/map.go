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

	"stanchion/model"
	"stanchion/model/units"
	"stanchion/model/words"
)

// sorts are the orders that map offers; each compares rows.
var sorts = map[string]func(a, b *model.Row) bool{
	"height":    nil, // the table's own order
	"angle":     func(a, b *model.Row) bool { return a.Angle < b.Angle },
	"downforce": func(a, b *model.Row) bool { return above(a.Downforce, b.Downforce) },
	"on-car":    func(a, b *model.Row) bool { return above(a.OnCar, b.OnCar) },
	"drag":      func(a, b *model.Row) bool { return above(-a.Drag, -b.Drag) },
	"balance":   func(a, b *model.Row) bool { return above(-a.Shift, -b.Shift) },
	"margin":    func(a, b *model.Row) bool { return above(a.StallMargin, b.StallMargin) },
}

// above puts larger figures first and figures that are not given last.
func above(a, b float64) bool { return a > b || !math.IsNaN(a) && math.IsNaN(b) }

func newMap() *cobra.Command {
	var o options
	var order string
	var inside, each, stalled bool
	c := &cobra.Command{
		Use:   "map CARFILE",
		Short: "list every setting with its figures",
		Long: `map lists every way the wing can be bolted on: its height (of the quarter-chord
point), angle to the ground, angle of attack, coefficients, forces at one speed,
axle changes, front share and share shift.

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
				sort.SliceStable(rows, func(a, b int) bool {
					if x, y := rows[a].Stalled, rows[b].Stalled; x != y && !stalled && order != "angle" {
						return y
					}
					return less(rows[a], rows[b])
				})
			}
			switch o.format {
			case "json":
				err = mapJSON(cmd.OutOrStdout(), t, rows)
			case "csv":
				err = mapCSV(cmd.OutOrStdout(), t, rows)
			default:
				err = mapText(cmd, t, rows, shown(t.Car), each, less != nil && !stalled && order != "angle")
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
	c.Flags().BoolVar(&stalled, "stalled", false, "sort stalled settings in with the others; else they come last")
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
	return noAnswer("%s: %s", name, words.Unbolted(t.Car))
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
		[]settingJSON{}}
	return streamJSON(w, doc, len(rows), func(i int) any { return setting(t, rows[i]) })
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

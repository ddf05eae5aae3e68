package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/strength"
	"stanchion/model/units"
	"stanchion/model/words"
)

func newShow() *cobra.Command {
	var o options
	c := &cobra.Command{
		Use:   "show CARFILE ID",
		Short: "one setting in words: which bolts go where, and its figures",
		Long: `show prints one setting as steps to follow with a spanner, and all its figures.
ID is what "stanchion map" calls the setting, such as "row 4, B2" or just 4 B2; its id
from a file; or enough of its bolts to tell it from all others, such as A:F+A3:R.`,
		Example: `  stanchion show car.toml 1:k1+2:k2/A:F+A3:R
  stanchion show car.toml row 4, B2`,
		Args:              arguments(2, many),
		ValidArgsFunction: carFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			t, err := o.table(args[0])
			if err != nil {
				return err
			}
			r, err := pickRow(t, args[1:])
			if err != nil {
				return err
			}
			if o.format == "json" {
				steps, bands := words.Steps(t.Car, r, shown(t.Car)), t.Budget(r)
				return writeJSON(cmd.OutOrStdout(), struct {
					Setting settingJSON   `json:"setting"`
					Steps   []string      `json:"steps"`
					Parts   []partJSON    `json:"contributors"`
					Under   underJSON     `json:"under_load"`
					Sides   *sidesJSON    `json:"as_built,omitempty"`
					Doubt   string        `json:"band_doubtful,omitempty"`
					Assumed []assumedJSON `json:"assumed"`
				}{setting(t, r), steps, contributors(bands), underLoad(cmd, t, r), sidesOf(t, r), words.Rough(r, bands), assumed(t.Car)})
			}
			return showText(cmd, t, r, shown(t.Car))
		},
	}
	o.add(c, speedOfFile, "text", "json")
	return c
}

// pickRow finds the one setting that the words name, with its own bolts.
func pickRow(t *model.Table, named []string) (*model.Row, error) {
	found := t.Named(named)
	switch {
	case len(found) == 1:
		return found[0], nil
	case len(found) == 0:
		return nil, noAnswer("no setting %q: \"stanchion map\" lists them", strings.Join(named, " "))
	}
	var ids []string
	for _, r := range found[:min(5, len(found))] {
		ids = append(ids, t.Name(r.Setting))
	}
	return nil, fmt.Errorf("%q matches %d settings; give enough holes to tell one from the others, such as %s", strings.Join(named, " "),
		len(found), strings.Join(ids, "; "))
}

func showText(cmd *cobra.Command, t *model.Table, r *model.Row, u units.System) error {
	p := out(cmd)
	for _, l := range words.Describe(t, r, u) {
		p.f("%s\n", l)
	}
	f, err := strength.Single(t.Car)
	if err == nil {
		if turn, ok, _ := f.TurnUnder(cmd.Context(), t, r); ok {
			if text := words.UnderLoad(t, r, turn, u); text != "" {
				p.f("%s\n", text)
			}
		}
	}
	p.f("Strength %s\n%s\n", words.Strength(f, err, r.Position, t.Speed, u), words.Caution)
	return p.err
}

// underJSON is what a setting comes to when its plates give way under its load at the speed; null where they
// cannot be solved.
type underJSON struct {
	Change    *float64 `json:"angle_change_deg"`
	Angle     *float64 `json:"angle_deg"`
	Downforce *float64 `json:"downforce_n"`
	Drag      *float64 `json:"drag_n"`
}

func underLoad(cmd *cobra.Command, t *model.Table, r *model.Row) underJSON {
	f, err := strength.Single(t.Car)
	if err != nil {
		return underJSON{}
	}
	turn, ok, err := f.TurnUnder(cmd.Context(), t, r)
	if !ok || err != nil {
		return underJSON{}
	}
	place := *r.Position
	place.Angle += turn
	under := t.RowAt(&place)
	return underJSON{figure(turn/plane.Deg, 3), figure(place.Angle/plane.Deg, 3), figure(under.Downforce, 2), figure(under.Drag, 2)}
}

type partJSON struct {
	What      string   `json:"what"`
	Downforce *float64 `json:"downforce_n"`
	Drag      *float64 `json:"drag_n"`
	Front     *float64 `json:"front_change_n"`
	Rear      *float64 `json:"rear_change_n"`
	Shift     *float64 `json:"balance_shift_pp"`
}

func contributors(b model.Budget) []partJSON {
	all := []partJSON{}
	for _, c := range b.Parts {
		all = append(all, partJSON{c.What, figure(c.Downforce, 2), figure(c.Drag, 2), figure(c.Change.Front, 2), figure(c.Change.Rear, 2),
			figure(100*c.Shift, 3)})
	}
	return all
}

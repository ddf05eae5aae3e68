package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"stanchion/model"
	"stanchion/model/units"
)

func newShow() *cobra.Command {
	var speed, format string
	var imperial bool
	c := &cobra.Command{
		Use:   "show CARFILE ID",
		Short: "one setting in words: which bolts go where, and its figures",
		Long: `show prints one setting as steps to follow with a spanner, and all its figures.
ID is a setting's id from "stanchion map", or enough of its bolts to tell it from
all others, such as A:F+A3:R or just the hole A3.`,
		Example: `  stanchion show car.toml 1:k1+2:k2/A:F+A3:R
  stanchion show car.toml 1:k1 A3`,
		Args:              cobra.MinimumNArgs(2),
		ValidArgsFunction: carFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			if format != "text" && format != "json" {
				return fmt.Errorf("--format %q: allowed are text, json", format)
			}
			t, err := tableOf(args[0], speed)
			if err != nil {
				return err
			}
			i, err := pickRow(t, args[1:])
			if err != nil {
				return err
			}
			if format == "json" {
				steps := t.Car.Steps(&t.Rows[i], system(imperial))
				return writeJSON(cmd.OutOrStdout(), struct {
					Setting settingJSON   `json:"setting"`
					Steps   []string      `json:"steps"`
					Assumed []assumedJSON `json:"assumed"`
				}{setting(t.Car, &t.Rows[i]), steps, assumed(t.Car)})
			}
			return showText(cmd, t, &t.Rows[i], system(imperial))
		},
	}
	c.Flags().StringVar(&speed, "speed", "", "`SPEED` such as 160km/h or 100mph (default: the car file's)")
	c.Flags().StringVar(&format, "format", "text", "text or json")
	c.Flags().BoolVar(&imperial, "imperial", false, "in, lbf and mph")
	return c
}

// pickRow finds the one setting that the words name.
func pickRow(t *model.Table, words []string) (int, error) {
	found := t.Matches(words)
	switch {
	case len(found) == 1:
		return found[0], nil
	case len(found) == 0:
		return 0, noAnswer("no setting %q: \"stanchion map\" lists them", strings.Join(words, " "))
	}
	var ids []string
	for _, i := range found[:min(5, len(found))] {
		ids = append(ids, t.Rows[i].ID)
	}
	return 0, fmt.Errorf("%q names %d settings: allowed is enough of one to tell it apart, such as %s", strings.Join(words, " "), len(found), strings.Join(ids, ", "))
}

func showText(cmd *cobra.Command, t *model.Table, r *model.Row, u units.System) error {
	p := out(cmd)
	p.f("%s: setting %s\n\n", t.Car.Name, r.ID)
	for i, s := range t.Car.Steps(r, u) {
		p.f("%2d. %s\n", i+1, s)
	}
	p.f("\nAt %s in air of %.3f kg/m³:\n", u.Speed(t.Speed), t.Density)
	for _, f := range t.Figures(r, u) {
		p.f("  %-17s %s\n", f.Name, f.Text)
	}
	if len(r.Alternatives) > 0 {
		p.f("\nThe same place can be bolted in other ways: %s\n", strings.Join(r.Alternatives, ", "))
	}
	p.f("\nWing: %s.\n", t.Wing.From)
	for _, n := range t.Wing.Notes {
		p.f("Assumed: %s.\n", n)
	}
	for _, a := range t.Car.Assumed {
		p.f("Assumed: %s %s (%s).\n", a.What, a.Value, a.Note)
	}
	p.f("\nAn estimate for choosing a setting, not approval of the wing or its mounting.\n")
	return p.err
}

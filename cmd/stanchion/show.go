package main

import (
	"fmt"
	"math"
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
					Parts   []partJSON    `json:"contributors"`
					Doubt   string        `json:"band_doubtful,omitempty"`
					Assumed []assumedJSON `json:"assumed"`
				}{setting(t, &t.Rows[i]), steps, contributors(t.Bands(&t.Rows[i])), t.Bands(&t.Rows[i]).Doubtful, assumed(t.Car)})
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
	bandText(p, t, r, u)
	wingText(p, t)
	for _, a := range t.Car.Assumed {
		p.f("Assumed: %s %s (%s).\n", a.What, a.Value, a.Note)
	}
	p.f("\nAn estimate for choosing a setting, not approval of the wing or its mounting.\n")
	return p.err
}

// bandText breaks the bands into what they are made of, largest first.
func bandText(p *printer, t *model.Table, r *model.Row, u units.System) {
	b := t.Bands(r)
	if len(b.Parts) == 0 {
		return
	}
	p.f("\n± is one standard uncertainty. Of the downforce's %s:\n", u.Force(b.Downforce))
	for _, c := range b.Parts {
		p.f("  %-26s %5s %s\n", c.What, u.ForceFigure(math.Abs(c.Downforce)), u.ForceUnit())
	}
	if b.Doubtful != "" {
		p.f("  A rough guide only: %s.\n", b.Doubtful)
	}
}

// wingText says where the wing's curve comes from, and what is computed where
// published values lead.
func wingText(p *printer, t *model.Table) {
	p.f("\nWing: %s; Reynolds number %.2g.\n", t.Wing.From, t.Wing.Reynolds)
	if s := t.Wing.Section; s != nil && s.Beside != nil {
		p.f("Section, published and carried to this Reynolds number / computed from its shape: zero lift %s° / %s°, slope %.3f / %.3f per °, largest lift %.2f at %.1f° / %.2f at %.1f°.\n",
			units.Fixed(s.ZeroLift/model.Deg, 1), units.Fixed(s.Beside.ZeroLift/model.Deg, 1), s.Slope*model.Deg, s.Beside.Slope*model.Deg,
			s.MaxLift, s.MaxAngle/model.Deg, s.Beside.MaxLift, s.Beside.MaxAngle/model.Deg)
	}
	if !math.IsNaN(t.Wing.Stall) {
		p.f("The wing's lift is largest, CL %.2f, at an angle of attack of %.1f°; beyond it is stalled.\n", t.Wing.MaxLift, t.Wing.Stall/model.Deg)
	}
	for _, n := range t.Wing.Notes {
		p.f("Note: %s.\n", n)
	}
}

type partJSON struct {
	What      string   `json:"what"`
	Downforce *float64 `json:"downforce_n"`
	Drag      *float64 `json:"drag_n"`
	Front     *float64 `json:"front_change_n"`
	Rear      *float64 `json:"rear_change_n"`
	Shift     *float64 `json:"balance_shift_pp"`
}

func contributors(b model.Bands) []partJSON {
	all := []partJSON{}
	for _, c := range b.Parts {
		all = append(all, partJSON{c.What, figure(c.Downforce, 2), figure(c.Drag, 2), figure(c.Change.Front, 2), figure(c.Change.Rear, 2), figure(100*c.Shift, 3)})
	}
	return all
}

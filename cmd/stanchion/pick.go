package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/choose"
	"stanchion/model/given"
	"stanchion/model/strength"
	"stanchion/model/units"
	"stanchion/model/words"
)

// maxPicked is how many settings pick explains on a screen.
const maxPicked = 5

func newPick() *cobra.Command {
	var o options
	var wanted target
	c := &cobra.Command{
		Use:   "pick CARFILE",
		Short: "which setting to run to meet a target",
		Long: `pick lists the settings that keep all limits and what is wanted, the best first:
the closest to the wanted balance, in tenths of a percentage point; of those as
close the one with the least work
from the setting on the car, then the most downforce, then the least drag. When
nothing fits it names the nearest settings and what rules each out.

A wanted figure with a tolerance is written 44±0.5, or 44+-0.5.
Exit code 1 means that nothing fits.`,
		Example: `  stanchion pick car.toml --front-share 49±0.5 --downforce-min 400N
  stanchion pick car.toml --shift -2.5±0.3 --drag-max 60N --from A:F+A2:R`,
		Args:              arguments(1, 1),
		ValidArgsFunction: carFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			t, err := o.table(args[0])
			if err != nil {
				return err
			}
			w, err := wanted.criteria(t)
			if err != nil {
				return err
			}
			hits, near := choose.Pick(t, w)
			if o.format == "json" {
				err = pickJSON(cmd, t, hits, near)
			} else {
				err = pickText(cmd, t, w, hits, near, shown(t.Car))
			}
			if err == nil && len(hits) == 0 {
				return noAnswer("%s: no setting meets the target", args[0])
			}
			return err
		},
	}
	wanted.add(c)
	o.add(c, speedOfFile, "text", "json")
	return c
}

// target is what is wanted of a setting, as typed.
type target struct {
	share, shift, minDown, maxDown, maxDrag, margin, lowest, highest, from string
}

// add gives a command the flags of a target.
func (w *target) add(c *cobra.Command) {
	for _, f := range []struct {
		text        *string
		flag, usage string
	}{
		{&w.share, "front-share", "front `SHARE` of the load at speed, in %, such as 49±0.5"},
		{&w.shift, "shift", "balance `SHIFT` in percentage points, such as -2.5±0.3"},
		{&w.minDown, "downforce-min", "minimum downforce, `FORCE`"},
		{&w.maxDown, "downforce-max", "maximum downforce, `FORCE`"},
		{&w.maxDrag, "drag-max", "maximum drag, `FORCE`"},
		{&w.margin, "stall-margin", "minimum margin to the stall, `ANGLE`"},
		{&w.lowest, "height-min", "minimum `HEIGHT`"},
		{&w.highest, "height-max", "maximum `HEIGHT`"},
		{&w.from, "from", "the setting on the car now, by `ID` or enough of its holes"},
	} {
		c.Flags().StringVar(f.text, f.flag, "", f.usage)
	}
}

// criteria reads a target.
func (w *target) criteria(t *model.Table) (choose.Criteria, error) {
	u := shown(t.Car)
	var c choose.Criteria
	for _, f := range []struct {
		text, flag string
		read       func(string) error
	}{
		{w.share, "front-share", within(&c.FrontShare, 0.005)},
		{w.shift, "shift", within(&c.BalanceShift, 0.003)},
		{w.minDown, "downforce-min", quantity(units.Forces, u.ForceUnit(), &c.MinDownforce)},
		{w.maxDown, "downforce-max", quantity(units.Forces, u.ForceUnit(), &c.MaxDownforce)},
		{w.maxDrag, "drag-max", quantity(units.Forces, u.ForceUnit(), &c.MaxDrag)},
		{w.margin, "stall-margin", quantity(units.Angles, "deg", &c.MinStallMargin)},
		{w.lowest, "height-min", quantity(units.Lengths, u.LengthUnit(), &c.MinHeight)},
		{w.highest, "height-max", quantity(units.Lengths, u.LengthUnit(), &c.MaxHeight)},
	} {
		if f.text == "" {
			continue
		}
		if err := f.read(f.text); err != nil {
			return c, fmt.Errorf("--%s %w", f.flag, err)
		}
	}
	if w.from != "" {
		r, err := pickRow(t, strings.Fields(w.from))
		if err != nil {
			return c, fmt.Errorf("--from: %w", err)
		}
		c.From = r.ID
	}
	return c, nil
}

// quantity reads a number with a unit into v.
func quantity(u units.Unit, bare string, n *given.Number) func(string) error {
	return func(text string) error {
		x, err := u.Parse(text, bare)
		*n = given.Is(x)
		return err
	}
}

// within reads a percentage with a tolerance, 44±0.5, as fractions.
func within(t *choose.Target, otherwise float64) func(string) error {
	percent := units.Unit{"%": 0.01, "pp": 0.01}
	return func(text string) error {
		value, tolerance, two := strings.Cut(strings.ReplaceAll(text, "+-", "±"), "±")
		x, err := percent.Parse(strings.ReplaceAll(value, "−", "-"), "%")
		if err != nil {
			return err
		}
		*t = choose.Target{Value: given.Is(x), Tolerance: otherwise}
		if two {
			if t.Tolerance, err = percent.Parse(tolerance, "%"); err == nil && t.Tolerance < 0 {
				err = fmt.Errorf("%q; the tolerance must be 0 or more", text)
			}
		}
		return err
	}
}

func pickText(cmd *cobra.Command, t *model.Table, w choose.Criteria, hits []choose.Hit, near []choose.Miss, u units.System) error {
	p := out(cmd)
	p.f("%s at %s: %d of %d settings meet the target\n", t.Car.Name, u.Speed(t.Speed), len(hits), len(t.Rows))
	if target := words.Criteria(w, u); target != "" {
		p.f("target: %s\n", target)
	}
	f, why := strength.Single(t.Car)
	for i, h := range hits[:min(len(hits), maxPicked)] {
		r, _ := t.Find(h.Way)
		p.f("\n%d. %s, %s°: %s\n", i+1, u.Length(r.Height), units.Fixed(r.Angle/plane.Deg, 1), t.Name(r.Setting))
		for _, line := range words.Hit(t, w, hits, i, u) {
			p.f("   %s\n", line)
		}
		if next := words.Next(t, hits, i, u); next != "" {
			p.f("   %s\n", next)
		}
		if f != nil && !f.Slower(t.Speed) {
			_, _ = f.Enough(cmd.Context(), f.Table.RowAt(r.Position)) // words.Strength says what it found, or why not
		}
		p.f("   strength %s\n   %s\n", words.Strength(f, why, r.Position, t.Speed, u), words.Caution)
	}
	if len(hits) > maxPicked {
		p.f("\n(%d more)\n", len(hits)-maxPicked)
	}
	if len(hits) == 0 {
		p.f("\nnearest:\n")
		for _, m := range near[:min(len(near), maxPicked)] {
			r := &t.Rows[m.Row]
			p.f("  %s, %s°: %s\n", u.Length(r.Height), units.Fixed(r.Angle/plane.Deg, 1), t.Name(r.Setting))
			for _, s := range words.StoppedBy(t, m, u) {
				p.f("    ruled out by %s\n", s)
			}
		}
	}
	return p.err
}

func pickJSON(cmd *cobra.Command, t *model.Table, hits []choose.Hit, near []choose.Miss) error {
	type miss struct {
		Setting   settingJSON `json:"setting"`
		StoppedBy []string    `json:"stopped_by"`
	}
	doc := struct {
		Settings []settingJSON `json:"settings"`
		Near     []miss        `json:"near"`
	}{[]settingJSON{}, []miss{}}
	for _, h := range hits {
		r, _ := t.Find(h.Way)
		doc.Settings = append(doc.Settings, setting(t, r))
	}
	for _, m := range near[:min(len(near), maxPicked)] {
		doc.Near = append(doc.Near, miss{setting(t, &t.Rows[m.Row]), words.StoppedBy(t, m, shown(t.Car))})
	}
	return writeJSON(cmd.OutOrStdout(), doc)
}

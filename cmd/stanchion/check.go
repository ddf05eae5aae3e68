package main

import (
	"context"
	"errors"
	"fmt"
	"math"

	"github.com/spf13/cobra"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/choose"
	"stanchion/model/figures"
	"stanchion/model/units"
	"stanchion/model/words"
)

func newCheck() *cobra.Command {
	var o options
	c := &cobra.Command{
		Use:   "check CARFILE",
		Short: "read a car file back in words, or list every fault in it",
		Long: `check reads a car file and says in words what it holds: parts, joints, how many
settings there are, and what was assumed where the file says nothing. If the
file cannot be used it lists every fault with its line and what to do.

--format json prints faults with file, line, column and a code: not_toml, unknown_key,
missing_key, wrong_kind, out_of_range or not_sound.`,
		Example: `  stanchion check car.toml
  stanchion check car.toml --format json`,
		Args:              arguments(1, 1),
		ValidArgsFunction: carFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := o.check(); err != nil {
				return err
			}
			car, err := loadCar(args[0])
			if err != nil && o.format == "json" {
				return errors.Join(faultsJSON(cmd.OutOrStdout(), args[0], err), err)
			}
			if err != nil {
				return err
			}
			t, err := car.Map(car.Speed)
			if err != nil {
				return fmt.Errorf("%s: %w", args[0], err)
			}
			if o.format == "json" {
				return printChecked(cmd.OutOrStdout(), args[0], t)
			}
			p := out(cmd)
			checkText(cmd.Context(), p, t, shown(car))
			if p.err == nil && len(t.Rows) == 0 {
				return nothing(args[0], t, false)
			}
			return p.err
		},
	}
	o.add(c, "", "text", "json")
	return c
}

func checkText(ctx context.Context, p *printer, t *model.Table, u units.System) {
	c := t.Car
	p.f("%s\n\n", c.Name)
	mass := c.FrontMass + c.RearMass
	p.f("Car: wheelbase %s, %s (%.1f %% on the front axle), roof %s above ground.\n",
		u.Length(c.Wheelbase), u.Mass(mass), 100*c.FrontMass/mass, u.Length(c.RoofHeight))
	p.f("Air: %.3f kg/m³. Figures are quoted at %s.\n\n", t.Density, u.Speed(c.Speed))
	for i, part := range c.Parts {
		where := ""
		switch {
		case i == 0:
			where = fmt.Sprintf(", fixed to the car at x %s, z %s, %s°", u.Length(c.Fixed.X), u.Length(c.Fixed.Z),
				units.Fixed(c.Fixed.Turn/plane.Deg, 1))
		case i == len(c.Parts)-1:
			where = fmt.Sprintf(", the wing: span %s, chord %s", u.Length(c.Wing.Span), u.Length(c.Wing.Chord))
		}
		openings := ""
		if n := len(part.Cutouts); n > 0 {
			openings = ", " + units.Count(n, "cut-out")
		}
		p.f("Part %s: %d holes%s%s.\n", part.Name, len(part.Holes), openings, where)
	}
	for i, j := range c.Joints {
		p.f("Joint %s: %s to %s, at least %d bolts %s, turned by at most %.0f° either way.\n",
			j.Name, c.Parts[i].Name, c.Parts[i+1].Name, max(2, j.MinBolts), j.Bolt, j.MaxTurn/plane.Deg)
	}
	for _, l := range words.DescribeWing(t, u) {
		p.f("%s\n", l)
	}
	if glyphs, err := glyphsFor(""); err == nil {
		tracedText(p, c.Wing, glyphs, u)
	}
	p.f("%s\n\n", words.Limits(c, u))
	summary(p, t, u)
	strengthSummary(ctx, p, c, u)
	p.f("\nHow sure the inputs are, one standard uncertainty:\n")
	for _, l := range words.UncertaintyLines(c, t.Wing, u) {
		p.f("  %s\n", l)
	}
	measureNext(p, t, u)
	assumedText(p, "Assumed in the file, to be measured:", c, true)
	assumedText(p, "Assumed, because the file does not say:", c, false)
	if len(c.Warnings) > 0 {
		p.f("\nUsable, but check these:\n")
		for _, w := range c.Warnings {
			p.f("  %s\n", w.In(u))
		}
	}
}

// assumedText lists what is assumed: what the file itself calls so, or what it leaves open.
func assumedText(p *printer, title string, c *model.Car, said bool) {
	first := true
	for _, a := range c.Assumed {
		if a.Said != said {
			continue
		}
		if first {
			p.f("\n%s\n", title)
		}
		first = false
		switch {
		case !said:
			p.f("  %s: %s (%s)\n", a.What, a.Value, a.Note)
		case a.Value == "":
			p.f("  %s\n", a.What)
		default:
			p.f("  %s: %s\n", a.What, a.Value)
		}
	}
}

// measureNext says what would narrow the figures of the setting that the explorer opens with.
func measureNext(p *printer, t *model.Table, u units.System) {
	at := choose.Start(t)
	if at >= len(t.Rows) {
		return
	}
	r := &t.Rows[at]
	said := false
	for _, k := range []figures.Key{figures.Downforce, figures.BalanceShift} {
		best := words.BestMeasurement(t, r, figures.Get(k), u)
		if best == "" {
			continue
		}
		if !said {
			p.f("\nWhat to measure next, taking setting %s:\n", t.Name(r.Setting))
			said = true
		}
		p.f("  %s\n", best)
	}
}

// summary says how many settings there are and what they span.
func summary(p *printer, t *model.Table, u units.System) {
	within, alternatives, unusual := 0, 0, 0
	lo, hi := math.Inf(1), math.Inf(-1)
	low, high := math.Inf(1), math.Inf(-1)
	for i := range t.Rows {
		r := &t.Rows[i]
		if r.Within() {
			within++
		}
		if math.IsNaN(r.CL) {
			unusual++
		}
		alternatives += len(r.Alternatives)
		lo, hi = min(lo, r.Angle), max(hi, r.Angle)
		low, high = min(low, r.Height), max(high, r.Height)
	}
	p.f("Settings: %d, of which %d keep all limits", len(t.Rows), within)
	if alternatives > 0 {
		p.f("; %d more ways of bolting end in the same places", alternatives)
	}
	p.f(".\n")
	if len(t.Rows) > 0 {
		p.f("They reach from %s° to %s° and from %s to %s.\n", units.Fixed(lo/plane.Deg, 1), units.Fixed(hi/plane.Deg, 1), u.Length(low),
			u.Length(high))
	}
	if unusual > 0 {
		p.f("%d of them are outside the wing or flow data and have no forces.\n", unusual)
	}
}

package main

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"stanchion/model"
	"stanchion/model/strength"
	"stanchion/model/units"
	"stanchion/model/words"
)

func newStrength() *cobra.Command {
	var o options
	var all bool
	over := failOver{at: 1}
	c := &cobra.Command{
		Use:   "strength CARFILE [ID]",
		Short: "will plates and bolts hold at the design speed, and which would give first?",
		Long: `strength carries the wing's loads at the design speed down the chain of parts in
eleven load cases and compares the load on every bolt, hole and plate with its allowable
by EN 1993-1-8 and EN 1999-1-1, nearest to its limit first. Plates are solved as they are
drawn, with holes, slots and cut-outs, by equilibrium and finite elements: stress,
buckling, how far the wing moves, natural frequencies, fatigue (see "stanchion help
method"). It works out what would help, and says how tight the bolts go.

Without an ID it checks every setting that breaks no limit, or with --all every one,
in every way that it can be bolted, and shows the worst. The verdict is one of three:
it passes these checks, it does not hold, or it is not checked and why. Exit code 1
means that it does not hold or is not checked.

A part needs thickness, material and outline, and may give cutouts and weld. The fixed
part needs what holds it: held, a height, or chassis bolts (holes with joint = "chassis",
and [chassis]). A joint needs grade, may give nut and engaged, and for inserts and rivet
nuts their maker's nut_tension and nut_shear. [speed] design is the speed; [strength] may
give uprights or upright_at, load_factor, vertical, cornering and braking (in g), yaw (°),
uneven (%), push (N) and push_at. What is missing is listed.

An estimate for planning, not approval: wings that come off hurt people. Have a
licensed engineer check what runs on track or road, and follow local road rules
and the event's technical rules.`,
		Example: `  stanchion strength car.toml
  stanchion strength car.toml A3+1`,
		Args:              arguments(1, many),
		ValidArgsFunction: carFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := o.check(); err != nil {
				return err
			}
			car, err := loadCar(args[0])
			if err != nil {
				return err
			}
			f, err := strength.New(car)
			if err != nil {
				return noAnswer("%s: %v", args[0], err)
			}
			if len(args) > 1 {
				return strengthOfOne(cmd, f, args[1:], all, o, over)
			}
			return strengthOfAll(cmd, f, args[0], all, o, over)
		},
	}
	o.add(c, "", "text", "json")
	c.Flags().BoolVar(&all, "all", false, "settings that break a limit too, and every check")
	c.Flags().Var(&over, "fail-over", "exit code 1 also when more than this `SHARE` of an allowable is used, such as 80%")
	return c
}

// strengthOfOne prints how one setting holds. Its error is errNoAnswer unless it passes.
func strengthOfOne(cmd *cobra.Command, f *strength.Analysis, named []string, all bool, o options, over failOver) error {
	row, err := pickRow(f.Table, named)
	if err != nil {
		return err
	}
	done := working(solvingPlates)
	r, err := f.Solve(cmd.Context(), row)
	helps := f.Helps(cmd.Context(), r)
	done()
	if err != nil {
		return noAnswer("NOT CHECKED: %v", err)
	}
	if o.format == "json" {
		err = writeJSON(cmd.OutOrStdout(), strengthOut(cmd.Context(), f, r, r.Verdict(), r.Open))
	} else {
		p := out(cmd)
		for _, l := range words.StrengthLines(f, r, helps, shown(f.Car), checksListed(all)) {
			p.f("%s\n", l)
		}
		err = p.err
	}
	return over.verdict(err, r, r.Verdict())
}

// strengthOfAll prints how the settings in question hold, by the worst of them.
func strengthOfAll(cmd *cobra.Command, f *strength.Analysis, name string, all bool, o options, over failOver) error {
	done := working(solvingPlates)
	s, err := f.SolveAll(cmd.Context(), all, strength.MostSolved)
	done()
	if err != nil {
		return err
	}
	if s.Worst.Row == nil {
		return noAnswer("%s: NOT CHECKED: %s", name, whyNoLoads(f, s, shown(f.Car)))
	}
	if o.format == "json" {
		return over.verdict(writeJSON(cmd.OutOrStdout(), strengthOut(cmd.Context(), f, s.Worst, s.Verdict(), s.Open)), s.Worst, s.Verdict())
	}
	most := checksListed(all)
	p := out(cmd)
	asked := fmt.Sprintf("All %d settings", s.Asked)
	if s.Asked == 1 {
		asked = "The one setting"
	}
	switch {
	case !all && s.Asked == 1:
		asked += " that breaks no limit"
	case !all:
		asked += " that break no limit"
	}
	which := "The most critical setting:"
	if _, ok := s.Worst.Used(); !ok {
		which = "The first of them:"
	}
	p.f("%s: %s.\n%s\n", asked, words.ScopeHeadline(f, s, shown(f.Car)), words.Caution)
	if without := words.WithoutForces(f, s); without != "" {
		p.f("%s.\n", without)
	}
	p.f("\n%s\n", which)
	for _, l := range words.StrengthLines(f, s.Worst, f.Helps(cmd.Context(), s.Worst), shown(f.Car), most) {
		p.f("%s\n", l)
	}
	return over.verdict(p.err, s.Worst, s.Verdict())
}

// checksListed is how many checks a page lists: 0 for all.
func checksListed(all bool) int {
	if all {
		return 0
	}
	return 12
}

// whyNoLoads says why no setting in question has loads: which limit excludes how many,
// or that there are no forces.
func whyNoLoads(f *strength.Analysis, s strength.Scope, u units.System) string {
	if s.Asked > 0 {
		return fmt.Sprintf("none of the %d settings in question has forces at %s: they are outside the wing or flow data", s.Asked,
			u.Speed(f.Table.Speed))
	}
	if len(f.Table.Rows) == 0 {
		return words.Unbolted(f.Car)
	}
	return fmt.Sprintf("all %d settings break a limit at %s: %s; --all checks them all the same", len(f.Table.Rows), u.Speed(f.Table.Speed),
		words.LimitCounts(f.Table))
}

// strengthSummary says in a line or two how the settings that break no limit stand.
func strengthSummary(ctx context.Context, p *printer, c *model.Car, u units.System) {
	f, err := strength.New(c)
	if err != nil {
		p.f("Strength NOT CHECKED: %v.\n", err)
		return
	}
	done := working(solvingPlates)
	s, err := f.SolveAll(ctx, false, strength.MostSolved)
	done()
	if err != nil {
		p.f("Strength NOT CHECKED: %v.\n", err)
		return
	}
	if s.Worst.Row == nil {
		p.f("Strength NOT CHECKED: %s.\n", whyNoLoads(f, s, u))
	} else {
		worst := ""
		if _, ok := s.Worst.Used(); ok {
			worst = " The worst is " + f.Table.Name(s.Worst.Row.Setting) + "."
		}
		p.f("Strength at %s of the settings that break no limit (%d): %s.%s\n%s\n", u.Speed(c.DesignSpeed.Value()), s.Asked,
			words.ScopeHeadline(f, s, u), worst, words.Caution)
	}
	for _, m := range f.Missing {
		p.f("  missing: %s\n", m)
	}
}

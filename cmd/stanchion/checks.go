package main

import (
	"github.com/spf13/cobra"

	"stanchion/model"
	"stanchion/model/strength"
	"stanchion/model/words"
)

func newChecks() *cobra.Command {
	var speed string
	c := &cobra.Command{
		Use:   "checks CARFILE [ID]",
		Short: "the list of what to look at between sessions, with room for dates",
		Long: `checks prints what to look at between sessions with a setting on the car, to tick by hand:
the torque of each joint, paint marks, inserts, lid, and the places of the plates where
cracks are looked for first, those that use most of their strength in the hardest load
case. Below are lines for date, laps, what was found and who did it.

ID is one setting as "stanchion map" calls it; without one it is the setting that uses
most of its strength of those that break no limit. Nothing is stored.`,
		Example: `  stanchion checks car.toml row 4, B2
  stanchion checks car.toml | lp`,
		Args:              arguments(1, many),
		ValidArgsFunction: cardSettings,
		RunE: func(cmd *cobra.Command, args []string) error {
			t, err := tableOf(args[0], speed)
			if err != nil {
				return err
			}
			row, f, res, why, err := checkedSetting(cmd, t, args)
			if err != nil {
				return err
			}
			p := out(cmd)
			for _, l := range words.BetweenSessions(f, res, why, t, row, len(args) > 1, shown(t.Car)) {
				p.f("%s\n", l)
			}
			return p.err
		},
	}
	c.Flags().StringVar(&speed, "speed", "", speedOfFile)
	return c
}

// checkedSetting is the setting that args name, or the one that uses most of its strength, with its strength; res is nil where
// it is not checked, and why says so.
func checkedSetting(cmd *cobra.Command, t *model.Table, args []string) (row *model.Row, f *strength.Analysis, res *strength.Result, why, err error) {
	f, why = strength.New(t.Car)
	if len(args) > 1 {
		if row, err = pickRow(t, args[1:]); err != nil {
			return nil, nil, nil, nil, err
		}
	}
	done := working(solvingPlates)
	defer done()
	switch {
	case f == nil && row == nil:
		within := t.RowsWithin()
		if len(within) == 0 {
			return nil, nil, nil, nil, nothing(args[0], t, true)
		}
		return within[0], nil, nil, why, nil
	case f == nil:
		return row, nil, nil, why, nil
	case row == nil:
		s, err := f.SolveAll(cmd.Context(), false, strength.MostSolved)
		if err != nil {
			return nil, nil, nil, nil, err
		}
		if s.Worst.Row == nil {
			return nil, nil, nil, nil, noAnswer("%s: %s", args[0], whyNoLoads(f, s, shown(f.Car)))
		}
		r, err := f.Solve(cmd.Context(), s.Worst.Row)
		return s.Worst.Row, f, &r, nil, err
	}
	r, why := f.Solve(cmd.Context(), f.Table.RowAt(row.Position))
	if cmd.Context().Err() != nil {
		return nil, nil, nil, nil, cmd.Context().Err()
	}
	if why != nil {
		return row, f, nil, why, nil
	}
	return row, f, &r, nil, nil
}

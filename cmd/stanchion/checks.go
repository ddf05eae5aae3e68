package main

import (
	"fmt"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"stanchion/model"
	"stanchion/model/drawing"
	"stanchion/model/inspect"
	"stanchion/model/strength"
	"stanchion/model/units"
	"stanchion/model/words"
)

// checksFlags are what checks takes.
type checksFlags struct {
	options
	done, failed, by, found, struck, at string // of a look that is noted
	out, date                           string
	blank, replace                      bool
}

func newChecks() *cobra.Command {
	var f checksFlags
	c := &cobra.Command{
		Use:   "checks CARFILE [ID]",
		Short: "what to look at between sessions: what is overdue, when it was done last, and by whom",
		Long: `checks says which checks are overdue, and since when, then lists what to look at between
sessions with a setting on the car: the torque of each joint, paint marks, inserts, play,
lid, end plates, and cracks, with the places of the plates where they are looked for first,
those that use most of their strength in the hardest load case. Below is room to write.

What was done is noted by --done and --failed into the notebook beside the car file, with
--by and --found, and stays. An item is a line's first words as --format json has them in
"key": "torque foot", "cracks upright", "play"; "torque" and "cracks" stand for all of
theirs, "all" for everything. What failed stays STOP until it is noted as done again, with
--found saying what was put right. --struck kerb, spin or contact makes everything due at
once.

Due is: paint marks, play and lid after every run; torque, cracks, inserts and end plates
every 40 laps; everything every 30 days; torque also after the first 5 laps of a newly
bolted setting. That is common practice, no source; [checks] of the car file sets other
intervals. Laps are those of the notes: a run whose note says none counts as 10, and what
was driven and not noted is not known.

ID is one setting as "stanchion map" calls it; without one it is the setting that the
notebook has on the car, or else the one that uses most of its strength of those that
break no limit. Exit code 1 says that something is overdue, due or was never noted;
--blank prints the list without dates, to fill in by hand, and -o FILE.pdf draws it with
the places to look at.`,
		Example: `  stanchion checks car.toml
  stanchion checks car.toml --done all --by "A. Smith"
  stanchion checks car.toml --done torque,play --failed "cracks upright" --found "crack at hole k3" --by "A. Smith"
  stanchion checks car.toml --struck kerb
  stanchion checks car.toml row 4, B2 --blank | lp
  stanchion checks car.toml -o checks.pdf`,
		Args:              arguments(1, many),
		ValidArgsFunction: cardSettings,
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := f.check(); err != nil {
				return err
			}
			if f.done != "" || f.failed != "" || f.struck != "" {
				return f.note(cmd, args)
			}
			if err := f.forNotes(cmd); err != nil {
				return err
			}
			return f.list(cmd, args)
		},
	}
	f.add(c, speedOfFile, "text", "json")
	c.Flags().StringVar(&f.done, "done", "", "note `ITEMS` as looked at and found good: all, or keys parted by commas")
	c.Flags().StringVar(&f.failed, "failed", "", "note `ITEMS` as failed; --found says how")
	c.Flags().StringVar(&f.by, "by", "", "who looked, `NAME`")
	c.Flags().StringVar(&f.found, "found", "", "what was found or put right, `TEXT`")
	c.Flags().StringVar(&f.struck, "struck", "", "the car went over a `kerb`, or there was a spin or contact: everything is due at once")
	c.Flags().StringVar(&f.at, "at", "", "`TIME` of the look such as 2026-11-25T10:30 (default: now)")
	c.Flags().BoolVar(&f.blank, "blank", false, "the list alone, without what the notebook says, to fill in by hand")
	c.Flags().StringVar(&f.date, "date", "", "what is due on this `DATE`, as 2026-05-31 (default: now)")
	c.Flags().StringVarP(&f.out, "output", "o", "", "draw the list into `FILE`, .pdf")
	c.Flags().BoolVar(&f.replace, "replace", false, "write over a file that is there")
	return c
}

// report is how the checks of a car stand; nil where there is no notebook to go by.
func (f *checksFlags) report(cmd *cobra.Command, name string, car *model.Car) (*inspect.Report, error) {
	now := time.Now()
	if f.date != "" {
		day, err := time.ParseInLocation("2006-01-02", f.date, time.Local)
		if err != nil {
			return nil, fmt.Errorf("--date %q; write it as 2026-05-31", f.date)
		}
		now = day.Add(24*time.Hour - time.Second)
	}
	if _, demo := demoName(name); demo || f.blank {
		return nil, nil
	}
	b, err := book(cmd, name)
	if err != nil {
		return nil, err
	}
	r := inspect.Of(car, b, now)
	return &r, nil
}

// list prints what to look at, what is overdue first.
func (f *checksFlags) list(cmd *cobra.Command, args []string) error {
	if f.out != "" {
		if strings.ToLower(filepath.Ext(f.out)) != ".pdf" {
			return fmt.Errorf("-o %s; the name must end in .pdf", f.out)
		}
		if err := (&drawFlags{out: f.out, replace: f.replace}).mayWrite(args[0], f.out); err != nil {
			return err
		}
	}
	t, err := f.table(args[0])
	if err != nil {
		return err
	}
	l := words.Look{Table: t, Named: len(args) > 1, Units: shown(t.Car)}
	if l.Report, err = f.report(cmd, args[0], t.Car); err != nil {
		return err
	}
	if err := checkedSetting(cmd, args, &l); err != nil {
		return err
	}
	switch {
	case f.format == "json":
		err = writeJSON(cmd.OutOrStdout(), checksDocument(l))
	case f.out != "":
		err = f.draw(cmd, l)
	default:
		p := out(cmd)
		for _, line := range words.BetweenSessions(l) {
			p.f("%s\n", line)
		}
		if _, demo := demoName(args[0]); demo && !f.blank {
			p.f("A demo car has no notebook, so no dates are kept: \"stanchion new FILE --demo NAME\" makes a car file.\n")
		}
		err = p.err
	}
	if err == nil && l.Report != nil && l.Report.Level() != inspect.NotDue {
		return noAnswer("")
	}
	return err
}

// draw writes the list as a PDF.
func (f *checksFlags) draw(cmd *cobra.Command, l words.Look) error {
	day, err := (&drawFlags{date: f.date}).day()
	if err != nil {
		return err
	}
	data, err := drawing.ChecksPDF(l, day)
	if err != nil {
		return err
	}
	if err := writeOutput(f.out, data, f.replace); err != nil {
		return err
	}
	p := out(cmd)
	p.f("%s: %s\n", units.Printable(f.out), words.CheckTitle(l))
	if l.Report != nil {
		for _, line := range words.ChecksHead(*l.Report) {
			p.f("%s\n", line)
		}
	}
	p.f("%s\n", words.Caution)
	return p.err
}

// checkedSetting puts into a look the setting that args name, the one on the car, or the one that uses most of its strength, with its
// strength; the result is nil where it is not checked, and why says so.
func checkedSetting(cmd *cobra.Command, args []string, l *words.Look) (err error) {
	t := l.Table
	l.Frame, l.Why = strength.New(t.Car)
	if len(args) > 1 {
		if l.Row, err = pickRow(t, args[1:]); err != nil {
			return err
		}
	} else if l.Report != nil && l.Report.OnCar != "" {
		if row, ok := t.Find(l.Report.OnCar); ok {
			l.Row = row
		}
	}
	done := working(solvingPlates)
	defer done()
	switch {
	case l.Frame == nil && l.Row == nil:
		within := t.RowsWithin()
		if len(within) == 0 {
			return nothing(args[0], t, true)
		}
		l.Row = within[0]
		return nil
	case l.Frame == nil:
		return nil
	case l.Row == nil:
		s, err := l.Frame.SolveAll(cmd.Context(), false, strength.MostSolved)
		if err != nil {
			return err
		}
		if s.Worst.Row == nil {
			return noAnswer("%s: %s", args[0], whyNoLoads(l.Frame, s, shown(l.Frame.Car)))
		}
		l.Row = s.Worst.Row
		r, err := l.Frame.Solve(cmd.Context(), l.Row)
		l.Result = &r
		return err
	}
	r, why := l.Frame.Solve(cmd.Context(), l.Frame.Table.RowAt(l.Row.Position))
	if cmd.Context().Err() != nil {
		return cmd.Context().Err()
	}
	if l.Why = why; why == nil {
		l.Result = &r
	}
	return nil
}

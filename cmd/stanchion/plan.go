package main

import (
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"stanchion/model"
	"stanchion/model/drawing"
	"stanchion/model/inspect"
	"stanchion/model/logbook"
	"stanchion/model/plan"
	"stanchion/model/units"
	"stanchion/model/words"
)

func newPlan() *cobra.Command {
	f := planFlags{wish: plan.Usual()}
	c := &cobra.Command{
		Use:   "plan CARFILE [ID ...]",
		Short: "a day at the track: which settings in which order, and what can be told",
		Long: `plan orders the sessions of a day so that the settings can be told apart from what track and
driver do meanwhile: of all orders that the breaks have time for it takes the one whose
differences are known best with a drift over the day taken out also, with few bolts moved. It
says what difference of laps would be seen, and what ride heights, top speed or coast-downs
tell in its place. The first setting is the safest.

--find says what for: fastest or balance by laps and feel; downforce or drag by readings at
speed, with the settings that narrow the fit (note fit) the most. Each ID is a setting to plan
with; without one they are chosen. Settings that break a limit, stall, lift or do not hold are
not planned. Scatter of laps and minutes for a bolt are learned from the notes where they say
them, else assumed.

--keep keeps the plan beside the notebook, in CAR.plan.toml; the explorer follows it too.
Without further flags plan shows what is kept. --done and --lost say what became of sessions,
--from-notes takes the runs from the day's notes, and what is left is planned anew around
them. -o writes a sheet to print.

Exit code 1 means that no plan can be made.`,
		Example: `  stanchion plan car.toml --sessions 6 --laps 8
  stanchion plan car.toml 'row 4, B2' 'row 4, A2' --keep -o day.pdf
  stanchion plan car.toml --done 1,2 --lost 3`,
		Args:              arguments(1, many),
		ValidArgsFunction: cardSettings,
		RunE: func(cmd *cobra.Command, args []string) error {
			return f.make(cmd, args)
		},
	}
	f.add(c, speedOfFile, "text", "json")
	fl := c.Flags()
	fl.StringVar(&f.find, "find", "fastest", "what to find out: fastest, balance, downforce or drag")
	fl.IntVar(&f.wish.Sessions, "sessions", f.wish.Sessions, "sessions of the day")
	fl.IntVar(&f.wish.Laps, "laps", f.wish.Laps, "flying laps of a session")
	fl.StringVar(&f.minutes, "minutes", "20", "length of a session")
	fl.StringVar(&f.pause, "break", "40min", "time between sessions")
	fl.StringVar(&f.perBolt, "minutes-per-bolt", "", "time to move a bolt (default: by the notes, or 3)")
	fl.StringVar(&f.by, "changed-by", "", "whose times for bolts count, as the notes name them (default: all)")
	fl.StringVar(&f.lap, "lap-scatter", "", "standard deviation of your laps within a run (default: by the notes, or 0.4s)")
	fl.StringVar(&f.run, "run-scatter", "", "that of runs beyond it (default: by the notes, or half of the laps')")
	fl.StringVar(&f.difference, "difference", "0.3s", "a difference of laps, for what it would take")
	fl.IntVar(&f.wish.Settings, "settings", 0, "how many settings are chosen (default: by the sessions)")
	fl.IntSliceVar(&f.done, "done", nil, "`SESSIONS` that were run as planned, such as 1,2")
	fl.IntSliceVar(&f.lost, "lost", nil, "`SESSIONS` that were lost to rain or repairs")
	fl.BoolVar(&f.fromNotes, "from-notes", false, "what was run by the notes of the plan's day")
	fl.BoolVar(&f.keep, "keep", false, "keep the plan beside the notebook")
	fl.BoolVar(&f.anew, "new", false, "plan anew, whatever is kept")
	fl.StringVarP(&f.out, "output", "o", "", "the `FILE` to write a sheet to: .pdf")
	fl.BoolVar(&f.replace, "replace", false, "write over a file that is there")
	fl.StringVar(&f.date, "date", "", "the day, as 2026-05-31 (default: today)")
	return c
}

// make makes the plan, or follows the one that is kept, and prints it.
func (f *planFlags) make(cmd *cobra.Command, args []string) error {
	if err := f.check(); err != nil {
		return err
	}
	d := drawFlags{out: f.out, date: f.date, replace: f.replace}
	date, err := d.day()
	if err != nil {
		return err
	}
	if f.out != "" {
		if kind := strings.ToLower(filepath.Ext(f.out)); kind != ".pdf" {
			return fmt.Errorf("-o %s; the name must end in .pdf", f.out)
		}
		if err := d.mayWrite(args[0], f.out); err != nil {
			return err
		}
	}
	_, demo := demoName(args[0])
	marks := len(f.done)+len(f.lost) > 0 || f.fromNotes
	if demo && (f.keep || f.fromNotes) {
		return errors.New("a demo car keeps no plan and no notes; make a car file of it: stanchion new FILE --demo NAME")
	}
	var book logbook.Book
	var kept plan.Kept
	var t *model.Table
	if demo {
		t, err = f.table(args[0])
	} else {
		t, book, err = tableAndBook(cmd, &f.options, args[0])
	}
	if err != nil {
		return err
	}
	path, there := plan.PathFor(args[0]), false
	if !demo {
		kept, err = plan.Load(path)
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
		there = err == nil
	}
	anew := !there || len(args) > 1 || slices.ContainsFunc(planWishFlags, func(name string) bool { return cmd.Flags().Changed(name) })
	w := f.wish
	if anew {
		if err := f.read(book.Notes, plan.Uprights(t.Car)); err != nil {
			return err
		}
		w = f.wish
		w.Date = date
		if len(args) > 1 {
			if w.Named, err = eachRow(t, args[1:]); err != nil {
				return err
			}
		}
	} else {
		var gone []string
		if w, gone = kept.Follow(t); len(gone) > 0 {
			return fmt.Errorf("%s: the car file no longer gives %s; plan anew with --new", units.Printable(path), units.Printable(strings.Join(gone, "; ")))
		}
	}
	w.Notes, w.OnCar = book.Notes, book.OnCar()
	p, err := planned(cmd, t, w)
	if err != nil {
		return f.none(cmd, t, args[0], err)
	}
	if marks {
		next := p.Keep(kept)
		if err := f.mark(&next, book.Notes); err != nil {
			return err
		}
		again, gone := next.Follow(t)
		if len(gone) > 0 {
			return fmt.Errorf("the car file gives no %s", units.Printable(strings.Join(gone, "; ")))
		}
		again.Notes, again.OnCar, again.Known = book.Notes, book.OnCar(), p.Analysis
		if p, err = planned(cmd, t, again); err != nil {
			return f.none(cmd, t, args[0], err)
		}
	}
	saved := ""
	if f.keep || marks && !demo {
		next := p.Keep(kept)
		if err := next.Save(path); err != nil {
			return err
		}
		saved = path
	}
	if f.out != "" {
		data, err := drawing.PlanPDF(p, shown(t.Car))
		if err == nil {
			err = writeOutput(f.out, data, f.replace)
		}
		if err != nil {
			return err
		}
	}
	if f.format == "json" {
		return planJSON(cmd, p)
	}
	if day := p.Date.Format("2006-01-02"); !anew && day != date.Format("2006-01-02") {
		out(cmd).f("This plan is of %s; --new plans another day.\n", day)
	}
	if !demo {
		out(cmd).hang(out(cmd).cells(), words.ChecksStop(inspect.Of(t.Car, book, time.Now()))...)
	}
	return planText(cmd, p, saved, f.out)
}

func planned(cmd *cobra.Command, t *model.Table, w plan.Wish) (*plan.Plan, error) {
	done := working(solvingPlates)
	defer done()
	return plan.Make(cmd.Context(), t, w)
}

// none says why there is no plan.
func (f *planFlags) none(cmd *cobra.Command, t *model.Table, file string, err error) error {
	u := shown(t.Car)
	for _, b := range plan.BarredOf(err) {
		line := words.PlanBarred(nil, b, t.Name(b.Row.Setting), u)
		if f.format == "text" {
			out(cmd).f("%s\n", line)
		}
	}
	for _, e := range []error{plan.ErrFew, plan.ErrBarred, plan.ErrBreaks, plan.ErrNoRates, plan.ErrNoPower} {
		if errors.Is(err, e) {
			return noAnswer("%s: %v", file, err)
		}
	}
	return err
}

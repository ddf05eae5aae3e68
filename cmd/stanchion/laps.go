package main

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"github.com/spf13/cobra"

	"stanchion/model"
	"stanchion/model/choose"
	"stanchion/model/files"
	"stanchion/model/laps"
	"stanchion/model/units"
	"stanchion/model/words"
)

// lapFlags are what laps takes.
type lapFlags struct {
	options
	typed   []string
	columns map[string]string
	place   string
	from    string
}

func newLaps() *cobra.Command {
	var f lapFlags
	c := &cobra.Command{
		Use:   "laps CARFILE [FILE.csv]",
		Short: "was one setting faster than another, or is the difference only scatter?",
		Long: `laps compares settings by timed laps, from the notebook, from a table, or as they are typed. Out-laps, in-laps and
laps that traffic or a slip spoilt are dropped by a stated rule, and what tyres and fuel do
over a run is taken out as a trend. Settings are then compared by the means of their runs, not
by laps: what track, tyres and driver do from one run to the next is in that scatter. There is
no winner without an interval, and none from a single run of each.

The table has a head line with the columns setting and time (1:43.2 or 103.2), and may have
run, its name, and mark, "in" or "out". Other names are given with --columns. Without a column
run, a run ends where the setting changes. --run types one: "SETTING: TIMES", with in or out
before a time. Without both the laps are those of the notebook, a note a run; --place and
--from take some of its notes. What differs from the last of these in place, tyres, pressures,
track, rain, driver, fuel or other adjustments is named and left out, and so are settings that
are elsewhere by now or gone; what a note does not say is taken as alike.

Exit code 1 means that no difference between the two fastest settings is clear.`,
		Example: `  stanchion laps car.toml
  stanchion laps car.toml --place "north field" --from 2026-11-20
  stanchion laps car.toml saturday.csv
  stanchion laps car.toml --run "1 b2: out 1:52 1:43.2 1:43.0" --run "2 b2: 1:43.9 1:43.7"
  stanchion laps car.toml log.csv --columns time=LapTime,setting=Setup`,
		Args:              arguments(1, 2),
		ValidArgsFunction: carFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := f.check(); err != nil {
				return err
			}
			t, err := tableOf(args[0], "")
			if err != nil {
				return err
			}
			if len(args) == 1 && len(f.typed) == 0 {
				return f.ofBook(cmd, t, args[0])
			}
			if f.place != "" || f.from != "" {
				return errors.New("--place and --from choose notes of the notebook; give them without a table and --run")
			}
			runs, faults, err := f.read(args)
			if err != nil {
				return err
			}
			if runs, err = named(t, runs); err != nil {
				return err
			}
			return f.print(cmd, t, laps.Analyse(runs), faults, nil)
		},
	}
	c.Flags().StringArrayVar(&f.typed, "run", nil, "a run as typed, `\"SETTING: TIMES\"`; may be repeated, in the order driven")
	c.Flags().StringToStringVar(&f.columns, "columns", nil, "the table's own names of columns, `run=NAME,setting=NAME,time=NAME,mark=NAME`")
	c.Flags().Lookup("columns").DefValue = "" // none, which the library spells []
	c.Flags().StringVar(&f.place, "place", "", "laps of notes whose place has this `TEXT`")
	c.Flags().StringVar(&f.from, "from", "", "laps of notes from this `DATE` on, 2026-11-25")
	f.add(c, "", "text", "json")
	return c
}

// ofBook takes the laps of the notebook.
func (f *lapFlags) ofBook(cmd *cobra.Command, t *model.Table, name string) error {
	if f.columns != nil {
		return errors.New("--columns is for a table; give its file too")
	}
	b, err := book(cmd, name)
	if err != nil {
		return err
	}
	filter := noteFilter{place: f.place, from: f.from}
	notes, err := filter.of(b.Notes, t.NameOf)
	if err != nil {
		return err
	}
	kept, left := choose.LapNotes(t, notes)
	if len(kept)+len(left) == 0 {
		return noAnswer("%s: no note has lap times; note them with \"stanchion note add --laps\", or give a table or --run \"SETTING: TIMES\"", name)
	}
	return f.print(cmd, t, laps.Analyse(laps.OfNotes(kept)), nil, words.LapsOfNotes(kept, left))
}

// read takes the runs of the table and those that are typed.
func (f *lapFlags) read(args []string) (runs []laps.Run, faults []laps.Fault, err error) {
	names := laps.Columns{}
	for key, name := range f.columns {
		at, ok := map[string]*string{"run": &names.Run, "setting": &names.Setting, "time": &names.Time, "mark": &names.Mark}[key]
		if !ok {
			return nil, nil, fmt.Errorf("--columns %s; the columns are run, setting, time and mark", units.Printable(key))
		}
		*at = name
	}
	if len(args) > 1 {
		data, err := files.Read(args[1], laps.MaxSize)
		if err != nil {
			return nil, nil, fmt.Errorf("%s: cannot be read: %w", args[1], plain(err))
		}
		if runs, faults, err = laps.ReadCSV(data, names); err != nil {
			return nil, nil, fmt.Errorf("%s: %w", args[1], err)
		}
		for i := range faults {
			faults[i].What = units.Printable(args[1]) + ": " + faults[i].Error()
		}
	}
	for _, text := range f.typed {
		r, err := laps.ReadTyped(text)
		if err != nil {
			return nil, nil, fmt.Errorf("--run %w", err)
		}
		runs = append(runs, r)
	}
	if len(runs) == 0 {
		return nil, nil, errors.New("there are no laps; give a table or --run \"SETTING: TIMES\"")
	}
	return runs, faults, nil
}

// named puts settings' ids in the place of what was written for them. Every name that fits none, or several, is a line of the error.
func named(t *model.Table, runs []laps.Run) ([]laps.Run, error) {
	ids := map[string]string{}
	var wrong []error
	for i := range runs {
		text := runs[i].Setting
		id, known := ids[text]
		if !known {
			r, err := pickRow(t, strings.Fields(strings.ReplaceAll(text, ",", " ")))
			if err != nil {
				where := fmt.Sprintf("run %d", i+1)
				if line := runs[i].Laps[0].Line; line > 0 {
					where = fmt.Sprintf("line %d of the table", line)
				}
				wrong = append(wrong, fmt.Errorf("%s: %s", where, err.Error())) // bad input, whatever it is elsewhere
			} else {
				id = r.ID
			}
			ids[text] = id
		}
		runs[i].Setting = id
	}
	return runs, errors.Join(wrong...)
}

// print says what the laps tell; from says where they come from, nil where that is typed.
func (f *lapFlags) print(cmd *cobra.Command, t *model.Table, a *laps.Analysis, faults []laps.Fault, from []string) error {
	order, all := a.Fastest(), a.Differences()
	var err error
	if f.format == "json" {
		err = lapsJSON(cmd, a, order, all, faults)
	} else {
		err = lapsText(cmd, t, a, order, all, faults, from)
	}
	switch {
	case err != nil:
		return err
	case len(all) == 0:
		return noAnswer("there are not two settings with laps that count")
	case all[0].Verdict != laps.Clear:
		return noAnswer("")
	}
	return nil
}

func lapsText(cmd *cobra.Command, t *model.Table, a *laps.Analysis, order []string, all []laps.Difference, faults []laps.Fault, from []string) error {
	p := out(cmd)
	for _, l := range words.LapsAnswer(all, t.NameOf) {
		p.f("%s\n", l)
	}
	p.f("\n")
	if len(order) > 0 {
		lapsPlot(p, t, a, order)
		p.f("\n")
	}
	for _, l := range words.LapsRest(a, all, t.NameOf) {
		p.f("%s\n", l)
	}
	for _, fault := range faults {
		p.f("left out: %s\n", fault.What)
	}
	for i, l := range from {
		if i == 0 {
			p.f("\n")
		}
		p.f("%s\n", l)
	}
	p.f("\n%s\n", words.LapsCaution)
	return p.err
}

// lapsPlot lists the settings with their runs on one scale, each run's mean as a letter.
func lapsPlot(p *printer, t *model.Table, a *laps.Analysis, order []string) {
	lo, hi, wide := math.Inf(1), math.Inf(-1), 8
	for i := range a.Runs {
		if r := &a.Runs[i]; r.Mean > 0 {
			lo, hi = min(lo, r.Mean), max(hi, r.Mean)
		}
	}
	for _, s := range order {
		wide = max(wide, len([]rune(t.NameOf(s))))
	}
	const cells = 31
	p.row("%-*s  %4s  %4s  %8s   %-*s", wide, "setting", "runs", "laps", "mean", cells, "each run, "+words.LapTime(lo)+" to "+words.LapTime(hi))
	for _, s := range order {
		mean, runs, n, _ := a.Mean(s)
		line := []rune(strings.Repeat("·", cells))
		for i := range a.Runs {
			if r := &a.Runs[i]; r.Setting == s && r.Mean > 0 {
				at := cells / 2
				if hi > lo {
					at = int(math.Round((r.Mean - lo) / (hi - lo) * (cells - 1)))
				}
				line[at] = '●'
			}
		}
		p.row("%-*s  %4d  %4d  %8s   %s", wide, t.NameOf(s), runs, n, words.LapTime(mean), string(line))
	}
}

// lapsJSON prints runs and differences; a figure that the laps do not tell is null.
func lapsJSON(cmd *cobra.Command, a *laps.Analysis, order []string, all []laps.Difference, faults []laps.Fault) error {
	runs, pairs, dropped, left := []object{}, []object{}, []object{}, []string{}
	for i := range a.Runs {
		r := &a.Runs[i]
		var mean *float64
		if r.Mean > 0 {
			mean = figure(r.Mean, 3)
		}
		runs = append(runs, object{{"run", r.Name}, {"setting", r.Setting}, {"laps", len(r.Laps)}, {"counted", r.N}, {"mean_s", mean}})
		for k, why := range r.Why {
			if why != laps.Counted {
				dropped = append(dropped, object{{"run_number", i + 1}, {"lap", k + 1}, {"time_s", figure(r.Laps[k].Time, 3)}, {"why", why.Key()}})
			}
		}
	}
	for _, d := range all {
		pairs = append(pairs, object{{"a", d.A}, {"b", d.B}, {"verdict", d.Verdict.Key()}, {"b_less_a_s", figure(d.Seconds, 3)}, {"interval_95_s", figure(d.Half, 3)},
			{"degrees_of_freedom", figure(zeroless(d.Free), 2)}, {"by_laps_alone_s", figure(d.ByLaps, 3)}, {"by_dealing_anew_pct", figure(100*d.Chance, 1)},
			{"more_runs_each", d.More}, {"one_after_the_other", d.OneAfter}})
	}
	for _, f := range faults {
		left = append(left, f.What)
	}
	return writeJSON(cmd.OutOrStdout(), object{{"fastest_first", append([]string{}, order...)}, {"trend_s_per_lap", figure(a.Trend, 4)}, {"trend_std_unc_s_per_lap", figure(a.TrendStdUnc, 4)},
		{"lap_scatter_s", figure(a.Scatter, 3)}, {"runs", runs}, {"not_counted", dropped}, {"differences", pairs}, {"left_out", left}})
}

func zeroless(x float64) float64 {
	if x == 0 {
		return math.NaN()
	}
	return x
}

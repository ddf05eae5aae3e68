package main

import (
	"errors"
	"fmt"
	"math"

	"github.com/spf13/cobra"

	"stanchion/aero"
	"stanchion/model"
	"stanchion/model/laps"
	"stanchion/model/pace"
	"stanchion/model/units"
	"stanchion/model/words"
)

func newLoggedCorner() *cobra.Command {
	var f loggedFlags
	var at string
	c := &cobra.Command{
		Use:   "corner CARFILE FILE...",
		Short: "least speed in one corner, lap by lap and setting by setting",
		Long: `corner takes the least speed of each pass within 60 m of a place, and compares settings by the
means of their runs as "stanchion laps" does: each file is a run. It says what the downforce
predicted for the two settings would change at a grip that stays as it is. Grip does not: tyres,
temperature, rubber on the track and the driver's line are in the difference as well.`,
		Example: `  stanchion logged corner car.toml a.gpx b.gpx c.gpx d.gpx --at 50.10120,10.20340 --setting "1 b2" --setting "4 b2" --setting "4 b2" --setting "1 b2"
  stanchion logged corner car.toml drive.csv --at 50.10120,10.20340`,
		Args:              arguments(2, 100),
		ValidArgsFunction: carFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			if at == "" {
				return errors.New("--at is missing: the place of the corner's middle, such as --at 50.10120,10.20340")
			}
			place, err := numbersOf("at", at, 2, 2, "50.10120,10.20340")
			if err != nil {
				return err
			}
			if math.Abs(place[0]) > 90 || math.Abs(place[1]) > 360 {
				return fmt.Errorf("--at %q; the latitude is up to 90°, the longitude up to 360°", at)
			}
			t, err := tableOf(args[0], "")
			if err != nil {
				return err
			}
			all, err := f.read(t, args[0], args[1:])
			if err != nil {
				return err
			}
			var runs []cornerRun
			for k, r := range all {
				plane, ok := r.log.Plane()
				if !ok {
					return noAnswer("%s: it has no positions", units.Printable(r.name))
				}
				x, y := plane.At(place[0], place[1])
				passes, err := pace.Corner(r.log, x, y)
				if err != nil {
					return noAnswer("%s: %v", units.Printable(r.name), err)
				}
				runs = append(runs, cornerRun{r, fmt.Sprint(k + 1), passes})
			}
			if f.format == "json" {
				return writeJSON(cmd.OutOrStdout(), cornerDocument(args[0], runs))
			}
			return cornerPrinted(cmd, args[0], t, runs, all)
		},
	}
	f.add(c, "text", "json")
	f.ofSettings(c, "")
	c.Flags().StringVar(&at, "at", "", "the corner's middle, `LAT,LON`")
	return c
}

// cornerRun are the passes of one recording.
type cornerRun struct {
	recording
	name   string
	passes []pace.Pass
}

// cornerAnalysis compares speeds by runs, as laps are: the comparison knows no unit.
func cornerAnalysis(runs []cornerRun) *laps.Analysis {
	var list []laps.Run
	for _, r := range runs {
		id := ""
		if r.row != nil {
			id = r.row.ID
		}
		one := laps.Run{Name: r.name, Setting: id}
		for _, p := range r.passes {
			one.Laps = append(one.Laps, laps.Lap{Time: p.Speed})
		}
		list = append(list, one)
	}
	return laps.Analyse(list)
}

// cornerGain is what the downforce predicted for two settings would change at a speed, m/s; NaN where it is not known.
func cornerGain(car string, v float64, from, to string) float64 {
	if from == "" || to == "" || !(v > 0) || v > model.MaxSpeed {
		return math.NaN()
	}
	t, err := tableOf(car, fmt.Sprintf("%.2fm/s", v))
	if err != nil {
		return math.NaN()
	}
	a, ok := t.Find(from)
	b, also := t.Find(to)
	if !ok || !also {
		return math.NaN()
	}
	weight := (t.Car.FrontMass + t.Car.RearMass) * units.Gravity
	sum := func(r *model.Row) float64 {
		return r.Change.Front + r.Change.Rear + (t.Car.FrontDownforceArea+t.Car.RearDownforceArea)*aero.DynamicPressure(t.Density, v)
	}
	return pace.Gained(v, weight, sum(a), sum(b)-sum(a))
}

func cornerPrinted(cmd *cobra.Command, car string, t *model.Table, runs []cornerRun, all []recording) error {
	p, u := out(cmd), shown(t.Car)
	a := cornerAnalysis(runs)
	name := func(id string) string {
		if id == "" {
			return "the car as driven"
		}
		return t.NameOf(id)
	}
	for k := 1; k < len(a.Settings); k++ {
		d := a.Compare(a.Settings[0], a.Settings[k])
		v, _, _, _ := a.Mean(a.Settings[0])
		p.f("%s\n", words.CornerDifference(&d, name, cornerGain(car, v, d.A, d.B), u))
	}
	p.row("%4s  %-20s  %6s  %s", "run", "setting", "passes", "least speed, "+u.SpeedUnit())
	for i, r := range runs {
		j := &a.Runs[i]
		text := ""
		for k, pass := range r.passes {
			text += " " + units.Fixed(u.SpeedFigure(pass.Speed), 1)
			if j.Why[k] != laps.Counted {
				text += "(left out)"
			}
		}
		p.row("%4s  %-20s  %6d  %s", r.name, name(j.Setting), len(r.passes), text[min(1, len(text)):])
	}
	p.f("\nThe grip changes too: tyres, temperature, rubber on the track and the driver's line are in each of these speeds. Change one thing at a time, in the order A B B A.\n")
	loggedLeft(p, all)
	p.f("%s\n", closedCourse)
	return p.err
}

func cornerDocument(car string, runs []cornerRun) object {
	a := cornerAnalysis(runs)
	list, pairs := []object{}, []object{}
	for i, r := range runs {
		passes := []object{}
		for k, x := range r.passes {
			passes = append(passes, object{{"at_s", figure(x.T, 2)}, {"least_m_s", figure(x.Speed, 2)}, {"counted", a.Runs[i].Why[k] == laps.Counted}})
		}
		list = append(list, object{{"file", r.recording.name}, {"setting", settingOf(r.recording)}, {"passes", passes}})
	}
	for k := 1; k < len(a.Settings); k++ {
		d := a.Compare(a.Settings[0], a.Settings[k])
		v, _, _, _ := a.Mean(a.Settings[0])
		pairs = append(pairs, object{{"a", d.A}, {"b", d.B}, {"verdict", d.Verdict.Key()}, {"b_less_a_m_s", figure(d.Seconds, 3)}, {"interval_95_m_s", figure(d.Half, 3)},
			{"predicted_m_s", figure(cornerGain(car, v, d.A, d.B), 3)}})
	}
	return object{{"runs", list}, {"differences", pairs}}
}

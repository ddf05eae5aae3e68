package main

import (
	"fmt"
	"math"
	"strconv"

	"github.com/spf13/cobra"

	"stanchion/model"
	"stanchion/model/given"
	"stanchion/model/logbook"
	"stanchion/model/logged"
	"stanchion/model/ride"
	"stanchion/model/speeds"
	"stanchion/model/units"
	"stanchion/model/words"
)

// rideFlags are what ride takes.
type rideFlags struct {
	loggedFlags
	at     string
	ratios map[string]string
}

func newLoggedRide() *cobra.Command {
	var f rideFlags
	c := &cobra.Command{
		Use:   "ride CARFILE FILE...",
		Short: "sink of each axle with the square of the speed, and the load on it",
		Long: `ride takes ride heights, or damper travels with their motion ratios, on straights without braking
or cornering, in pieces of two seconds, and fits a line over the square of the speed with errors
in both. What speeding up adds (squat) is fitted along and taken out; coast through the same
speeds as well, so that the two can be told apart.

Times the axle's rate (front_rate, rear_rate of the car file) the sink is the load that the air
puts on it. Between two settings on the same straights the car's own lift, the road and the
tyres' growth go out.`,
		Example: `  stanchion logged ride car.toml drive.csv --speed 180km/h --setting "1 b2" --note
  stanchion logged ride car.toml low.csv high.csv --setting "1 b2" --setting "4 b2"
  stanchion logged ride car.toml drive.csv --motion-ratio front=1.25,rear=1.4`,
		Args:              arguments(2, 100),
		ValidArgsFunction: carFiles,
		RunE:              func(cmd *cobra.Command, args []string) error { return f.run(cmd, args) },
	}
	f.loggedFlags.add(c, "text", "json")
	f.ofSettings(c, "write the sink of each setting into the notebook as a note")
	c.Flags().StringVar(&f.at, "speed", "", "`SPEED` that the sink is given at (default: the car file's)")
	c.Flags().StringToStringVar(&f.ratios, "motion-ratio", nil, "mm of the wheel for each mm of the damper, `front=N,rear=N`; below 0 where the travel falls in compression")
	c.Flags().Lookup("motion-ratio").DefValue = "" // none, which the library spells []
	return c
}

// sunk is the sink of one setting at both axles; an error says why there is none.
type sunk struct {
	settingGroup
	sink [2]ride.Sink
	err  [2]error
}

func (f *rideFlags) run(cmd *cobra.Command, args []string) error {
	t, err := tableOf(args[0], f.at)
	if err != nil {
		return err
	}
	ratios, err := f.motionRatios()
	if err != nil {
		return err
	}
	all, err := f.read(t, args[0], args[1:])
	if err != nil {
		return err
	}
	var sinks []sunk
	any := false
	for _, g := range grouped(all) {
		one := sunk{settingGroup: g}
		var logs []*logged.Log
		for _, r := range g.recordings {
			logs = append(logs, r.log)
		}
		for axle := range one.sink {
			one.sink[axle], one.err[axle] = ride.Of(logs, ride.Axle(axle), ratios)
			any = any || one.err[axle] == nil
		}
		sinks = append(sinks, one)
	}
	if f.format == "json" {
		err = writeJSON(cmd.OutOrStdout(), rideDocument(t, sinks))
	} else {
		err = ridePrinted(cmd, t, sinks, all)
	}
	if err != nil {
		return err
	}
	if !any {
		return noAnswer("no sink can be told")
	}
	if !f.note {
		return nil
	}
	for _, one := range sinks {
		if one.err[0] != nil && one.err[1] != nil {
			continue
		}
		if err := noteLogged(cmd, args[0], t, one.recordings[0], one.into(t.Speed)); err != nil {
			return err
		}
	}
	return nil
}

// into puts a sink into a note, with the larger of both axles' uncertainties.
func (s sunk) into(v float64) func(*logbook.Note) {
	return func(n *logbook.Note) {
		n.Sink.Speed, n.SinkStdUnc = v, 0
		for axle, to := range []*float64{&n.Sink.Front, &n.Sink.Rear} {
			if s.err[axle] == nil {
				mm, std := s.sink[axle].At(v)
				*to, n.SinkStdUnc = math.Round(mm*100)/100, max(n.SinkStdUnc, math.Ceil(std*100)/100)
			}
		}
	}
}

func (f *rideFlags) motionRatios() (r ride.Ratios, err error) {
	for key, text := range f.ratios {
		to, ok := map[string]*float64{"front": &r.Front, "rear": &r.Rear}[key]
		x, err := strconv.ParseFloat(text, 64)
		if !ok || err != nil || !(math.Abs(x) >= 0.2 && math.Abs(x) <= 5) {
			return r, fmt.Errorf("--motion-ratio %s=%s; give front and rear, 0.2 to 5 mm of the wheel for each mm of the damper", units.Printable(key), units.Printable(text))
		}
		*to = x
	}
	return r, nil
}

var axleNames = [2]string{"front", "rear"}

// load is the load of a sink, N, with its standard uncertainty; NaN where the axle's rate is not given.
func load(t *model.Table, axle int, mm, std float64) (n, stdUnc float64) {
	rate := [2]given.Number{t.Car.FrontRate, t.Car.RearRate}[axle].Or(math.NaN())
	return rate * mm, rate * math.Hypot(std, mm*t.Car.Uncertainty.AxleRate)
}

func ridePrinted(cmd *cobra.Command, t *model.Table, sinks []sunk, all []recording) error {
	p, u := out(cmd), shown(t.Car)
	p.f("Sink at %s, and the load that the air puts on each axle, with one standard uncertainty:\n", u.Speed(t.Speed))
	var remarks []string
	for _, s := range sinks {
		p.f("%s\n", s.name(t))
		var predicted speeds.Squat
		known := false
		if s.row != nil {
			predicted, known, _ = speeds.OnSprings(t, s.row)
		}
		for axle, name := range axleNames {
			if s.err[axle] != nil {
				p.f("  %-6s %s\n", name, s.err[axle])
				continue
			}
			mm, std := s.sink[axle].At(t.Speed)
			text := fmt.Sprintf("  %-6s %s ± %s %s", name, u.DimensionFigure(mm), u.DimensionFigure(std), u.LengthUnit())
			if n, unc := load(t, axle, mm, std); !math.IsNaN(n) {
				text += fmt.Sprintf("  %s ± %s %s", u.ForceFigure(n), u.ForceFigure(unc), u.ForceUnit())
			}
			if known {
				text += "  predicted " + u.Dimension([2]float64{predicted.Front, predicted.Rear}[axle])
			}
			p.f("%s\n", text)
			remarks = append(remarks, words.SinkRemarks(s.name(t)+", "+name, s.sink[axle], u)...)
		}
	}
	for k := 1; k < len(sinks); k++ {
		p.f("%s less %s, without the car's own lift:\n", sinks[k].name(t), sinks[0].name(t))
		for axle, name := range axleNames {
			if sinks[0].err[axle] != nil || sinks[k].err[axle] != nil {
				continue
			}
			d, std := difference(t, sinks[0], sinks[k], axle)
			n, unc := load(t, axle, d, std)
			text := fmt.Sprintf("  %-6s %s ± %s %s", name, signedDimension(d, u), u.DimensionFigure(std), u.LengthUnit())
			if !math.IsNaN(n) {
				text += fmt.Sprintf("  %s ± %s %s", u.SignedForce(n), u.ForceFigure(unc), u.ForceUnit())
			}
			if a, b := sinks[0].row, sinks[k].row; a != nil && b != nil {
				change := [2]float64{b.Change.Front - a.Change.Front, b.Change.Rear - a.Change.Rear}[axle]
				text += fmt.Sprintf("  predicted %s %s", u.SignedForce(change), u.ForceUnit())
			}
			if math.Abs(d) <= 2*std {
				text += "  NOT CLEAR"
			}
			p.f("%s\n", text)
		}
	}
	if !t.Car.FrontRate.Known() || !t.Car.RearRate.Known() {
		p.f("The car file has no front_rate and rear_rate: no loads.\n")
	}
	p.f("\n")
	for _, line := range remarks {
		p.f("%s\n", line)
	}
	p.f("Bumps and crests of a straight come again each lap, and are not in the ±; between two settings on the same straights they go out.\n")
	loggedLeft(p, all)
	p.f("%s\n", closedCourse)
	return p.err
}

func signedDimension(mm float64, u units.System) string {
	if mm < 0 {
		return "−" + u.DimensionFigure(-mm)
	}
	return "+" + u.DimensionFigure(mm)
}

// difference is by how much more an axle sinks with one setting than with another, mm.
func difference(t *model.Table, from, of sunk, axle int) (d, std float64) {
	a, ua := from.sink[axle].At(t.Speed)
	b, ub := of.sink[axle].At(t.Speed)
	return b - a, math.Hypot(ua, ub)
}

func rideDocument(t *model.Table, sinks []sunk) object {
	list := []object{}
	for k, s := range sinks {
		axles := []object{}
		for axle, name := range axleNames {
			if s.err[axle] != nil {
				axles = append(axles, object{{"axle", name}, {"why_not", s.err[axle].Error()}})
				continue
			}
			x := s.sink[axle]
			mm, std := x.At(t.Speed)
			n, unc := load(t, axle, mm, std)
			var d, du *float64
			if k > 0 && sinks[0].err[axle] == nil {
				a, b := difference(t, sinks[0], s, axle)
				d, du = figure(a, 2), figure(b, 2)
			}
			axles = append(axles, object{{"axle", name}, {"sink_mm", figure(mm, 2)}, {"sink_std_unc_mm", figure(std, 2)}, {"load_n", figure(n, 0)}, {"load_std_unc_n", figure(unc, 0)},
				{"squat_mm_per_m_s2", figure(x.Squat, 3)}, {"pieces", x.Pieces}, {"slowest_m_s", figure(x.Slow, 1)}, {"fastest_m_s", figure(x.Fast, 1)},
				{"from_damper_travel", x.FromTravel}, {"less_first_mm", d}, {"less_first_std_unc_mm", du}})
		}
		list = append(list, object{{"setting", s.id()}, {"axles", axles}})
	}
	return object{{"speed_m_s", figure(t.Speed, 2)}, {"settings", list}}
}

package main

import (
	"fmt"
	"math"
	"strings"

	"github.com/spf13/cobra"

	"stanchion/aero"
	"stanchion/model"
	"stanchion/model/coast"
	"stanchion/model/logbook"
	"stanchion/model/units"
	"stanchion/model/words"
)

// coastFlags are what coast takes.
type coastFlags struct {
	loggedFlags
	mass, wind, temperature string
	pressure, factor        float64
	between                 []string
}

func newLoggedCoast() *cobra.Command {
	var f coastFlags
	c := &cobra.Command{
		Use:   "coast CARFILE FILE...",
		Short: "drag area and rolling resistance from coast-downs",
		Long: `coast finds coast-downs (throttle shut and brake off where there are such channels, speed falling
as rolling and drag let it, straight ahead) and fits speed over time itself by the integrated road
load, A + C·v², all runs together: rolling A and wind are common, each setting has its own drag
area, each road its slope. The deceleration is never taken from differences.

Coast in neutral or with the clutch in, from as fast as is safe down to about 60 km/h, both
ways on the same piece of road, three pairs or more: one way alone, wind and slope stay in it.`,
		Example: `  stanchion logged coast car.toml down.csv --setting "1 b2" --note
  stanchion logged coast car.toml low.csv high.csv --setting "1 b2" --setting "4 b2"
  stanchion logged coast car.toml drive.gpx --between 120-150 --between 310-345 --mass 1180kg`,
		Args:              arguments(2, 100),
		ValidArgsFunction: carFiles,
		RunE:              func(cmd *cobra.Command, args []string) error { return f.run(cmd, args) },
	}
	f.add(c, "text", "json")
	f.ofSettings(c, "write the drag area of each setting into the notebook as a note")
	c.Flags().StringVar(&f.mass, "mass", "", "`MASS` as driven, with driver and fuel (default: the car file's)")
	c.Flags().Float64Var(&f.factor, "rotating", coast.UsualFactor, "effective mass over mass, for what rotates, `FACTOR`; 1.03 for wheels and shafts out of gear")
	c.Flags().StringVar(&f.wind, "wind", "", "a wind that was measured, `SPEED,FROM`: FROM in degrees from north, such as 2m/s,240")
	c.Flags().StringVar(&f.temperature, "temperature", "", "air `TEMPERATURE` (default: the car file's air)")
	c.Flags().Float64Var(&f.pressure, "pressure", math.NaN(), "air pressure at the track, `HPA`, not reduced to sea level")
	c.Flags().StringArrayVar(&f.between, "between", nil, "what is a coast-down, in seconds of the recording, `FROM-TO`; may be repeated (default: found)")
	return c
}

// car is what is known of the car beside the runs.
func (f *coastFlags) car(c *model.Car) (coast.Car, error) {
	u := shown(c)
	k := coast.Car{Mass: c.FrontMass + c.RearMass, MassStdUnc: coast.UsualMassStdUnc, Factor: f.factor, FactorStdUnc: coast.UsualFactorStdUnc, SpeedStdUnc: coast.UsualSpeedStdUnc, DensityStdUnc: 0.02,
		Growth: coast.UsualGrowth, GrowthStdUnc: coast.UsualGrowthStdUnc}
	if f.mass != "" {
		m, err := units.Unit{"kg": 1, "lb": units.Pound}.Parse(f.mass, u.MassUnit())
		if err != nil {
			return k, fmt.Errorf("--mass %w", err)
		}
		if m < 200 || m > 5000 {
			return k, fmt.Errorf("--mass %s; it must be %s to %s", f.mass, u.Mass(200), u.Mass(5000))
		}
		k.Mass = m
	}
	if !(f.factor >= 1 && f.factor <= 1.3) {
		return k, fmt.Errorf("--rotating %g; it must be 1 to 1.3", f.factor)
	}
	air := c.Air
	if f.temperature != "" {
		t, err := units.Temperature(f.temperature, u.TemperatureUnit())
		if err != nil {
			return k, fmt.Errorf("--temperature %w", err)
		}
		if t < -50 || t > 60 {
			return k, fmt.Errorf("--temperature %s; it must be -50 to 60 °C, -58 to 140 °F", f.temperature)
		}
		air.Temperature = t + aero.Celsius
	}
	if !math.IsNaN(f.pressure) {
		if f.pressure < 500 || f.pressure > 1100 {
			return k, fmt.Errorf("--pressure %g; it must be 500 to 1100 hPa", f.pressure)
		}
		air.Pressure = f.pressure * 100
	}
	if f.temperature != "" && !math.IsNaN(f.pressure) {
		k.DensityStdUnc = 0.005
	}
	k.Density = air.Density()
	return k, nil
}

// measuredWind reads --wind; the wind's direction is where it comes from.
func (f *coastFlags) measuredWind(u units.System) (w coast.Wind, err error) {
	if f.wind == "" {
		return w, nil
	}
	speed, from, ok := strings.Cut(f.wind, ",")
	v, err := units.Speeds.Parse(speed, u.SpeedUnit())
	if err != nil || !ok {
		return w, fmt.Errorf("--wind %q; give speed and where it comes from, such as 2m/s,240", f.wind)
	}
	x, err := numbersOf("wind", from, 1, 1, "2m/s,240")
	if err != nil {
		return w, err
	}
	if v < 0 || v > 30 {
		return w, fmt.Errorf("--wind %q; it must be up to %s", f.wind, u.Speed(30))
	}
	sin, cos := math.Sincos(x[0] * math.Pi / 180)
	// A meter held up beside the road: 0.5 m/s and a fifth of the wind. Common practice, no source.
	return coast.Wind{East: -v * sin, North: -v * cos, StdUnc: math.Hypot(0.5, v/5)}, nil
}

// ranges reads --between.
func (f *coastFlags) ranges() (all [][2]float64, err error) {
	for _, text := range f.between {
		from, to, ok := strings.Cut(text, "-")
		a, err := numbersOf("between", from, 1, 1, "120-150")
		if err != nil {
			return nil, err
		}
		b, err := numbersOf("between", to, 1, 1, "120-150")
		if err != nil || !ok || b[0] <= a[0] {
			return nil, fmt.Errorf("--between %q; give it such as 120-150, in seconds of the recording", text)
		}
		all = append(all, [2]float64{a[0], b[0]})
	}
	return all, nil
}

// coasted is what coast prints.
type coasted struct {
	coast.Result
	car        coast.Car
	groups     []settingGroup
	found      []coast.Found
	names      []string // of the file of each
	how        coast.How
	given      bool               // the runs were given, not found
	pairs      []words.CoastPairs // of each setting
	recordings []recording
}

func (f *coastFlags) run(cmd *cobra.Command, args []string) error {
	t, err := tableOf(args[0], "")
	if err != nil {
		return err
	}
	var x coasted
	if x.car, err = f.car(t.Car); err != nil {
		return err
	}
	wind, err := f.measuredWind(shown(t.Car))
	if err != nil {
		return err
	}
	ranges, err := f.ranges()
	if err != nil {
		return err
	}
	if len(ranges) > 0 && len(args) > 2 {
		return fmt.Errorf("--between is of one file; give one file at a time")
	}
	if x.recordings, err = f.read(t, args[0], args[1:]); err != nil {
		return err
	}
	x.groups, x.given = grouped(x.recordings), len(ranges) > 0
	for k, r := range x.recordings {
		if !r.log.Has[0] {
			return noAnswer("%s: it has no speeds", units.Printable(r.name))
		}
		found, how := coast.Find(r.log)
		if x.given {
			found = nil
			for _, span := range ranges {
				one, ok := coast.Between(r.log, span[0], span[1])
				if !ok {
					return fmt.Errorf("--between %g-%g: there are no samples of a moving car", span[0], span[1])
				}
				found = append(found, one)
			}
		}
		if k == 0 {
			x.how = how
		}
		x.how = coast.How{Throttle: x.how.Throttle && how.Throttle, Brake: x.how.Brake && how.Brake, Straight: x.how.Straight && how.Straight}
		for i := range found {
			found[i].Setting = groupOf(x.groups, r)
			x.names = append(x.names, r.name)
		}
		x.found = append(x.found, found...)
	}
	if len(x.found) == 0 {
		loggedLeft(out(cmd), x.recordings)
		return noAnswer("no coast-down was found: off the throttle and the brake, straight ahead, for 6 s and 6 m/s or more; give it with --between FROM-TO")
	}
	coast.Strips(x.found)
	var runs []coast.Run
	for _, one := range x.found {
		runs = append(runs, one.Run)
	}
	if x.Result, err = coast.Fit(runs, x.car, wind); err != nil {
		return noAnswer("%v", err)
	}
	for k := range x.groups {
		var own []coast.Run
		for _, r := range runs {
			if r.Setting == k {
				own = append(own, r)
			}
		}
		x.pairs = append(x.pairs, words.PairsOf(x.groups[k].name(t), own))
	}
	if f.format == "json" {
		err = writeJSON(cmd.OutOrStdout(), x.document())
	} else {
		err = x.print(cmd, t)
	}
	switch {
	case err != nil:
		return err
	case !coast.Rolls(x.A, x.car.Mass):
		return noAnswer("") // and nothing is noted
	case !f.note:
		return nil
	}
	for k, g := range x.groups {
		if len(x.Areas) <= k {
			continue
		}
		if err := noteLogged(cmd, args[0], t, g.recordings[0], func(n *logbook.Note) {
			n.Coast = logbook.Coast{DragArea: math.Round(x.Areas[k]*1e4) / 1e4, StdUnc: math.Round(x.AreaUncs[k]*1e4) / 1e4}
		}); err != nil {
			return err
		}
	}
	return nil
}

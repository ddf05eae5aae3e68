package main

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"stanchion/model"
	"stanchion/model/speeds"
)

// options are the flags that most commands share: at which speed, how to print,
// in which units.
type options struct {
	speed   string
	format  string
	formats []string // the first is for people
}

// add puts the flags on a command. speed may be left out of the flags by "".
func (o *options) add(c *cobra.Command, speedHelp string, formats ...string) {
	o.formats = formats
	if speedHelp != "" {
		c.Flags().StringVar(&o.speed, "speed", "", speedHelp)
	}
	c.Flags().StringVar(&o.format, "format", formats[0], strings.Join(formats, ", "))
	_ = c.RegisterFlagCompletionFunc("format", cobra.FixedCompletions(formats, cobra.ShellCompDirectiveNoFileComp))
}

// speedOfFile is the usual help of --speed.
const speedOfFile = "`SPEED` such as 160km/h or 100mph (default: the car file's)"

// check looks at the flags before any work is done.
func (o *options) check() error {
	if !slices.Contains(o.formats, o.format) {
		return fmt.Errorf("--format %q; use one of %s", o.format, strings.Join(o.formats, ", "))
	}
	return nil
}

// table reads a car and works out its settings at the speed wanted.
func (o *options) table(name string) (*model.Table, error) {
	if err := o.check(); err != nil {
		return nil, err
	}
	return tableOf(name, o.speed)
}

// over reads a car, works its settings out at the speeds listed, or at those
// that otherwise gives, and finds the settings that words name.
func (o *options) over(ctx context.Context, name, speedsFlag string, otherwise func(*model.Car) []float64, named []string) (speeds.Sweep, []string, error) {
	if err := o.check(); err != nil {
		return speeds.Sweep{}, nil, err
	}
	car, err := loadCar(name)
	if err != nil {
		return speeds.Sweep{}, nil, err
	}
	vs, err := speedList(car, speedsFlag, otherwise(car))
	if err != nil {
		return speeds.Sweep{}, nil, err
	}
	s, err := speeds.Over(ctx, car, vs)
	if err != nil {
		return s, nil, fmt.Errorf("%s: %w", name, err)
	}
	ids, err := settingIDs(s.Tables[0], named)
	return s, ids, err
}

// around returns parts of the chosen speed, for commands that look around it.
func around(parts ...float64) func(*model.Car) []float64 {
	return func(c *model.Car) []float64 {
		var vs []float64
		for _, p := range parts {
			vs = append(vs, p*c.Speed)
		}
		return vs
	}
}

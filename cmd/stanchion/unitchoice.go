package main

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"sort"

	"github.com/adrg/xdg"
	"github.com/spf13/cobra"

	"stanchion/model"
	"stanchion/model/files"
	"stanchion/model/toml"
	"stanchion/model/units"
)

// unitNames are what can be chosen: a system, or the car file's own units.
var unitNames = []string{"file", "metric", "imperial"}

// unitChoice is which units figures are shown in, and bare numbers are in. A flag comes
// before the environment, that before the person's settings, those before the car file.
type unitChoice struct {
	name     string
	imperial bool
	found    string // after resolve
}

// chosenUnits is the choice of the command that runs; newRoot begins a new one.
var chosenUnits *unitChoice

// add puts the flags on the root, for all commands.
func (c *unitChoice) add(root *cobra.Command) {
	root.PersistentFlags().StringVar(&c.name, "units", "",
		"`UNITS` that figures are shown in and bare numbers are in: file, metric or imperial (default: the car file's)")
	root.PersistentFlags().BoolVar(&c.imperial, "imperial", false, "the same as --units imperial: in, lbf, mph, psi")
	_ = root.RegisterFlagCompletionFunc("units", cobra.FixedCompletions(unitNames, cobra.ShellCompDirectiveNoFileComp))
}

// unitsVariable is the environment variable that names the units.
const unitsVariable = "STANCHION_UNITS"

// resolve finds which units are chosen.
func (c *unitChoice) resolve() error {
	if c.imperial {
		c.name = cmp.Or(c.name, "imperial")
	}
	known := func(name, where string) error {
		if !slices.Contains(unitNames, name) {
			return fmt.Errorf("%s is %q; it must be file, metric or imperial", where, name)
		}
		c.found = name
		return nil
	}
	if c.name != "" {
		return known(c.name, "--units")
	}
	if name := os.Getenv(unitsVariable); name != "" {
		return known(name, unitsVariable)
	}
	path := filepath.Join(xdg.ConfigHome, "stanchion", "config.toml")
	settings, err := readConfig(path)
	if err != nil {
		return err
	}
	if name, ok := settings["units"]; ok {
		return known(fmt.Sprint(name), path+": units")
	}
	return nil
}

// readConfig reads the person's settings; a file that is not there has none.
func readConfig(path string) (map[string]any, error) {
	data, err := files.Read(path, 1<<20)
	if errors.Is(err, fs.ErrNotExist) || errors.Is(err, fs.ErrPermission) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("%s: cannot be read: %w", path, plain(err))
	}
	text, err := toml.Text(data)
	settings := map[string]any{}
	if err == nil {
		err = toml.Decode(text, &settings)
	}
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	var unknown []string
	for key := range settings {
		if key != "units" {
			unknown = append(unknown, key)
		}
	}
	if sort.Strings(unknown); len(unknown) > 0 {
		at := toml.Locate(text).Key[unknown[0]]
		return nil, fmt.Errorf("%s:%d:%d: unknown key %q; known here: units", path, at.Line, at.Col, unknown[0])
	}
	return settings, nil
}

// shown returns the units that a car's figures are shown in, and bare numbers are in.
func shown(car *model.Car) units.System {
	switch {
	case chosenUnits.found == "imperial":
		return units.Imperial
	case chosenUnits.found == "metric" || car == nil:
		return units.Metric
	}
	return car.System()
}

// unitsBeside returns the units that the notes beside a car file are shown in: the car's,
// or the chosen ones where the car file cannot be read.
func unitsBeside(carFile string) units.System {
	car, err := loadCar(carFile)
	if err != nil {
		car = nil
	}
	return shown(car)
}

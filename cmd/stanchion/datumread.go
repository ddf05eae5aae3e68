package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"stanchion/model"
	"stanchion/model/calibrate"
	"stanchion/model/carfile"
	"stanchion/model/units"
	"stanchion/model/words"
)

// addReading takes what was read, says what was understood, and adds it to the car file. A demo car's stays
// here.
func (o *options) addReading(cmd *cobra.Command, t *model.Table, path string, f datumFlags) (*model.Table, error) {
	u := shown(t.Car)
	id := ""
	if f.setting != "" {
		r, err := pickRow(t, strings.Fields(f.setting))
		if err != nil {
			return nil, err
		}
		id = r.ID
	}
	typed, err := calibrate.ReadTyped(f.read, t.Car, id, u)
	if err != nil {
		return nil, fmt.Errorf("--read: %w", err)
	}
	if len(typed.Readings) > 0 && id == "" {
		return nil, errors.New("--read needs --setting, the one that was bolted on: \"stanchion map\" lists them")
	}
	next := *t
	next.Car = typed.On(t.Car)
	if len(typed.Readings) > 0 {
		if _, err := calibrate.FitDatum(&next, typed.Readings); err != nil {
			return nil, fmt.Errorf("--read: %w", err)
		}
	}
	if o.format == "text" {
		p := out(cmd)
		for _, l := range words.TypedLines(t, next.Car, typed, u) {
			p.f("%s\n", l)
		}
		p.f("\n")
		if p.err != nil {
			return nil, p.err
		}
	}
	if _, demo := demoName(path); demo {
		fmt.Fprintln(cmd.ErrOrStderr(), "not kept: a demo car has no file")
		return &next, nil
	}
	err = rewrite(cmd, path, "a reading", func(text []byte) ([]carfile.Edit, error) {
		return carfile.AddReadings(text, typed.Faces, typed.Floors, typed.Readings)
	})
	if err == nil {
		hintUndo(cmd, path, "kept in the car file")
	}
	return &next, err
}

// takeBack takes a reading out of the car file, counted from 1.
func takeBack(cmd *cobra.Command, t *model.Table, path string, n int) error {
	if n < 1 || n > len(t.Car.Readings) {
		return noAnswer("%s: there is no reading %d; it has %s", path, n, units.Count(len(t.Car.Readings), "reading"))
	}
	return rewrite(cmd, path, fmt.Sprintf("taking back reading %d", n), func(text []byte) ([]carfile.Edit, error) {
		return carfile.RemoveReading(text, n-1, t.Car.Readings[n-1])
	})
}

// tape says what a tape must read for one setting or for all.
func (o *options) tape(cmd *cobra.Command, t *model.Table, setting string) error {
	rows := make([]*model.Row, len(t.Rows))
	for i := range t.Rows {
		rows[i] = &t.Rows[i]
	}
	if setting != "" {
		r, err := pickRow(t, strings.Fields(setting))
		if err != nil {
			return err
		}
		rows = []*model.Row{r}
	}
	if o.format == "json" {
		return writeJSON(cmd.OutOrStdout(), tapeJSON(t, rows))
	}
	p := out(cmd)
	for _, l := range words.TapeTable(t, rows, shown(t.Car)) {
		p.f("%s\n", l)
	}
	return p.err
}

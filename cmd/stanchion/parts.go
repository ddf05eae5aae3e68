package main

import (
	"math"

	"github.com/spf13/cobra"

	"stanchion/holes"
	"stanchion/model"
	"stanchion/model/hardware"
	"stanchion/model/words"
)

func newParts() *cobra.Command {
	var o options
	c := &cobra.Command{
		Use:   "parts CARFILE [ID]",
		Short: "the parts list: bolts, nuts and washers, with their lengths",
		Long: `parts lists the bolts, nuts and washers of a setting, or without one of all settings that
break no limit: of each kind the most that any of them takes, for all uprights.
Lengths are from the parts' thicknesses, washers, nut and two threads (ISO 4014
and 4032, ISO 7089; ASME in inches); tightening is on the page of strength.
Bolts into inserts and rivet nuts have the length that their maker gives.`,
		Example: `  stanchion parts car.toml
  stanchion parts car.toml A3+1`,
		Args:              arguments(1, many),
		ValidArgsFunction: carFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := o.check(); err != nil {
				return err
			}
			car, err := loadCar(args[0])
			if err != nil {
				return err
			}
			t, err := car.Map(car.Speed)
			if err != nil {
				return noAnswer("%s: %v", args[0], err)
			}
			return partsOf(cmd, t, args, o)
		},
	}
	o.add(c, "", "text", "json")
	return c
}

// partsOf prints the parts list of the settings in question.
func partsOf(cmd *cobra.Command, t *model.Table, args []string, o options) error {
	var asked []holes.Setting
	what := "all settings that break no limit"
	if len(args) > 1 {
		row, err := pickRow(t, args[1:])
		if err != nil {
			return err
		}
		asked, what = []holes.Setting{*row.Setting}, "setting "+t.Name(row.Setting)
	}
	for i := range t.Rows {
		if len(args) > 1 || t.Rows[i].Breaks() {
			continue
		}
		for _, r := range t.Ways(i) {
			asked = append(asked, *r.Setting)
		}
	}
	if len(asked) == 0 {
		return noAnswer("%s: all %d settings break a limit: %s; name one to see its parts", args[0], len(t.Rows), words.LimitCounts(t))
	}
	uprights := int(t.Car.Mounting.Uprights.Or(2))
	if n := len(t.Car.Mounting.UprightAt); n > 0 {
		uprights = n
	}
	if o.format == "json" {
		return writeJSON(cmd.OutOrStdout(), partsOut(hardware.List(t.Car, asked, uprights), uprights))
	}
	p := out(cmd)
	p.f("%s, %s, %d uprights:\n", t.Car.Name, what, uprights)
	for _, l := range words.PartsList(t.Car, asked, uprights, shown(t.Car)) {
		p.f("%s\n", l)
	}
	p.f("Uprights and brackets themselves: one of each for each upright. Locking nuts are used once.\n")
	return p.err
}

type partsJSON struct {
	Uprights int        `json:"uprights"`
	Items    []itemJSON `json:"items"`
}

// itemJSON is a line of the list; the length is null where it is not known.
type itemJSON struct {
	Count  int      `json:"count"`
	What   string   `json:"what"`
	Size   string   `json:"size"`
	Grade  string   `json:"grade"`
	Length *float64 `json:"length_mm"`
}

func partsOut(items []hardware.Item, uprights int) partsJSON {
	out := partsJSON{Uprights: uprights, Items: []itemJSON{}}
	for _, i := range items {
		mm := i.MM
		if i.What != hardware.Bolts {
			mm = math.NaN()
		}
		out.Items = append(out.Items, itemJSON{i.Count, [...]string{"bolt", "nut", "washer"}[i.What], i.Size, i.Grade, figure(mm, 1)})
	}
	return out
}

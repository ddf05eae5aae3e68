package main

import (
	"fmt"
	"math"
	"strings"

	"github.com/spf13/cobra"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/carfile"
	"stanchion/model/units"
	"stanchion/model/words"
)

func newBuilt() *cobra.Command {
	var part, side string
	var at []string
	var write bool
	var o options
	c := &cobra.Command{
		Use:   "built CARFILE --part P --side left|right --hole \"ID X,Z\"",
		Short: "where holes are on the parts as they were made",
		Long: `built takes where the holes of a part were measured once it is made, on the left or the
right side of the car, in the part's own frame as it is drawn. Every figure then goes by the
mean of both sides; "show" has the twist and the difference in height between them, and a
setting whose bolts do not go in on one side is marked. A side that is not measured counts
as drawn; for a plate drilled as a pair give both.

It says what that changes. --write puts it in the car file, as left and right of each hole;
the places that are drawn stay.`,
		Example:           "  stanchion hole built car.toml --part upright --side left --hole \"A 0.3,419.8\" --hole \"A1 150.2,420.1\" --write",
		Args:              arguments(1, 1),
		ValidArgsFunction: carFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			before, err := o.table(args[0])
			if err != nil {
				return err
			}
			edits, err := builtEdits(before.Car, part, side, at)
			if err != nil {
				return err
			}
			text, err := carText(args[0])
			if err != nil {
				return err
			}
			changed, err := edits(text)
			if err != nil {
				return fmt.Errorf("%s: %w", args[0], err)
			}
			text = carfile.Apply(text, changed)
			if err := builtOut(cmd, before, args[0], text, o.format); err != nil || !write {
				return err
			}
			return rewrite(cmd, args[0], "holes as built", edits)
		},
	}
	c.Flags().StringVar(&part, "part", "", "the `PART` that was measured (default: the one that carries the wing)")
	c.Flags().StringVar(&side, "side", "", "left or right `SIDE` of the car")
	c.Flags().StringArrayVar(&at, "hole", nil, "a hole and where it is, `\"ID X,Z\"`; may be repeated")
	c.Flags().BoolVar(&write, "write", false, "put it in the car file")
	o.add(c, "", "text", "json")
	_ = c.RegisterFlagCompletionFunc("side", cobra.FixedCompletions([]string{"left", "right"}, cobra.ShellCompDirectiveNoFileComp))
	return c
}

// builtEdits reads the flags, and returns the edits that they make of a car file.
func builtEdits(car *model.Car, part, side string, at []string) (func([]byte) ([]carfile.Edit, error), error) {
	p, err := findPart(car, part)
	if err != nil {
		return nil, fmt.Errorf("--part %w", err)
	}
	if side != "left" && side != "right" {
		return nil, fmt.Errorf("--side %q; it is left or right", side)
	}
	if len(at) == 0 {
		return nil, fmt.Errorf("--hole is missing; give each hole that was measured, such as --hole \"A 0.3,419.8\"")
	}
	places := map[string]plane.Point{}
	var order []string
	for _, text := range at {
		id, rest, ok := strings.Cut(strings.TrimSpace(text), " ")
		x, z, both := strings.Cut(rest, ",")
		if !ok || !both {
			return nil, fmt.Errorf("--hole %q; write a hole, a blank, and its place: \"A 0.3,419.8\"", units.Printable(text))
		}
		var q plane.Point
		if q.X, err = units.Lengths.Parse(strings.TrimSpace(x), shown(car).LengthUnit()); err == nil {
			q.Z, err = units.Lengths.Parse(strings.TrimSpace(z), shown(car).LengthUnit())
		}
		if err != nil {
			return nil, fmt.Errorf("--hole %s: %w", units.Printable(id), err)
		}
		if _, twice := places[id]; twice {
			return nil, fmt.Errorf("--hole %s is given twice", units.Printable(id))
		}
		places[id] = q
		order = append(order, id)
	}
	return func(text []byte) (all []carfile.Edit, err error) {
		return carfile.SetBuilt(text, car.Parts[p].Name, side, order, places)
	}, nil
}

// builtOut says what holes as built change.
func builtOut(cmd *cobra.Command, before *model.Table, name string, text []byte, format string) error {
	car, err := parsed(name, text)
	if err != nil {
		return err
	}
	after, err := car.Map(before.Speed)
	if err != nil {
		return err
	}
	if format == "json" {
		return builtJSON(cmd, before, after)
	}
	p, u := out(cmd), shown(car)
	for i := range car.Parts {
		for _, h := range car.Parts[i].Holes {
			if b, ok := car.Parts[i].Built[h.ID]; ok {
				p.f("%s\n", words.BuiltHole(&car.Parts[i], h.ID, b, u))
			}
		}
	}
	worst, twist, out := -1, -1.0, 0
	for i := range after.Rows {
		r := &after.Rows[i]
		s := car.Sides(r.Setting)
		if s.Left.Joint >= 0 || s.Right.Joint >= 0 {
			p.f("%s: %s\n", after.Name(r.Setting), strings.Join(words.Outside(r, u), "; "))
			out++
		}
		if t := math.Abs(s.Twist()); t > twist {
			worst, twist = i, t
		}
	}
	if worst >= 0 {
		p.f("most twisted: %s. %s\n", after.Name(after.Rows[worst].Setting), words.Sides(after, &after.Rows[worst], u))
	}
	lost := 0
	for i := range before.Rows {
		if _, ok := after.Find(before.Rows[i].ID); !ok {
			p.f("%s: its bolts do not go in any more\n", before.Name(before.Rows[i].Setting))
			lost++
		}
	}
	switch {
	case out+lost > 0:
		p.f("%d of %s cannot be bolted on both sides\n", out+lost, units.Count(len(before.Rows), "setting"))
	default:
		p.f("all %s still go together on both sides\n", units.Count(len(after.Rows), "setting"))
	}
	return p.err
}

// parsed reads a car file's text that has been edited, with the files beside it.
func parsed(name string, text []byte) (*model.Car, error) {
	if demo, ok := demoName(name); ok {
		_, all, err := carfile.DemoFiles(demo)
		if err != nil {
			return nil, err
		}
		return carfile.Parse(name, text, func(other string) ([]byte, error) { return all[other], nil })
	}
	return carfile.Edited(name, text)
}

// sidesJSON is how the two sides of a setting stand as built.
type sidesJSON struct {
	Left   sideJSON `json:"left"`
	Right  sideJSON `json:"right"`
	Twist  *float64 `json:"twist_deg"`
	Higher *float64 `json:"left_higher_mm"`
}

type sideJSON struct {
	Angle  *float64 `json:"angle_deg"`
	Height *float64 `json:"height_mm"`
	GoIn   bool     `json:"bolts_go_in"`
}

func sidesOf(t *model.Table, r *model.Row) *sidesJSON {
	if !t.Car.Measured() {
		return nil
	}
	s := t.Car.Sides(r.Setting)
	side := func(x model.Side) sideJSON {
		return sideJSON{figure(x.Angle/plane.Deg, 3), figure(x.Height, 2), x.Joint < 0}
	}
	return &sidesJSON{side(s.Left), side(s.Right), figure(s.Twist()/plane.Deg, 3), figure(s.Higher(), 2)}
}

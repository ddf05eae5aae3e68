package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/figures"
	"stanchion/model/given"
	"stanchion/model/speeds"
	"stanchion/model/strength"
	"stanchion/model/units"
	"stanchion/model/words"
)

func newCompare() *cobra.Command {
	var o options
	var speedsFlag, gurney string
	c := &cobra.Command{
		Use:   "compare CARFILE A B ...",
		Short: "settings side by side, with the differences and how sure those are",
		Long: `compare puts settings side by side at several speeds. Differences are to the first
one, with the band of the difference, in which what both settings share cancels;
it says when there is no clear difference between two. A setting is an id, or enough of its holes
joined by + to tell it from all others.

With --gurney each is also put beside itself with a Gurney flap of that height, or with
0 without the one it has: a way to adjust that needs no hole. How much angle would do as
much is said with it.`,
		Example: `  stanchion compare car.toml 1:k1+A2 1:k1+A3
  stanchion compare car.toml A2+1 A3+1 --speeds 100km/h,200km/h
  stanchion compare car.toml A2+1 --gurney 6mm`,
		Args:              arguments(2, many),
		ValidArgsFunction: carFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			s, ids, err := o.over(cmd.Context(), args[0], speedsFlag, around(0.7, 1, 1.3), args[1:])
			if err != nil {
				return err
			}
			height, err := gurneyFlag(cmd, s.Tables[0].Car, gurney)
			if err != nil {
				return err
			}
			if len(ids) < 2 && !height.Known() {
				return fmt.Errorf("one setting, and nothing to compare it with: name another, or give --gurney")
			}
			if o.format == "json" {
				return compareJSON(cmd, s, ids, height)
			}
			return compareText(cmd, s, ids, height, shown(s.Tables[0].Car))
		},
	}
	c.Flags().StringVar(&speedsFlag, "speeds", "", "`SPEEDS` separated by commas (default: about the car file's)")
	c.Flags().StringVar(&gurney, "gurney", "", "`HEIGHT` of a Gurney flap to put beside each setting; 0 for none")
	o.add(c, "", "text", "json")
	return c
}

// speedList reads speeds separated by commas.
func speedList(car *model.Car, text string, otherwise []float64) ([]float64, error) {
	if text == "" {
		return otherwise, nil
	}
	var vs []float64
	for _, one := range strings.Split(text, ",") {
		v, err := units.Speeds.Parse(one, shown(car).SpeedUnit())
		if err != nil {
			return nil, fmt.Errorf("--speeds %w", err)
		}
		if v <= 0 || v > model.MaxSpeed {
			return nil, fmt.Errorf("--speeds %s; each must be more than 0, up to %s", one, shown(car).Speed(model.MaxSpeed))
		}
		vs = append(vs, v)
	}
	return vs, nil
}

// settingIDs finds the settings that words name, one each.
func settingIDs(t *model.Table, named []string) ([]string, error) {
	var ids []string
	for _, w := range named {
		r, err := pickRow(t, []string{w})
		if err != nil {
			return nil, err
		}
		ids = append(ids, r.ID)
	}
	return ids, nil
}

func compareText(cmd *cobra.Command, s speeds.Sweep, ids []string, gurney given.Number, u units.System) error {
	p := out(cmd)
	first := s.Tables[0]
	for n, id := range ids {
		r, _ := first.Find(id)
		p.f("%c  %s, %s°  %s\n", 'A'+rune(n), u.Length(r.Height), units.Fixed(r.Angle/plane.Deg, 1), first.Name(r.Setting))
	}
	skippedText(p, s, u)
	for k, t := range s.Tables {
		p.f("\nat %s\n", u.Speed(s.Speeds[k]))
		base, _ := t.Find(ids[0])
		budget := t.Budget(base)
		var pieces []string
		for _, f := range figures.Compared(t.Car) {
			std, _ := f.StdUncOf(budget.Contribution)
			pieces = append(pieces, fmt.Sprintf("%s %*s ± %s %s", f.Name, compareWidth(f), f.Spell(f.Of(t, base), u), f.SpellStdUnc(std, u), f.Unit(u)))
		}
		p.pieces("  A         ", append(pieces, fmt.Sprintf("shift %s pp", units.Signed(100*base.Shift, 1)))...)
		for n, id := range ids[1:] {
			r, _ := t.Find(id)
			d := model.DifferenceStdUnc(t.Budget(r), budget)
			pieces = nil
			for _, f := range figures.Compared(t.Car) {
				std, _ := f.StdUncOf(d)
				change, band := f.ChangeWithStdUnc(f.Of(t, r), f.Of(t, base), std, u)
				pieces = append(pieces, fmt.Sprintf("%s %*s ± %s %s", f.Name, compareWidth(f), change, band, f.ChangeUnit(u)))
			}
			p.pieces(fmt.Sprintf("  %c less A  ", 'B'+rune(n)), append(pieces, words.Apart(t, r, base))...)
		}
		if h, ok := gurney.Get(); ok {
			for n, id := range ids {
				r, _ := t.Find(id)
				if err := gurneyText(p, t, r, 'A'+rune(n), h, u); err != nil {
					return err
				}
			}
		}
	}
	measureApart(p, first, ids, u)
	comparedStrengths(cmd, p, first, ids, u)
	return p.err
}

// measureApart says which measurement would tell the settings apart best.
func measureApart(p *printer, t *model.Table, ids []string, u units.System) {
	base, _ := t.Find(ids[0])
	for n, id := range ids[1:] {
		r, _ := t.Find(id)
		if next := words.MeasureNext(t, r, base, figures.Get(figures.Downforce), u, 1); len(next) > 0 {
			p.f("\nto tell %c from A better at %s, measure next: %s\n", 'B'+rune(n), u.Speed(t.Speed), next[0])
		}
	}
}

// comparedStrengths says how each setting holds.
func comparedStrengths(cmd *cobra.Command, p *printer, t *model.Table, ids []string, u units.System) {
	f, why := strength.Single(t.Car)
	p.f("\n")
	for n, id := range ids {
		r, _ := t.Find(id)
		if f != nil {
			_, _ = f.Solve(cmd.Context(), f.Table.RowAt(r.Position)) // words.Strength says what it found, or why not
		}
		p.f("strength of %c %s\n", 'A'+rune(n), words.Strength(f, why, r.Position, t.Car.Speed, u))
	}
	p.f("%s\n", words.Caution)
}

func compareJSON(cmd *cobra.Command, s speeds.Sweep, ids []string, gurney given.Number) error {
	type at struct {
		Speed       *float64      `json:"speed_m_s"`
		Settings    []settingJSON `json:"settings"`
		Differences []object      `json:"differences"`
		Gurney      []object      `json:"gurney,omitempty"`
	}
	var doc struct {
		Speeds []at `json:"speeds"`
	}
	for k, t := range s.Tables {
		one := at{Speed: figure(s.Speeds[k], 4), Differences: []object{}}
		base, _ := t.Find(ids[0])
		for n, id := range ids {
			r, _ := t.Find(id)
			one.Settings = append(one.Settings, setting(t, r))
			if n > 0 {
				d := model.DifferenceStdUnc(t.Budget(r), t.Budget(base))
				diff := object{{"id", id}}
				for _, f := range figures.Compared(t.Car) {
					std, _ := f.StdUncOf(d)
					key, stdKey := f.ChangeKeys()
					diff = append(diff, field{key, number(f.InFile(f.Of(t, r) - f.Of(t, base)))}, field{stdKey, number(f.InFile(std))})
				}
				one.Differences = append(one.Differences, append(diff, field{"verdict", words.Apart(t, r, base)}))
			}
		}
		if h, ok := gurney.Get(); ok {
			for _, id := range ids {
				r, _ := t.Find(id)
				with, err := gurneyJSON(t, r, h)
				if err != nil {
					return err
				}
				one.Gurney = append(one.Gurney, with)
			}
		}
		doc.Speeds = append(doc.Speeds, one)
	}
	return writeJSON(cmd.OutOrStdout(), doc)
}

// compareWidth is how wide a figure's column is.
func compareWidth(f figures.Figure) int {
	switch f.Key {
	case figures.Downforce, figures.OnCar:
		return 6
	case figures.Drag:
		return 4
	}
	return 1
}

package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/choose"
	"stanchion/model/strength"
	"stanchion/model/units"
	"stanchion/model/words"
)

// maxPicked is how many settings pick explains on a screen.
const maxPicked = 5

func newPick() *cobra.Command {
	var o options
	var wanted target
	c := &cobra.Command{
		Use:   "pick CARFILE",
		Short: "which setting to run to meet a target",
		Long: `pick lists the settings that keep all limits and meet what is wanted, the best first.

A setting meets the target when its figures do by their best estimate, or when the
chance that all of them are met at once, from their ±, is 50 % or more; with --chance,
when that chance is reached. What is less likely, but off by less than its ±, is listed
below as just missing it. A figure right on its edge has 50 %, one on a target that is
narrower than the figure is known less. Near the stall, where downforce falls either
way, it is counted among draws of all that is uncertain, and told in steps of 5 %
("about 45 %"). Height, bolts, lid, strength and the limits
of the car file are yes or no by the best estimate; a limit that is kept, but by less
than twice its ±, is named.

The closest to the wanted balance come first: all that are not clearly further off
than the closest (by less than two standard uncertainties of the difference) count as
equally close, then those not clearly further off than the next, and so on. Of those
as close the least work from the setting on the car (--from) comes first, a joint
with fewer bolts than before last of all; then what keeps its limits most clearly;
then the most downforce; then the least drag.

When nothing fits it names the nearest settings and what rules each out. A setting
that is stalled, or lifts the car, is never picked, save with --stalled or --lifting:
then it is marked and comes last. --strength solves plates where formulas do not
settle it, which takes up to a second a setting.

Without --from, --keep-height, --keep-foot and --moves-max go by the setting that the
last note in the notebook is of.

A wanted figure with a tolerance is written 44±0.5, or 44+-0.5.
Exit code 1 means that nothing fits.`,
		Example: `  stanchion pick car.toml --front-share 49±0.5 --downforce-min 400N
  stanchion pick car.toml --shift -2.5±0.3 --drag-max 60N --from A2+1
  stanchion pick car.toml --front-share-at 50±1@120km/h --front-share-at 48±1@180km/h
  stanchion pick car.toml --on-car-min 300N --from "1 A2" --keep-foot --strength 80%`,
		Args:              arguments(1, 1),
		ValidArgsFunction: carFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			t, err := o.table(args[0])
			if err != nil {
				return err
			}
			w, err := wanted.criteria(t)
			if err != nil {
				return err
			}
			noted := false
			if w.NeedsFrom() && w.From == "" {
				if w.From, err = onCarByNotebook(cmd, t, args[0]); err != nil {
					return err
				}
				noted = true
			}
			f, why := strength.Single(t.Car)
			done := working(solvingPlates)
			w.Holds = holding(cmd, t, f, w.MaxUsed.Or(1))
			hits, near := choose.Pick(t, w)
			done()
			if o.format == "json" {
				err = pickJSON(cmd, t, w, noted, hits, near)
			} else {
				err = pickText{t, w, noted, f, why, shown(t.Car)}.print(cmd, hits, near)
			}
			if err == nil && len(hits) == 0 {
				return noAnswer("%s: no setting meets the target", args[0])
			}
			return err
		},
	}
	wanted.add(c)
	o.add(c, speedOfFile, "text", "json")
	return c
}

// target is what is wanted of a setting, as typed, by its flags.
type target struct {
	texts map[string]*string
	many  map[string]*[]string
	yes   map[string]*bool
	from  string
}

// add gives a command the flags of a target.
func (w *target) add(c *cobra.Command) {
	w.texts, w.many, w.yes = map[string]*string{}, map[string]*[]string{}, map[string]*bool{}
	for _, a := range choose.AskedList() {
		switch {
		case a.Yes:
			w.yes[a.Flag] = c.Flags().Bool(a.Flag, false, a.Help)
		case a.Many:
			w.many[a.Flag] = c.Flags().StringArray(a.Flag, nil, a.Help)
		default:
			w.texts[a.Flag] = c.Flags().String(a.Flag, "", a.Help)
		}
	}
	c.Flags().StringVar(&w.from, "from", "", "the setting on the car now, by `ID` or enough of its holes")
}

// criteria reads a target.
func (w *target) criteria(t *model.Table) (choose.Criteria, error) {
	u := shown(t.Car)
	var c choose.Criteria
	for _, a := range choose.AskedList() {
		for _, text := range w.typed(a) {
			if err := a.Read(&c, text, u); err != nil {
				return c, fmt.Errorf("--%s %w", a.Flag, err)
			}
		}
	}
	if least, most, clash := c.Clash(); clash {
		return c, fmt.Errorf("--%s is more than --%s: nothing lies between; change one of them", least, most)
	}
	if w.from != "" {
		r, err := pickRow(t, strings.Fields(w.from))
		if err != nil {
			return c, fmt.Errorf("--from: %w", err)
		}
		c.From = r.ID
	}
	return c, nil
}

// typed returns what was typed for one thing that may be asked.
func (w *target) typed(a choose.Asked) []string {
	switch {
	case a.Yes && *w.yes[a.Flag]:
		return []string{"yes"}
	case a.Yes:
		return nil
	case a.Many:
		return *w.many[a.Flag]
	case *w.texts[a.Flag] == "":
		return nil
	}
	return []string{*w.texts[a.Flag]}
}

// within reads a percentage with a tolerance, 44±0.5, as fractions.
func within(t *choose.Target, otherwise float64) func(string) error {
	return func(text string) (err error) {
		*t, err = choose.ReadTarget(text, otherwise)
		return err
	}
}

// holding tells how settings hold, solving plates where formulas do not settle what is asked, of so many
// settings at most; beyond them those are not checked.
func holding(cmd *cobra.Command, t *model.Table, f *strength.Analysis, most float64) func(*model.Row) choose.Strength {
	left := strength.MostSolved
	return func(r *model.Row) choose.Strength {
		if f == nil {
			return choose.Strength{}
		}
		row := f.Table.RowAt(r.Position)
		res, err := f.Best(row)
		if err == nil && left > 0 && (res.Solvable() || !choose.Settled(res, most)) {
			left--
			res, err = f.Solve(cmd.Context(), row)
		}
		if err != nil {
			return choose.Strength{}
		}
		return choose.StrengthOf(f, res, most, t.Speed)
	}
}

// pickText is what pick prints for people.
type pickText struct {
	t      *model.Table
	wanted choose.Criteria
	noted  bool // the setting on the car is that of the notebook
	f      *strength.Analysis
	why    error // why there is no strength
	u      units.System
}

func (x pickText) print(cmd *cobra.Command, hits []choose.Hit, near []choose.Miss) error {
	t, u := x.t, x.u
	p := out(cmd)
	target, meet := words.Criteria(x.wanted, u), "meet the target"
	if target == "" {
		meet = "keep all limits"
	}
	p.f("%s at %s: %d of %d settings %s\n", t.Car.Name, u.Speed(t.Speed), len(hits), len(t.Rows), meet)
	if target != "" {
		p.f("target: %s\n", target)
	}
	if from, ok := t.Find(x.wanted.From); ok && x.noted {
		p.f("on the car by the notebook: %s\n", t.Name(from.Setting))
	}
	var open []string
	for i, h := range hits[:min(len(hits), maxPicked)] {
		r, _ := t.Find(h.Way)
		p.f("\n%d. %s\n", i+1, x.name(r))
		for _, line := range words.Hit(t, x.wanted, hits, i, u) {
			p.f("   %s\n", line)
		}
		if x.f != nil && !x.f.Slower(t.Speed) {
			_, _ = x.f.Enough(cmd.Context(), x.f.Table.RowAt(r.Position)) // StrengthVerdict says what it found, or why not
		}
		verdict, why := words.StrengthVerdict(x.f, x.why, r.Position, t.Speed, u)
		if p.f("   strength %s\n", verdict); why != "" && !slices.Contains(open, why) {
			open = append(open, why)
		}
		if next := words.Next(t, hits, i, u); next != "" {
			p.f("   %s\n", next)
		}
	}
	if len(hits) > maxPicked {
		p.f("\n(%d more)\n", len(hits)-maxPicked)
	}
	if len(hits) > 0 {
		p.f("\n")
		if narrow := words.Narrow(hits); narrow != "" {
			p.f("%s\n", narrow)
		}
		if x.f != nil {
			p.f("Strength is that at %s; \"stanchion strength\" says what is nearest to its limit.\n", u.Speed(x.f.Table.Speed))
		}
		if len(open) > 0 {
			p.f("Not checked: %s.\n", strings.Join(open, "; "))
		}
		p.f("%s\n", words.Caution)
	}
	x.misses(p, hits, near)
	return p.err
}

// misses prints what just misses the target, or without a hit the nearest.
func (x pickText) misses(p *printer, hits []choose.Hit, near []choose.Miss) {
	title := "nearest"
	if just := slices.IndexFunc(near, func(m choose.Miss) bool { return !m.Near() }); len(hits) > 0 {
		if just < 0 {
			just = len(near)
		}
		near, title = near[:just], "just missing it"
	}
	if len(near) == 0 {
		return
	}
	if text := words.TooNarrow(near, x.wanted); text != "" && len(hits) == 0 {
		p.f("\n%s\n", text)
	}
	p.f("\n%s:\n", title)
	for _, m := range near[:min(len(near), maxPicked)] {
		r := &x.t.Rows[m.Row]
		p.f("  %s\n", x.name(r))
		by := "ruled out by"
		if m.Near() {
			by = "misses it by"
			p.f("    %s\n", words.Chance(m.Chance))
		}
		for _, s := range words.StoppedBy(x.t, m, x.u) {
			p.f("    %s %s\n", by, s)
		}
	}
	if n := len(near) - maxPicked; n > 0 && len(hits) > 0 {
		p.f("  (%d more)\n", n)
	}
}

// name says which setting it is.
func (x pickText) name(r *model.Row) string {
	return fmt.Sprintf("%s, %s°: %s", x.u.Length(r.Height), units.Fixed(r.Angle/plane.Deg, 1), x.t.Name(r.Setting))
}

package main

import (
	"errors"
	"fmt"
	"os"
	"time"

	"github.com/charmbracelet/x/term"
	"github.com/spf13/cobra"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/carfile"
	"stanchion/model/drill"
	"stanchion/model/given"
	"stanchion/model/units"
	"stanchion/model/words"
)

func newSuggest() *cobra.Command {
	var f holeFlags
	var angle, height, downforce, grid string
	var fill, write bool
	var count int
	c := &cobra.Command{
		Use:   "suggest CARFILE --angle A | --downforce F | --fill",
		Short: "where a new hole would do most",
		Long: `suggest works out the best positions for a hole that gives a wanted angle to the
ground (and, if you like, height), a wanted downforce at a speed, or that narrows
the widest steps between neighbouring angles. It takes every existing pair of
holes as the pivot, rounds to the drill's grid, keeps to the part's outline and to
the usual edge distances and spacings, and ranks what each adds. Those
that would work but cannot be drilled are listed with the reason.

--write adds the best to the car file after showing the change; nothing else in
the file is touched. Exit code 1 means that no position would work.`,
		Example: `  stanchion hole suggest car.toml --angle 11 --height 1350
  stanchion hole suggest car.toml --downforce 700N --speed 160km/h
  stanchion hole suggest car.toml --fill --count 2`,
		Args:              arguments(1, 1),
		ValidArgsFunction: carFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			t, part, d, err := f.open(args[0])
			if err != nil {
				return err
			}
			w := drill.Goal{Fill: fill, Count: count, Part: part, Joint: f.joint, D: d,
				Name: func(taken int) string { return drill.FreeHoleName(t.Car.Parts[part], taken) }}
			if err := goalOf(&w, t.Car, angle, height, downforce, grid); err != nil {
				return err
			}
			best, near, err := drill.Suggest(cmd.Context(), t, w, progress())
			if err != nil {
				return fmt.Errorf("%s: %w", args[0], err)
			}
			if f.format == "json" {
				err = suggestJSON(cmd, t, best)
			} else {
				err = suggestText(cmd, t, w, best, near, shown(t.Car))
			}
			switch {
			case err != nil:
				return err
			case len(best) == 0:
				if r, ok := drill.Served(t, w); ok {
					return noAnswer("%s: no new hole is needed: %s does that already", args[0], t.Name(r.Setting))
				}
				return noAnswer("%s: no position in part %s can be drilled that would do it", args[0], t.Car.Parts[part].Name)
			case write:
				return writeHoles(cmd, args[0], t.Car, best[0].Holes)
			}
			return nil
		},
	}
	f.addTo(c)
	c.Flags().StringVar(&angle, "angle", "", "wanted `ANGLE` to the ground, such as 11 or 11deg")
	c.Flags().StringVar(&height, "height", "", "wanted `HEIGHT` of the quarter-chord point, such as 1350mm")
	c.Flags().StringVar(&downforce, "downforce", "", "wanted `FORCE` such as 700N, at --speed")
	c.Flags().BoolVar(&fill, "fill", false, "narrow the widest steps")
	c.Flags().IntVar(&count, "count", 1, "how many holes together: 1 or 2")
	c.Flags().StringVar(&grid, "grid", "0.5mm", "the drill's grid, `LENGTH`")
	c.Flags().BoolVar(&write, "write", false, "add the best to the car file")
	return c
}

func goalOf(w *drill.Goal, car *model.Car, angle, height, downforce, grid string) error {
	var step given.Number
	targets := 0
	for _, x := range []struct {
		text, flag, bare string
		unit             units.Unit
		to               *given.Number
		target           bool
	}{
		{angle, "angle", "deg", units.Angles, &w.Angle, true},
		{downforce, "downforce", shown(car).ForceUnit(), units.Forces, &w.Downforce, true},
		{height, "height", shown(car).LengthUnit(), units.Lengths, &w.Height, false},
		{grid, "grid", shown(car).LengthUnit(), units.Lengths, &step, false},
	} {
		if x.text == "" {
			continue
		}
		v, err := x.unit.Parse(x.text, x.bare)
		if err != nil {
			return fmt.Errorf("--%s %w", x.flag, err)
		}
		*x.to = given.Is(v)
		if x.target {
			targets++
		}
	}
	w.Grid = step.Or(0)
	if w.Fill {
		targets++
	}
	switch {
	case targets != 1:
		return errors.New("give one of --angle, --downforce and --fill")
	case w.Fill && w.Height.Known():
		return errors.New("--height goes with --angle or --downforce")
	case w.Count != 1 && w.Count != 2:
		return fmt.Errorf("--count %d; it must be 1 or 2", w.Count)
	case w.Grid < 0.01 || w.Grid > 50:
		return fmt.Errorf("--grid %s; it must be %s to %s", grid, shown(car).Fine(0.01), shown(car).Dimension(50))
	}
	return nil
}

// progress prints how far the search is, when standard error is a terminal and
// it takes longer than half a second.
func progress() func(float64) {
	if !term.IsTerminal(os.Stderr.Fd()) {
		return nil
	}
	start, last := time.Now(), time.Time{}
	return func(part float64) {
		if now := time.Now(); now.Sub(start) > 500*time.Millisecond && now.Sub(last) > 200*time.Millisecond {
			last = now
			fmt.Fprintf(os.Stderr, "\rtrying places: %3.0f %% ", 100*part)
		}
	}
}

func suggestText(cmd *cobra.Command, t *model.Table, w drill.Goal, best, near []drill.Suggestion, u units.System) error {
	p := out(cmd)
	for i, s := range best {
		p.f("%d.", i+1)
		holesText(p, t, s, u)
		p.f("   %s\n   %s\n", words.Suggestion(&s, w.Fill, u), words.Trial(&s.Trial, u))
		shown := 0
		for _, k := range s.Useful {
			if r := &s.Table.Rows[k]; shown < 6 {
				p.f("     %s  %s°  %s  %s\n", u.Length(r.Height), units.Fixed(r.Angle/plane.Deg, 1), u.Force(r.Downforce), r.ID)
				shown++
			}
		}
		for _, r := range s.Rules {
			if !r.OK {
				p.f("   %s: %s: %s, %s is usual\n", r.Hole, words.Rule(r), u.Dimension(r.Have), u.Dimension(r.Need))
			}
		}
	}
	if w.Count > 1 && len(best) > 0 && len(best[0].Holes) == 1 {
		p.f("No two of these can be drilled together, so each is a hole of its own.\n")
	}
	for i, s := range near {
		if i == 0 {
			p.f("\nIn the right position, but cannot be drilled:\n")
		}
		p.f("  ")
		holesText(p, t, s, u)
		p.f("   %s\n", words.Suggestion(&s, w.Fill, u))
	}
	if len(best) > 0 && t.Car.Parts[w.Part].Outline == nil {
		p.f("\nPart %s has no outline in the car file: whether a hole lies in its metal is not known.\n", t.Car.Parts[w.Part].Name)
	}
	if len(best) > 0 {
		p.f("\nEdge distances and spacings keep the minima of EN 1993-1-8 Table 3.3 and EN 1999-1-1;\nthat does not say that the part holds. Drill the template first.\n")
	}
	return p.err
}

func holesText(p *printer, t *model.Table, s drill.Suggestion, u units.System) {
	for k, h := range s.Holes {
		if k > 0 {
			p.f(" and")
		}
		p.f(" %s in part %s at x %s, z %s, %s wide", h.ID, t.Car.Parts[h.Part].Name, u.Dimension(h.X), u.Dimension(h.Z), u.Dimension(h.D))
	}
	p.f("\n")
}

func suggestJSON(cmd *cobra.Command, t *model.Table, best []drill.Suggestion) error {
	type hole struct {
		Part string   `json:"part"`
		X    *float64 `json:"x_mm"`
		Z    *float64 `json:"z_mm"`
		D    *float64 `json:"d_mm"`
	}
	type suggestion struct {
		Holes   []hole        `json:"holes"`
		Added   []settingJSON `json:"added"`
		Verdict string        `json:"verdict"`
		Rules   []ruleJSON    `json:"rules"`
	}
	doc := struct {
		Suggestions []suggestion `json:"suggestions"`
	}{[]suggestion{}}
	for _, s := range best {
		one := suggestion{Added: addedJSON(s.Trial), Verdict: words.Trial(&s.Trial, units.Metric), Rules: rulesOf(s.Rules)}
		for _, h := range s.Holes {
			one.Holes = append(one.Holes, hole{t.Car.Parts[h.Part].Name, figure(h.X, 3), figure(h.Z, 3), figure(h.D, 3)})
		}
		doc.Suggestions = append(doc.Suggestions, one)
	}
	return writeJSON(cmd.OutOrStdout(), doc)
}

// writeHoles adds holes to the car file and shows the change.
func writeHoles(cmd *cobra.Command, name string, car *model.Car, hs []drill.NewHole) error {
	return rewrite(cmd, name, "the holes suggested", func(text []byte) ([]carfile.Edit, error) {
		var list []holes.Hole
		for _, h := range hs {
			list = append(list, h.Hole)
		}
		e, err := carfile.AddHoles(text, car.Parts[hs[0].Part].Name, list)
		return []carfile.Edit{e}, err
	})
}

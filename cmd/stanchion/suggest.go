package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/signal"

	"github.com/spf13/cobra"

	"stanchion/holes"
	"stanchion/model"
	"stanchion/model/carfile"
	"stanchion/model/drill"
	"stanchion/model/words"
)

func newSuggest() *cobra.Command {
	f := suggestFlags{}
	c := &cobra.Command{
		Use:   "suggest CARFILE --angle A | --downforce F | --fill | --between A --between B | --max-step A | --all-bolts",
		Short: "where a new hole would do most",
		Long: `suggest works out the best positions for new holes. What they are to do is one of:

  --angle, --downforce   a setting with that angle to the ground or downforce, at
                         --height if you like
  --fill                 narrow the widest steps between neighbouring angles
  --between A --between B
                         a setting between two, by --by, that differs clearly from
                         both
  --max-step A           no step between neighbouring angles wider than that, at
                         every height or at --height, with the fewest holes
  --all-bolts            every bolt that the joints can take, for --setting or for
                         any setting at --height, also where too few go in now

It looks at every place of the drill's grid on which bolts go in, keeps to the
part's outline and to the least edge distances and spacings, and works the best
out in full. --count 2 searches holes in pairs. What was searched, and how far from
the best the answer may be, stands at the end. Those that would work but cannot be
drilled are listed with the reason.

--write adds the best to the car file after showing the change; nothing else in
the file is touched. Exit code 1 means that no position would work.`,
		Example: `  stanchion hole suggest car.toml --angle 11 --height 1350
  stanchion hole suggest car.toml --downforce 700N --speed 160km/h
  stanchion hole suggest car.toml --fill --count 2
  stanchion hole suggest car.toml --between "row 4, B1" --between "row 4, B2"
  stanchion hole suggest car.toml --max-step 2.5deg --height 1350 --count 3
  stanchion hole suggest car.toml --all-bolts --height 1320`,
		Args:              arguments(1, 1),
		ValidArgsFunction: carFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			ctx, stop := signal.NotifyContext(cmd.Context(), os.Interrupt)
			defer stop()
			var err error
			if f.allBolts {
				err = f.suggestBolts(ctx, cmd, args[0])
			} else {
				err = f.suggest(ctx, cmd, args[0])
			}
			if errors.Is(err, context.Canceled) {
				return noAnswer("%s: stopped", args[0])
			}
			return err
		},
	}
	f.addTo(c)
	f.goalTo(c)
	return c
}

// suggest answers all questions but that for bolts.
func (f *suggestFlags) suggest(ctx context.Context, cmd *cobra.Command, name string) error {
	t, part, d, err := f.open(name)
	if err != nil {
		return err
	}
	w := drill.Goal{Fill: f.fill, Count: f.count, Part: part, Joint: f.joint, D: d,
		Name: func(taken int) string { return drill.FreeHoleName(t.Car.Parts[part], taken) }}
	if err := f.goal(&w, t); err != nil {
		return err
	}
	show, done := progress("trying places")
	e := drill.NewExisting(t)
	found, err := drill.Suggest(ctx, e, w, show)
	done()
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	if f.format == "json" {
		err = suggestJSON(cmd, e, w, &found)
	} else {
		err = suggestText(cmd, e, w, &found, shown(t.Car))
	}
	switch {
	case err != nil:
		return err
	case len(found.Best) == 0:
		if r, ok := drill.Served(e, w); ok {
			return noAnswer("%s: no new hole is needed: %s does that already", name, t.Name(r.Setting))
		}
		return noAnswer("%s: %s", name, words.NothingFound(&found, e, w, shown(t.Car)))
	case found.Best[0].Lacking > 0:
		more := "no further hole that can be drilled spares another"
		if len(found.Best[0].Holes) == w.Count {
			more = "--count allows more holes"
		}
		return noAnswer("%s: %s; %s", name, words.Fewest(&found.Best[0], w), more)
	case f.write:
		return writeHoles(cmd, name, t.Car, found.Best[0].Holes)
	}
	return nil
}

// suggestBolts answers which holes give a setting every bolt.
func (f *suggestFlags) suggestBolts(ctx context.Context, cmd *cobra.Command, name string) error {
	if f.part != "" || f.joint != "" {
		return errors.New("--all-bolts drills the part below each joint that lacks bolts; leave --part and --joint out")
	}
	t, err := f.table(name)
	if err != nil {
		return err
	}
	w, err := f.bolts(t)
	if err != nil {
		return err
	}
	e := drill.NewExisting(t)
	found, err := drill.SuggestBolts(ctx, e, w)
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	if f.format == "json" {
		err = boltsJSON(cmd, e, &found)
	} else {
		err = boltsText(cmd, e, &found, shown(t.Car))
	}
	switch {
	case err != nil:
		return err
	case len(found.Best) > 0 && f.write:
		return writeHoles(cmd, name, t.Car, found.Best[0].Holes)
	case len(found.Best) > 0:
		return nil
	case found.Looked == 0:
		return noAnswer("%s: no bolts go in at that height", name)
	case found.Looked == found.Full:
		return noAnswer("%s: no new hole is needed: every bolt goes in already", name)
	case len(found.Near) > 0:
		return noAnswer("%s: the holes for its bolts cannot be drilled", name)
	}
	return noAnswer("%s: it takes more holes than --count %d", name, f.count)
}

// writeHoles adds holes to the car file and shows the change.
func writeHoles(cmd *cobra.Command, name string, car *model.Car, hs []drill.NewHole) error {
	return rewrite(cmd, name, "the holes suggested", func(text []byte) ([]carfile.Edit, error) {
		var edits []carfile.Edit
		for p := range car.Parts {
			var list []holes.Hole
			for _, h := range hs {
				if h.Part == p {
					list = append(list, h.Hole)
				}
			}
			if list == nil {
				continue
			}
			e, err := carfile.AddHoles(text, car.Parts[p].Name, list)
			if err != nil {
				return nil, err
			}
			edits = append(edits, e)
		}
		return edits, nil
	})
}

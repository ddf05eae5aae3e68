package main

import (
	"errors"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"stanchion/model"
	"stanchion/model/advise"
	"stanchion/model/choose"
	"stanchion/model/inspect"
	"stanchion/model/words"
)

func newNoteNext() *cobra.Command {
	var o options
	var w choose.Wish
	c := &cobra.Command{
		Use:   "next CARFILE",
		Short: "which setting to try next, after the last notes",
		Long: `next takes the last note that says how a setting felt, with the notes that are
comparable with it, and names a setting to try: a step whose change of front share is
clear, that keeps all limits and neither lifts nor stalls. Slight means the smallest
clear step, of 0.3 pp or more, clear and strong two and three times that; with another
setting noted, the size comes from both. A step changes the downforce by no more than a
third, other than between two settings that were noted. Of the steps between half and
twice the wanted size it takes the one with no fewer bolts and the least work, then one
that keeps its limits clearly, then the nearest to the wanted size; where there is none
of that size, the nearest beyond. Its strength stands beside it.

It says so where it is not the wing: where slow corners are off as much, where only
entry or exit is, where the car is unstable or both ends want grip. Where no setting
lies between two that were too much either way it looks for a hole that gives one.
Notes with other tyres, pressures (0.15 bar apart), wet and dry track, place, driver or
fuel (15 kg apart) are named and left out, and those whose setting was elsewhere then
or is gone; what a note does not say is taken as alike.

Exit code 1 means that no setting is proposed.`,
		Example: `  stanchion note next car.toml
  stanchion note next car.toml --height`,
		Args:              arguments(1, 1),
		ValidArgsFunction: carFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			t, b, err := tableAndBook(cmd, &o, args[0])
			if err != nil {
				return err
			}
			show, done := progress("looking for a hole")
			a, err := advise.Next(cmd.Context(), t, b.Notes, w, advise.UsualDrill(t.Car, show))
			done()
			if errors.Is(err, choose.ErrNoFeel) {
				return noAnswer("%s: %v: \"stanchion note add\" with --fast u1 (slight understeer) to o3 notes it, or m in the explorer", args[0], err)
			}
			if err != nil {
				return noAnswer("%s: %v", args[0], err)
			}
			if o.format == "json" {
				err = nextJSON(cmd, t, &a)
			} else {
				out(cmd).hang(out(cmd).cells(), words.ChecksStop(inspect.Of(t.Car, b, time.Now()))...)
				err = nextText(cmd, t, &a)
			}
			if err == nil && !a.Proposes() {
				return noAnswer("")
			}
			return err
		},
	}
	o.add(c, speedOfFile, "text", "json")
	c.Flags().BoolVar(&w.Height, "height", false, "rather by a change of height than of angle")
	return c
}

func nextText(cmd *cobra.Command, t *model.Table, a *advise.Advice) error {
	p, u := out(cmd), shown(t.Car)
	w := p.cells()
	for _, line := range words.NextLines(t, a, u) {
		switch {
		case line == "":
			p.f("\n")
		case strings.HasPrefix(line, "Strength "): // long, and what has to be read
			p.hang(min(w, words.LineWidth), line)
		default:
			p.hang(w, line)
		}
	}
	return p.err
}

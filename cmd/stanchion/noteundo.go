package main

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"stanchion/model/logbook"
	"stanchion/model/words"
	"stanchion/tui/widgets"
)

func newNoteUndo() *cobra.Command {
	var o options
	c := &cobra.Command{
		Use:   "undo CARFILE",
		Short: "take the last note back",
		Long: `undo takes back the note that was written last, by a note that says so: nothing is deleted,
and "note show" still shows it. Of a correction the note that it corrects is in force again.
Undone again it goes one note further back.`,
		Example:           "  stanchion note undo car.toml",
		Args:              arguments(1, 1),
		ValidArgsFunction: carFiles,
		RunE: onNotebook(&o, func(cmd *cobra.Command, args []string, path string) error {
			u, err := logbook.Undo(path, time.Now())
			if errors.Is(err, logbook.ErrNothingToUndo) {
				return noAnswer("%s: %v", args[0], err)
			}
			if u.SetAside != "" {
				fmt.Fprintf(cmd.ErrOrStderr(), "a note that was cut short is set aside in %s\n", u.SetAside)
			}
			if err != nil {
				return fmt.Errorf("%s: %w", path, plain(err))
			}
			if o.format == "json" {
				var back *string
				if u.Back != nil {
					back = &u.Back.ID
				}
				err = writeJSON(cmd.OutOrStdout(), object{{"undone", u.Note.ID}, {"in_force_again", back}, {"written", u.Written.ID}})
			} else {
				p := out(cmd)
				p.f("%s\n", words.TakenBack(&u))
				called, units := settingNames(args[0]), unitsBeside(args[0])
				p.f("  %s\n", strings.Join(widgets.Flow(u.Note.Parts(called(u.Note.Setting), units), listWidth), "\n    "))
				err = p.err
			}
			if err != nil { // so that nobody undoes it twice
				return fmt.Errorf("note %s is taken back; only this could not be printed: %w", u.Note.ID, err)
			}
			return nil
		}),
	}
	o.add(c, "", "text", "json")
	return c
}

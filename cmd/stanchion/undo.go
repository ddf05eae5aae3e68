package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"stanchion/model/carfile"
	"stanchion/model/files"
)

func newUndo() *cobra.Command {
	return stepCommand("undo", "take back the last change that stanchion made to a car file", `undo puts a car file back to what it was before the last change that stanchion wrote to it,
on whatever day that was. A file that has been edited since is left as it is. Dated
copies of every version are beside the file, in CARFILE.backups; none is ever deleted.`, "undone", files.History.Undo)
}

func newRedo() *cobra.Command {
	return stepCommand("redo", "make the change again that was undone last", `redo makes the change to a car file again that "stanchion undo" took back last.`, "redone",
		files.History.Redo)
}

func stepCommand(use, short, long, done string, step func(files.History) (string, error)) *cobra.Command {
	return &cobra.Command{
		Use: use + " CARFILE", Short: short, Long: long,
		Example:           "  stanchion " + use + " car.toml",
		Args:              arguments(1, 1),
		ValidArgsFunction: carFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			if _, demo := demoName(args[0]); demo {
				return errors.New("a demo car is never changed: there is nothing to " + use)
			}
			if _, err := files.Read(args[0], carfile.MaxSize); err != nil {
				return fmt.Errorf("%s: cannot be read: %w", args[0], plain(err))
			}
			what, err := step(history(args[0]))
			if errors.Is(err, files.ErrNoChange) {
				return noAnswer("%s: nothing to %s", args[0], use)
			}
			if err != nil {
				return fmt.Errorf("not %s: %w", done, err)
			}
			p := out(cmd)
			p.f("%s: %s\n", done, what)
			return p.err
		},
	}
}

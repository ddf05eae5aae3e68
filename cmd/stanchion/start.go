package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"github.com/adrg/xdg"
	"github.com/charmbracelet/x/term"
	"github.com/spf13/cobra"

	"stanchion/model/files"
	"stanchion/tui"
)

func newStart() *cobra.Command {
	var plain bool
	c := &cobra.Command{
		Use:   "start",
		Short: "make a car file of your own, one question after the other",
		Long: `start asks for the few measurements that matter, in the order in which they are
taken at the car, each with a picture of what it is and how to take it, writes a
commented car file, and opens it. N does the same in the explorer. It never writes
over a file. "stanchion new FILE" writes one to fill in by hand instead.`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 0 {
				return fmt.Errorf("stanchion start: %q is one word too many; the file's name is asked for at the end", args[0])
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, _ []string) error {
			guide := tui.Guided(tui.Source{Guide: guided, GuideDraft: guideDraft()}, shown(nil))
			if plain {
				return tui.Plain(guide, cmd.InOrStdin(), cmd.OutOrStdout())
			}
			if !term.IsTerminal(os.Stdout.Fd()) || !term.IsTerminal(os.Stdin.Fd()) {
				return errors.New("the guided start needs a terminal: use --plain, or \"stanchion new FILE\"")
			}
			glyphs, err := glyphsFor("")
			if err != nil {
				return err
			}
			return show(guide.With(glyphs))
		},
	}
	c.Flags().BoolVar(&plain, "plain", false, "line by line in words, for a screen reader")
	return c
}

// guideDraft is where the answers of the guided start are kept until a file is made.
// It is the person's own, wherever the program is started. Source: XDG Base Directory
// Specification, $XDG_STATE_HOME.
func guideDraft() *files.Draft {
	return files.NewDraft(filepath.Join(xdg.StateHome, "stanchion", "start.draft"))
}

// guided writes the file of a guided start, and says where to read it from.
func guided(name string, text []byte) (tui.Source, error) {
	if filepath.Ext(name) == "" {
		name += ".toml"
	}
	if err := writeNew(map[string][]byte{name: text}); err != nil {
		return tui.Source{}, err
	}
	return source(name), nil
}

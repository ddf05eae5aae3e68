package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"github.com/adrg/xdg"
	"github.com/charmbracelet/x/term"
	"github.com/spf13/cobra"

	"stanchion/model/cad"
	"stanchion/model/files"
	"stanchion/model/units"
	"stanchion/tui"
)

func newStart() *cobra.Command {
	var plain bool
	c := &cobra.Command{
		Use:   "start [FILE]",
		Short: "make a car file of your own, one question after the other",
		Long: `start asks first whether the plates that hold the wing exist or are going to be
made. Of plates that exist you measure the holes: in rows and columns, each from
two edges, on an arc, as slots or by distances between holes alone; or a DXF, SVG
or CSV is read. Each question has a picture to scale and says how to measure.
Nothing is put in that was not answered: ? leaves a value open, and it is then
marked as assumed in the file and on the screens. A commented car file is written,
and opened. N does the same in the explorer. It never writes over a file.
"stanchion new FILE" writes one to fill in by hand instead. FILE is offered as its
name at the end.`,
		Example: `  stanchion start
  stanchion start mycar.toml --plain`,
		Args: arguments(0, 1),
		RunE: func(cmd *cobra.Command, args []string) error {
			src := tui.Source{Guide: guided, Open: openDrawing, GuideDraft: guideDraft()}
			if len(args) > 0 {
				src.GuideFile = tomlName(args[0])
				if _, err := os.Lstat(src.GuideFile); err == nil {
					return fmt.Errorf("%s: exists already; choose another name", units.Printable(src.GuideFile))
				}
			}
			guide := tui.Guided(src, shown(nil))
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

// openDrawing reads a drawing of a plate, beside where the program was started.
func openDrawing(name string) ([]byte, error) {
	data, err := files.Read(name, cad.MaxSize)
	if err != nil {
		return nil, fmt.Errorf("%s: cannot be read: %w", name, plain(err))
	}
	return data, nil
}

// guided writes the file of a guided start, and says where to read it from.
func guided(name string, text []byte) (tui.Source, error) {
	name = tomlName(name)
	if err := writeCarFile(name, text); err != nil {
		return tui.Source{}, err
	}
	return source(name), nil
}

// tomlName is a file's name with its ending.
func tomlName(name string) string {
	if filepath.Ext(name) == "" {
		return name + ".toml"
	}
	return name
}

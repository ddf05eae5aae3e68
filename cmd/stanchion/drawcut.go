package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"stanchion/holes"
	"stanchion/model"
	"stanchion/model/drawing"
	"stanchion/model/units"
)

// cutFlags are what a file to cut from takes.
type cutFlags struct {
	only, engrave bool
	release       string
}

func (f *cutFlags) add(c *cobra.Command) {
	c.Flags().BoolVar(&f.only, "cut", false, "the edges to cut alone, each once and closed, as .dxf or .svg")
	c.Flags().BoolVar(&f.engrave, "engrave", false, "with --cut or --pack: the names of part and holes as single lines on a layer of their own")
	c.Flags().StringVar(&f.release, "dxf-version", "r12", "which DXF is written: r12 or r2000")
	_ = c.RegisterFlagCompletionFunc("dxf-version", cobra.FixedCompletions([]string{"r12", "r2000"}, cobra.ShellCompDirectiveNoFileComp))
}

// dxf reads --dxf-version.
func (f *cutFlags) dxf() (drawing.Release, error) {
	r, ok := drawing.ReleaseNamed(f.release)
	if !ok {
		return 0, fmt.Errorf("--dxf-version %q; use r12 or r2000", f.release)
	}
	return r, nil
}

// cutFile returns a part's edges as a file to cut from, and says what it is.
func (f *cutFlags) file(kind string, p model.Part, fresh []holes.Hole, u units.System) (data []byte, what string, err error) {
	release, err := f.dxf()
	if err != nil {
		return nil, "", err
	}
	c, err := drawing.CutOnly(p, fresh, f.engrave)
	if err != nil {
		return nil, "", cannotCut(p.Name, err)
	}
	data = c.SVG()
	is := "SVG"
	if kind == "dxf" {
		data, is = c.DXF(release), "DXF "+release.String()
	}
	what = fmt.Sprintf("%s, %s and %s within it, %s in mm, on layers %s", p.Name, "1 outline",
		units.Count(len(c.Inner)+len(c.Round), "edge"), is, strings.Join(c.Layers(), ", "))
	if len(c.Left) > 0 {
		what += "\nnot engraved, for want of room or of a letter: " + units.Printable(strings.Join(c.Left, ", "))
	}
	return data, what + warned(p, fresh, u), nil
}

// warned are the warnings of a part's holes, a line each.
func warned(p model.Part, fresh []holes.Hole, u units.System) string {
	text := ""
	for _, l := range drawing.Warnings(p.AsDrawn(), fresh, u) {
		text += "\nWARNING: " + units.Printable(l)
	}
	return text
}

func cannotCut(part string, err error) error {
	if !errors.Is(err, drawing.ErrNoOutline) {
		return fmt.Errorf("part %q %w", part, err)
	}
	return fmt.Errorf("part %q %w; give it one, or take it from a drawing with \"stanchion import\"", part, err)
}

package main

import (
	"github.com/spf13/cobra"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/choose"
	"stanchion/model/logbook"
	"stanchion/model/units"
	"stanchion/model/words"
)

// tableAndBook opens a car file's settings and its notebook.
func tableAndBook(cmd *cobra.Command, o *options, name string) (*model.Table, logbook.Book, error) {
	t, err := o.table(name)
	if err != nil {
		return nil, logbook.Book{}, err
	}
	b, err := book(cmd, name)
	return t, b, err
}

func newNoteNext() *cobra.Command {
	var o options
	c := &cobra.Command{
		Use:   "next CARFILE",
		Short: "which setting to try next, after the last notes",
		Long: `next takes the last note that says how a setting felt in fast corners and names the
smallest change of balance in the wanted direction that is larger than the figures
are uncertain by, within the limits; or says that the wing cannot do it.

Exit code 1 means that no setting is proposed.`,
		Args:              arguments(1, 1),
		ValidArgsFunction: carFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			t, b, err := tableAndBook(cmd, &o, args[0])
			if err != nil {
				return err
			}
			a, err := choose.Next(t, b.Notes)
			if err != nil {
				return noAnswer("%s: %v", args[0], err)
			}
			if o.format == "json" {
				doc := struct {
					Setting  *settingJSON `json:"setting"`
					Why      string       `json:"why"`
					Cautions string       `json:"cautions"`
				}{nil, words.Advice(a), words.AdviceCautions}
				if a.Proposes() {
					s := setting(t, a.To)
					doc.Setting = &s
				}
				err = writeJSON(cmd.OutOrStdout(), doc)
			} else {
				p, u := out(cmd), shown(t.Car)
				if r := a.To; a.Proposes() {
					p.f("try %s, %s°: %s\n", u.Length(r.Height), units.Fixed(r.Angle/plane.Deg, 1), t.Name(r.Setting))
					p.f("%s %s of downforce at %s\n\n", units.Signed((r.Downforce-a.From.Downforce)/u.ForceSize(), 0), u.ForceUnit(), u.Speed(t.Speed))
				}
				p.f("%s\n%s\n", words.Advice(a), words.AdviceCautions)
				err = p.err
			}
			if err == nil && !a.Proposes() {
				return noAnswer("")
			}
			return err
		},
	}
	o.add(c, speedOfFile, "text", "json")
	return c
}

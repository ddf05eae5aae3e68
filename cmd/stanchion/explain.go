package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"stanchion/model"
	"stanchion/model/choose"
	"stanchion/model/figures"
	"stanchion/model/words"
)

func newExplain() *cobra.Command {
	var o options
	c := &cobra.Command{
		Use:   "explain FIGURE CARFILE [ID]",
		Short: "how a figure is worked out: equation, numbers, inputs and their origin",
		Long: `explain prints the equation of a figure with the numbers of a setting put in, what each
input is and where it comes from (given, measured, from a table, assumed), what makes
the figure uncertain, the source, and where in the program it is worked out.

FIGURE is one of: ` + figureNames() + `.
Without ID it is the setting within the limits with the most downforce.
Equations are in SI units, mm and degrees, whatever units the rest is shown in.`,
		Example: `  stanchion explain downforce car.toml
  stanchion explain front-share car.toml A2+1`,
		Args:              arguments(2, many),
		ValidArgsFunction: explainArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			f, ok := figures.Find(strings.ReplaceAll(args[0], "-", " "))
			if !ok {
				if f, ok = figures.Find(args[0]); !ok {
					return fmt.Errorf("figure %q; use one of %s", args[0], figureNames())
				}
			}
			t, err := o.table(args[1])
			if err != nil {
				return err
			}
			if len(t.Rows) == 0 {
				return nothing(args[1], t, false)
			}
			r := &t.Rows[choose.Start(t)]
			if len(args) > 2 {
				if r, err = pickRow(t, args[2:]); err != nil {
					return err
				}
			}
			if o.format == "json" {
				return explainJSON(cmd, t, r, f)
			}
			p := out(cmd)
			u := shown(t.Car)
			p.f("%s, setting %s at %s\n", t.Car.Name, t.Name(r.Setting), u.Speed(t.Speed))
			for _, l := range words.WhyLines(t, r, nil, f, u) {
				p.f("%s\n", l)
			}
			p.f("  worked out in %s\n", f.In)
			return p.err
		},
	}
	o.add(c, speedOfFile, "text", "json")
	return c
}

// figureNames lists the figures as explain takes them.
func figureNames() string {
	var names []string
	for _, f := range figures.List {
		names = append(names, strings.ReplaceAll(f.Name, " ", "-"))
	}
	return strings.Join(names, ", ")
}

func explainArgs(cmd *cobra.Command, args []string, toComplete string) ([]string, cobra.ShellCompDirective) {
	if len(args) == 0 {
		return strings.Split(figureNames(), ", "), cobra.ShellCompDirectiveNoFileComp
	}
	return carFiles(cmd, args[1:], toComplete)
}

func explainJSON(cmd *cobra.Command, t *model.Table, r *model.Row, f figures.Figure) error {
	type equation struct {
		Name     string `json:"name"`
		Symbolic string `json:"equation"`
		Numeric  string `json:"with_numbers"`
		Result   string `json:"result"`
	}
	type input struct {
		Name    string `json:"name"`
		Meaning string `json:"meaning"`
		Value   string `json:"value"`
		Unit    string `json:"unit"`
		Origin  string `json:"origin"`
	}
	type part struct {
		What string   `json:"what"`
		By   *float64 `json:"by"`
	}
	e := figures.Explain(t, r, f)
	doc := struct {
		ID        string     `json:"id"`
		Figure    string     `json:"figure"`
		Value     *float64   `json:"value"`
		StdUnc    *float64   `json:"standard_uncertainty"`
		What      string     `json:"what"`
		Equations []equation `json:"equations"`
		Inputs    []input    `json:"inputs"`
		Parts     []part     `json:"contributors"`
		Sources   []string   `json:"sources"`
		In        string     `json:"worked_out_in"`
	}{r.ID, f.Key, number(f.InFile(e.Value)), number(f.InFile(e.StdUnc)), f.How, []equation{}, []input{}, []part{},
		append([]string{}, e.Sources()...), f.In}
	for _, l := range e.Lines {
		doc.Equations = append(doc.Equations, equation{l.Name, l.Symbolic, l.Numeric, l.Result})
	}
	for _, in := range e.Inputs {
		unit := in.Unit
		if strings.HasSuffix(in.Value, "°") {
			in.Value, unit = strings.TrimSuffix(in.Value, "°"), "°"
		}
		doc.Inputs = append(doc.Inputs, input{in.Name, in.Meaning, in.Value, unit, in.Origin})
	}
	for _, c := range e.Contributions {
		doc.Parts = append(doc.Parts, part{c.What, number(f.InFile(c.By))})
	}
	return writeJSON(cmd.OutOrStdout(), doc)
}

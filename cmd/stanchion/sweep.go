package main

import (
	"encoding/csv"
	"math"
	"time"

	"github.com/spf13/cobra"

	"stanchion/model"
	"stanchion/model/figures"
	"stanchion/model/speeds"
	"stanchion/model/units"
	"stanchion/tui/widgets"
)

// maxSwept is how many settings are swept when none is named.
const maxSwept = 3

func newSweep() *cobra.Command {
	var o options
	var file, speedsFlag string
	var replace bool
	c := &cobra.Command{
		Use:   "sweep CARFILE [ID ...]",
		Short: "downforce, drag, axle loads and balance over speed",
		Long: `sweep follows settings from walking pace to the car's drag-limited top speed (with
power and drag_area in the car file; else to 1.3 times the design speed, or 1.5
times the chosen one). Without ids it takes the settings within limits with the
most and the least downforce and one between. -o draws the curves into a file.`,
		Example:           "  stanchion sweep car.toml\n  stanchion sweep car.toml A2+1 A3+1 -o plot.svg",
		Args:              arguments(1, many),
		ValidArgsFunction: carFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			s, ids, err := o.over(cmd.Context(), args[0], speedsFlag, speeds.SweepSpeeds, args[1:])
			if err != nil {
				return err
			}
			if len(ids) == 0 {
				if ids = typical(s.Tables[len(s.Tables)/2]); len(ids) == 0 {
					return noAnswer("%s: no setting has figures", args[0])
				}
			}
			if file != "" {
				data, err := drawSweep(file, s, ids, time.Now(), shown(s.Tables[0].Car))
				if err == nil {
					err = writeOutput(file, data, replace)
				}
				if err != nil {
					return err
				}
				p := out(cmd)
				p.f("%s: downforce and drag over speed of %s\n", units.Printable(file), units.Count(len(ids), "setting"))
				return p.err
			}
			switch o.format {
			case "json":
				return sweepJSON(cmd, s, ids)
			case "csv":
				return sweepCSV(cmd, s, ids)
			}
			return sweepText(cmd, s, ids, shown(s.Tables[0].Car))
		},
	}
	c.Flags().StringVar(&speedsFlag, "speeds", "", "`SPEEDS` separated by commas")
	c.Flags().StringVarP(&file, "output", "o", "", "draw into `FILE`, .svg, .png or .pdf")
	c.Flags().BoolVar(&replace, "replace", false, "write over a file that is there")
	o.add(c, "", "text", "csv", "json")
	return c
}

// skippedText says at which speeds there are no figures.
func skippedText(p *printer, s speeds.Sweep, u units.System) {
	for _, k := range s.Skipped {
		p.f("no figures at %s: %v\n", u.Speed(k.Speed), k.Why)
	}
}

// typical picks settings that span what there is: most downforce, least, and one
// between.
func typical(t *model.Table) []string {
	var best, least *model.Row
	for i := range t.Rows {
		r := &t.Rows[i]
		if !r.Within() || math.IsNaN(r.Downforce) {
			continue
		}
		if best == nil || r.Downforce > best.Downforce {
			best = r
		}
		if least == nil || r.Downforce < least.Downforce {
			least = r
		}
	}
	if best == nil {
		return nil
	}
	ids := []string{best.ID}
	var mid *model.Row
	want := (best.Downforce + least.Downforce) / 2
	for i := range t.Rows {
		r := &t.Rows[i]
		if r.Within() && r != best && r != least && (mid == nil || math.Abs(r.Downforce-want) < math.Abs(mid.Downforce-want)) {
			mid = r
		}
	}
	for _, r := range []*model.Row{mid, least} {
		if r != nil && r != best {
			ids = append(ids, r.ID)
		}
	}
	return ids[:min(len(ids), maxSwept)]
}

// follow calls visit for each speed with the row of a setting.
func follow(s speeds.Sweep, id string, visit func(k int, t *model.Table, r *model.Row)) {
	for k, t := range s.Tables {
		if r, ok := t.Find(id); ok {
			visit(k, t, r)
		}
	}
}

func sweepText(cmd *cobra.Command, s speeds.Sweep, ids []string, u units.System) error {
	p := out(cmd)
	car := s.Tables[0].Car
	p.f("%s\n", car.Name)
	skippedText(p, s, u)
	for n, id := range ids {
		p.f("\n%c  %s\n", 'A'+rune(n), s.Tables[0].NameOf(id))
		swept := figures.Swept(car)
		wide := func(f figures.Figure) int { return max(8, len(f.Heading())) }
		p.f("%10s", "speed")
		for _, f := range swept {
			p.f(" %*s", wide(f), f.Heading())
		}
		p.f("\n%10s", "")
		for _, f := range swept {
			p.f(" %*s", wide(f), f.Unit(u))
		}
		p.f("\n")
		follow(s, id, func(k int, t *model.Table, r *model.Row) {
			p.f("%10s", u.Speed(s.Speeds[k]))
			for _, f := range swept {
				p.f(" %*s", wide(f), f.Spell(f.Of(t, r), u))
			}
			p.f("\n")
		})
		last := s.Tables[len(s.Tables)-1]
		if r, ok := last.Find(id); ok {
			if v, ok := speeds.TopSpeed(last, r); ok {
				bare, _ := speeds.BareTopSpeed(car)
				p.f("drag-limited top speed %s, without the wing's drag %s (no rolling resistance, no gearing)\n", u.Speed(v), u.Speed(bare))
			}
		}
	}
	p.f("\ndrag is what the wing costs the car, and power what that takes; \"stanchion show\" says how much of it is the wing's own and how its lift leans\n\n")
	var curves []widgets.Curve
	for n, id := range ids {
		c := widgets.Curve{Mark: 'A' + rune(n)}
		follow(s, id, func(k int, t *model.Table, r *model.Row) {
			c.X, c.Y = append(c.X, u.SpeedFigure(s.Speeds[k])), append(c.Y, r.Downforce/u.ForceSize())
		})
		curves = append(curves, c)
	}
	wide := min(72, p.on.extent.rows)
	p.picture(widgets.Plot(wide, 14, curves, "downforce, "+u.ForceUnit(), u.SpeedUnit(), widgets.Braille)...)
	return p.err
}

func sweepJSON(cmd *cobra.Command, s speeds.Sweep, ids []string) error {
	doc := struct {
		Speeds   []*float64 `json:"speeds_m_s"`
		Settings []object   `json:"settings"`
	}{}
	for _, v := range s.Speeds {
		doc.Speeds = append(doc.Speeds, figure(v, 4))
	}
	for _, id := range ids {
		one := object{{"id", id}}
		for _, f := range figures.Pick(figures.InSweep...) {
			var over []*float64
			follow(s, id, func(k int, t *model.Table, r *model.Row) {
				over = append(over, number(f.InFile(f.Of(t, r))))
			})
			one = append(one, field{f.Key, over})
		}
		doc.Settings = append(doc.Settings, one)
	}
	return writeJSON(cmd.OutOrStdout(), doc)
}

func sweepCSV(cmd *cobra.Command, s speeds.Sweep, ids []string) error {
	c := csv.NewWriter(cmd.OutOrStdout())
	if err := c.Write(append([]string{"id", "speed_m_s"}, figures.InSweep...)); err != nil {
		return err
	}
	for _, id := range ids {
		var wrong error
		follow(s, id, func(k int, t *model.Table, r *model.Row) {
			fields := []string{units.Cell(id), numberCell(figure(s.Speeds[k], 4))}
			for _, f := range figures.Pick(figures.InSweep...) {
				fields = append(fields, numberCell(number(f.InFile(f.Of(t, r)))))
			}
			if err := c.Write(fields); err != nil {
				wrong = err
			}
		})
		if wrong != nil {
			return wrong
		}
	}
	c.Flush()
	return c.Error()
}

package main

import (
	"math"

	"github.com/spf13/cobra"

	"stanchion/model"
	"stanchion/model/logbook"
	"stanchion/model/logged"
	"stanchion/model/pace"
	"stanchion/model/speeds"
	"stanchion/model/units"
	"stanchion/model/words"
)

func newLoggedTop() *cobra.Command {
	var f loggedFlags
	c := &cobra.Command{
		Use:   "top CARFILE FILE...",
		Short: "top speed, where the car no longer gained",
		Long: `top looks for stretches of four seconds near the fastest speed on which a car no longer gained.
A speed at which it still gains is no top speed, and none is given then. Both ways take the wind
out; one way leaves it in the uncertainty.`,
		Example: `  stanchion logged top car.toml drive.csv
  stanchion logged top car.toml north.gpx south.gpx --setting "1 b2" --note`,
		Args:              arguments(2, 100),
		ValidArgsFunction: carFiles,
		RunE: f.onRecordings(func(cmd *cobra.Command, args []string, t *model.Table, all []recording) error {
			p, u := out(cmd), shown(t.Car)
			list := []object{}
			var why error
			for _, g := range grouped(all) {
				var logs []*logged.Log
				for _, r := range g.recordings {
					logs = append(logs, r.log)
				}
				top, err := pace.TopOf(logs)
				if err != nil {
					why = noAnswer("%s: %v", g.name(t), err)
					continue
				}
				list = append(list, object{{"setting", g.id()}, {"top_speed_m_s", figure(top.Speed, 2)}, {"top_speed_std_unc_m_s", figure(top.StdUnc, 2)}, {"stretches", len(top.Plateaus)},
					{"both_ways", top.BothWays}, {"wind_m_s", figure(top.Wind, 1)}})
				if f.format == "text" {
					text := g.name(t) + ": top speed " + units.Fixed(u.SpeedFigure(top.Speed), 1) + " ± " + units.Fixed(u.SpeedFigure(top.StdUnc), 1) + " " + u.SpeedUnit()
					if g.row != nil {
						if v, ok := speeds.TopSpeed(t, g.row); ok {
							text += "; predicted " + u.Speed(v)
						}
					}
					p.f("%s\n", text)
					for _, line := range words.TopRemarks(&top, u) {
						p.f("%s\n", line)
					}
				}
				if f.note {
					if err := noteLogged(cmd, args[0], t, g.recordings[0], func(n *logbook.Note) {
						n.TopSpeed, n.TopSpeedStdUnc = math.Round(top.Speed*100)/100, math.Round(top.StdUnc*100)/100
					}); err != nil {
						return err
					}
				}
			}
			if f.format == "json" {
				if err := writeJSON(cmd.OutOrStdout(), object{{"settings", list}}); err != nil {
					return err
				}
				return why
			}
			loggedLeft(p, all)
			if len(list) == 0 {
				return why
			}
			p.f("%s\n", closedCourse)
			if p.err != nil {
				return p.err
			}
			return why
		}),
	}
	f.add(c, "text", "json")
	f.ofSettings(c, "write the top speed of each setting into the notebook as a note")
	return c
}

package main

import (
	"github.com/spf13/cobra"

	"stanchion/model/logged"
	"stanchion/model/units"
	"stanchion/model/words"
)

func newLoggedRead() *cobra.Command {
	var f loggedFlags
	c := &cobra.Command{
		Use:   "read CARFILE FILE...",
		Short: "what is in a recording, what was left out, and what it can tell",
		Long: `read lists the channels of recordings with their ranges, columns that are not used, lines that
were left out by reason, gaps, and what each recording can tell. Where a table's columns cannot
be told by their names, it says which there are: name them with --columns.`,
		Example: `  stanchion logged read car.toml drive.gpx
  stanchion logged read car.toml log.csv --columns "speed=Velocity [km/h],front_ride=LF+RF"`,
		Args:              arguments(2, 100),
		ValidArgsFunction: carFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			car, err := loadCar(args[0])
			if err != nil {
				return err
			}
			all, err := f.read(nil, args[0], args[1:])
			if err != nil {
				return err
			}
			if f.format == "json" {
				return writeJSON(cmd.OutOrStdout(), readDocument(all))
			}
			p, u := out(cmd), shown(car)
			for i, r := range all {
				if i > 0 {
					p.f("\n")
				}
				p.f("%s: %s\n", units.Printable(r.name), words.LoggedSpan(r.log))
				for _, line := range words.LoggedChannels(r.log, u) {
					p.f("  %s\n", line)
				}
				if line := words.LoggedUnused(r.log); line != "" {
					p.f("%s\n", line)
				}
				for _, line := range words.LoggedLeft(r.log) {
					p.f("%s\n", line)
				}
				for _, line := range words.LoggedTells(r.log) {
					p.f("%s\n", line)
				}
			}
			return p.err
		},
	}
	f.add(c, "text", "json")
	return c
}

func readDocument(all []recording) object {
	list := []object{}
	for _, r := range all {
		l := r.log
		channels, columns, left, first := []string{}, []object{}, []object{}, []object{}
		for ch := range logged.Channels {
			if l.Has[ch] {
				channels = append(channels, ch.Key())
			}
		}
		for _, c := range l.Columns {
			columns = append(columns, object{{"of", c.Key()}, {"name", c.Name}, {"unit", c.Unit}})
		}
		for why, n := range l.Told.Left {
			if n > 0 {
				left = append(left, object{{"why", logged.Reason(why).Key()}, {"times", n}})
			}
		}
		for _, x := range l.Told.First {
			first = append(first, object{{"line", x.Line}, {"column", x.Column}, {"why", x.Why.Key()}, {"text", x.Text}})
		}
		var begun *string
		if !l.Begun.IsZero() {
			text := l.Begun.Format("2006-01-02T15:04:05Z07:00")
			begun = &text
		}
		list = append(list, object{{"file", r.name}, {"kind", string(l.Format)}, {"samples", l.Told.Read}, {"kept", len(l.Samples)}, {"span_s", figure(l.Span(), 3)},
			{"begun", begun}, {"channels", channels}, {"columns", columns}, {"unused", append([]string{}, l.Unused...)},
			{"speed_from_position", l.SpeedFromPosition}, {"speed_std_unc_m_s", figure(l.SpeedStdUnc, 3)}, {"position_scatter_m", figure(l.PlaceScatter, 2)},
			{"left_out", left}, {"first_left_out", first}, {"gaps", l.Told.Gaps}, {"longest_gap_s", figure(l.Told.Gap, 2)}, {"clock_set", l.Told.Resets}, {"cut_at_line", l.Told.CutAt}})
	}
	return object{{"recordings", list}}
}

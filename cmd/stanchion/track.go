package main

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"github.com/spf13/cobra"

	"stanchion/model"
	"stanchion/model/choose"
	"stanchion/model/speeds"
	"stanchion/model/units"
	"stanchion/model/words"
)

func newFront() *cobra.Command {
	var o options
	var share, speedsFlag string
	c := &cobra.Command{
		Use:   "front CARFILE ID --share S",
		Short: "how much front downforce would restore a target front share",
		Long: `front works out, for a setting and a list of speeds, the front share that the car
has as it is, and the front downforce area and force that would have to be added
at the front axle for a wanted share.`,
		Example:           "  stanchion front car.toml A3+1 --share 52 --speeds 100km/h,160km/h,200km/h",
		Args:              arguments(2, 2),
		ValidArgsFunction: carFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			var target choose.Target
			if err := within(&target, 0)(share); err != nil {
				return fmt.Errorf("--share %w", err)
			}
			wanted := target.Value.Value()
			if wanted <= 0.05 || wanted >= 0.95 {
				return fmt.Errorf("--share %s; it must be 5 to 95 %%", share)
			}
			s, ids, err := o.over(cmd.Context(), args[0], speedsFlag, around(0.6, 0.8, 1, 1.2), args[1:])
			if err != nil {
				return err
			}
			return frontOut(cmd, s, ids[0], wanted, o)
		},
	}
	c.Flags().StringVar(&share, "share", "", "wanted front `SHARE` in %")
	c.Flags().StringVar(&speedsFlag, "speeds", "", "`SPEEDS` separated by commas")
	o.add(c, "", "text", "json")
	_ = c.MarkFlagRequired("share")
	return c
}

func frontOut(cmd *cobra.Command, s speeds.Sweep, id string, wanted float64, o options) error {
	format, u := o.format, shown(s.Tables[0].Car)
	type row struct {
		Speed *float64 `json:"speed_m_s"`
		Share *float64 `json:"front_share_pct"`
		Area  *float64 `json:"front_area_to_add_m2"`
		Force *float64 `json:"front_force_to_add_n"`
	}
	doc := struct {
		ID     string   `json:"id"`
		Wanted *float64 `json:"wanted_front_share_pct"`
		Rows   []row    `json:"rows"`
	}{id, figure(100*wanted, 2), nil}
	p := out(cmd)
	if format == "text" {
		p.f("%s: setting %s, target front share %.1f %%\n\n", s.Tables[0].Car.Name, id, 100*wanted)
		p.f("%10s %14s %22s %16s\n", "speed", "present share", "downforce area to add", "front downforce")
	}
	follow(s, id, func(k int, t *model.Table, r *model.Row) {
		n := speeds.NeedInFront(t, r, wanted)
		doc.Rows = append(doc.Rows, row{figure(n.Speed, 4), figure(100*n.Share, 3), figure(n.Area, 4), figure(n.Force, 1)})
		if format == "text" {
			p.f("%10s %12s %% %19s m² %s\n", u.Speed(n.Speed), units.Fixed(100*n.Share, 1), units.Signed(n.Area, 3), pad(u.Force(n.Force), 16))
		}
	})
	if format == "json" {
		return writeJSON(cmd.OutOrStdout(), doc)
	}
	p.f("\nArea is CL·A at the front axle, downforce positive; negative means too much front downforce already.\n")
	return p.err
}

func pad(text string, w int) string { return fmt.Sprintf("%*s", w, text) }

func newTrack() *cobra.Command {
	var o options
	var radius string
	var grip float64
	c := &cobra.Command{
		Use:   "track CARFILE ID ...",
		Short: "a first estimate of what settings cost and gain on track",
		Long: `track estimates, for settings, the change of the drag-limited top speed (with power
and drag_area in the car file) and the speeds at which the front and the rear axle
run out of grip in a corner of one radius, each against the same car without the
wing's forces.

It is statics of one axle at a time and a first estimate: load transfer, tyre load
sensitivity, banking, rolling resistance, gearing and the pull of the engine are
left out. Which axle reaches its grip limit first shows the balance; do not use the
speeds as targets to drive to.`,
		Example:           "  stanchion track car.toml A2+1 A3+1 --corner 80m --grip 1.1",
		Args:              arguments(2, many),
		ValidArgsFunction: carFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			t, err := o.table(args[0])
			if err != nil {
				return err
			}
			metres, err := units.Lengths.Parse(radius, "m")
			if err != nil {
				return fmt.Errorf("--corner %w", err)
			}
			metres /= 1000
			if metres < 5 || metres > 2000 {
				return fmt.Errorf("--corner %s; it must be 5 to 2000 m", radius)
			}
			if !(grip >= 0.2 && grip <= 3) {
				return errors.New("--grip must be 0.2 to 3")
			}
			ids, err := settingIDs(t, args[1:])
			if err != nil {
				return err
			}
			return trackOut(cmd, t, ids, metres, grip, o)
		},
	}
	c.Flags().StringVar(&radius, "corner", "80m", "`RADIUS` of the corner")
	c.Flags().Float64Var(&grip, "grip", 1.1, "friction `COEFFICIENT` of the tyres")
	o.add(c, "`SPEED` that the wing's forces are taken from (default: the car file's)", "text", "json")
	return c
}

func trackOut(cmd *cobra.Command, t *model.Table, ids []string, radius, grip float64, o options) error {
	format, u := o.format, shown(t.Car)
	type row struct {
		ID       string   `json:"id"`
		Top      *float64 `json:"top_speed_m_s"`
		TopBare  *float64 `json:"top_speed_without_wing_m_s"`
		Front    *float64 `json:"corner_front_m_s"`
		Rear     *float64 `json:"corner_rear_m_s"`
		FrontOff *float64 `json:"corner_front_without_wing_m_s"`
		RearOff  *float64 `json:"corner_rear_without_wing_m_s"`
	}
	var doc struct {
		Rows []row `json:"rows"`
	}
	p := out(cmd)
	if format == "text" {
		p.f("%s, corner of %.0f m, grip %.2f\n", t.Car.Name, radius, grip)
	}
	for _, id := range ids {
		r, _ := t.Find(id)
		with, without := speeds.InCorner(t, r, radius, grip, true), speeds.InCorner(t, r, radius, grip, false)
		top, ok := speeds.TopSpeed(t, r)
		bare, _ := speeds.BareTopSpeed(t.Car)
		doc.Rows = append(doc.Rows, row{id, figure(top, 3), figure(bare, 3), figure(with.Front, 3), figure(with.Rear, 3),
			figure(without.Front, 3), figure(without.Rear, 3)})
		if format != "text" {
			continue
		}
		p.f("\n%s\n", id)
		if math.IsNaN(with.Front) {
			p.f("  no figures: %s\n", strings.Join(words.Outside(r, u), "; "))
			continue
		}
		p.f("  front axle grip limit %s, without the wing %s\n", cornerSpeed(with.Front, u), cornerSpeed(without.Front, u))
		p.f("  rear axle grip limit  %s, without the wing %s\n", cornerSpeed(with.Rear, u), cornerSpeed(without.Rear, u))
		switch {
		case math.IsInf(with.Front, 1) && math.IsInf(with.Rear, 1):
			p.f("  neither axle reaches its grip limit: grip grows faster than cornering force\n")
		case math.Abs(with.Front-with.Rear) < 0.15:
			p.f("  both axles reach their grip limit together\n")
		case with.Front < with.Rear:
			p.f("  the front axle reaches its grip limit first: understeer\n")
		default:
			p.f("  the rear axle reaches its grip limit first: oversteer\n")
		}
		if ok {
			p.f("  top speed %.1f %s, without the wing's drag %.1f %s\n", u.SpeedFigure(top), u.SpeedUnit(), u.SpeedFigure(bare), u.SpeedUnit())
		}
	}
	if format == "json" {
		return writeJSON(cmd.OutOrStdout(), doc)
	}
	p.f("\nA first estimate: one axle at a time, without load transfer, tyre load sensitivity, banking, rolling resistance or gearing. Of the wing's effect on the body's drag, only the lean of its lift is counted. Build up speed gradually: your corner will differ.\n")
	return p.err
}

func cornerSpeed(v float64, u units.System) string {
	if math.IsInf(v, 1) {
		return "none (grip grows faster than cornering force)"
	}
	return fmt.Sprintf("%.1f %s", u.SpeedFigure(v), u.SpeedUnit())
}

package main

import (
	"math"
	"slices"
	"sort"

	"github.com/spf13/cobra"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/units"
	"stanchion/model/words"
)

func newClear() *cobra.Command {
	var o options
	c := &cobra.Command{
		Use:   "clear CARFILE [ID]",
		Short: "how near wing and uprights come to the body and the opening lid, and which slots panels need",
		Long: `clear prints for every setting the least distance of the wing's section, its end
plates and the uprights from the body's side profile and from the boot lid at
every angle while it opens, the nearest first, and where on the way that is. It
lists the slots that uprights need in the bodywork.

The car file gives [body] outline, [lid] hinge, outline and open, and any number
of [[panel]]. [limits] gap is the least distance wanted; top, rear, overhang and
width are as copied from your rules, which differ by event and country.

A lid need not open all the way: how far it opens with each setting is said, and
[limits] lid_opening is the least that is wanted. Exit code 1 means that something
touches.

Everything is worked out in side view: parts that lie side by side across the car
count as if they could touch. Distances are exact for the outlines given.`,
		Example: `  stanchion clear car.toml
  stanchion clear car.toml A3+1 --format json`,
		Args:              arguments(1, many),
		ValidArgsFunction: carFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			t, err := o.table(args[0])
			if err != nil {
				return err
			}
			if t.Car.Body == nil && t.Car.Lid.Outline == nil && len(t.Car.Panels) == 0 {
				return noAnswer("%s: nothing to keep clear of; add [body], [lid] or [[panel]] to the car file", args[0])
			}
			var rows []*model.Row
			for i := range t.Rows {
				rows = append(rows, &t.Rows[i])
			}
			if len(args) > 1 {
				r, err := pickRow(t, args[1:])
				if err != nil {
					return err
				}
				rows = []*model.Row{r}
			}
			sort.SliceStable(rows, func(a, b int) bool { return nearness(rows[a]) < nearness(rows[b]) })
			if o.format == "json" {
				err = writeJSON(cmd.OutOrStdout(), clearOut(t, rows))
			} else {
				p := out(cmd)
				clearText(p, t, rows, shown(t.Car))
				err = p.err
			}
			if touches := slices.ContainsFunc(rows, func(r *model.Row) bool { return r.Gap.Known() && r.Gap.Distance == 0 }); touches && err == nil {
				return noAnswer("")
			}
			return err
		},
	}
	o.add(c, "", "text", "json")
	return c
}

// nearness orders rows by their gap; those without one come last.
func nearness(r *model.Row) float64 {
	if !r.Gap.Known() {
		return math.Inf(1)
	}
	return r.Gap.Distance
}

func clearText(p *printer, t *model.Table, rows []*model.Row, u units.System) {
	p.f("%s: clearance of %s\n\n", t.Car.Name, units.Count(len(rows), "setting"))
	if len(rows) > 0 && rows[0].Gap.Known() {
		p.f("%10s  %-14s %-6s %8s %10s  %-32s %s\n", "gap", "from", "to", "lid at", "lid opens", "nearest points (x, z)", "setting")
		for _, r := range rows {
			g := r.Gap
			lid := ""
			if g.To == "lid" {
				lid = units.Fixed(math.Abs(g.Turn)/plane.Deg, 1) + "°"
			}
			gap := u.Dimension(g.Distance)
			if g.Distance == 0 {
				gap = "TOUCHES"
			}
			mark, opens := " ", ""
			if g.Distance == 0 || g.Distance < t.Car.Limits.Gap.Or(0) {
				mark = "×"
			}
			if g.Lid.Of > 0 {
				opens = units.Fixed(math.Floor(g.Lid.To/plane.Deg), 0) + "°"
			}
			p.f("%s%9s  %-14s %-6s %8s %10s  %-32s %s\n", mark, gap, g.From, g.To, lid, opens, point(g.A, u)+" – "+point(g.B, u), t.Name(r.Setting))
		}
		if w, ok := t.Car.Limits.Gap.Get(); ok {
			p.f("× marks less than the minimum of %s; \"lid opens\" is with that gap kept, out of %s°.\n", u.Dimension(w),
				units.Fixed(rows[0].Gap.Lid.Of/plane.Deg, 0))
		} else if rows[0].Gap.Lid.Of > 0 {
			p.f("\"lid opens\" is how far it opens without touching, out of %s°.\n", units.Fixed(rows[0].Gap.Lid.Of/plane.Deg, 0))
		}
		cuts := map[string]int{}
		for _, r := range rows {
			for _, c := range r.Gap.Through {
				cuts[c]++
			}
		}
		for _, part := range t.Car.Parts {
			if n := cuts[part.Name]; n > 0 {
				p.f("Part %s passes through the body in %s, so its own distance from the body is not counted.\n", part.Name, units.Count(n, "setting"))
			}
		}
		for _, part := range t.Car.WithoutOutline() {
			p.f("Part %s has no outline: its clearance is NOT CHECKED.\n", part)
		}
		if t.Car.Wing.Shape == nil {
			p.f("The section's shape is not known: it is taken as 12 %% thick.\n")
		}
	}
	if cuts := t.Slots(cutoutRows(t, rows)); len(cuts) > 0 {
		if len(rows) == 1 {
			p.f("\nSlots in the bodywork, for this setting:\n")
		} else {
			p.f("\nSlots in the bodywork, for settings that keep all limits:\n")
		}
		for _, c := range cuts {
			for _, l := range words.SlotLines(c, u) {
				p.f("%s\n", l)
			}
		}
	}
	if len(t.Car.Panels) > 0 && len(rows) > 1 && len(t.RowsWithin()) == 0 {
		p.f("\nNo setting keeps all limits (%s), so no slots are given.\n", words.LimitCounts(t))
	}
	for _, odd := range t.Car.Warnings {
		p.f("Check this: %s.\n", odd.In(u))
	}
	p.f("\nSide view only, exact for the outlines given. Move the lid slowly by hand before letting go of it. Limits are as you copied them: rules differ by event and country.\n")
}

// cutoutRows are the settings that slots are to serve: the one that was asked for, or
// those within the limits.
func cutoutRows(t *model.Table, rows []*model.Row) []*model.Row {
	if len(rows) == 1 {
		return rows
	}
	return t.RowsWithin()
}

func point(q plane.Point, u units.System) string {
	return u.LengthFigure(q.X) + ", " + u.Length(q.Z)
}

type clearJSON struct {
	Settings []gapJSON    `json:"settings"`
	Wanted   *float64     `json:"gap_wanted_mm"`
	Cutouts  []cutoutJSON `json:"cutouts"`
}

// gapJSON is the least distance of a setting. Figures are null where the file
// has neither body nor lid.
type gapJSON struct {
	ID       string       `json:"id"`
	Gap      *float64     `json:"gap_mm"`
	From     string       `json:"from"`
	To       string       `json:"to"`
	LidAngle *float64     `json:"lid_angle_deg"`
	LidOpens *float64     `json:"lid_opens_to_deg"`
	Points   [][]*float64 `json:"points_mm"`
	Through  []string     `json:"through_body"`
	Within   bool         `json:"within_limits"`
}

type cutoutJSON struct {
	Panel     string     `json:"panel"`
	Part      string     `json:"part"`
	From      *float64   `json:"from_mm"`
	To        *float64   `json:"to_mm"`
	Length    *float64   `json:"length_mm"`
	Width     *float64   `json:"width_mm"`
	Clearance *float64   `json:"clearance_mm"`
	Least     []*float64 `json:"needed_by_all_mm"`
	Settings  int        `json:"settings"`
}

func clearOut(t *model.Table, rows []*model.Row) clearJSON {
	out := clearJSON{Settings: []gapJSON{}, Wanted: figure(t.Car.Limits.Gap.Value(), 3), Cutouts: []cutoutJSON{}}
	for _, r := range rows {
		g := gapJSON{ID: r.ID, From: r.Gap.From, To: r.Gap.To, Points: [][]*float64{}, Through: append([]string{}, r.Gap.Through...),
			Within: r.Within()}
		if r.Gap.Known() {
			g.Gap = figure(r.Gap.Distance, 3)
			g.Points = [][]*float64{{figure(r.Gap.A.X, 3), figure(r.Gap.A.Z, 3)}, {figure(r.Gap.B.X, 3), figure(r.Gap.B.Z, 3)}}
			if r.Gap.Lid.Of > 0 {
				g.LidOpens = figure(r.Gap.Lid.To/plane.Deg, 3)
			}
			if r.Gap.To == "lid" {
				g.LidAngle = figure(math.Abs(r.Gap.Turn)/plane.Deg, 3)
			}
		}
		out.Settings = append(out.Settings, g)
	}
	for _, c := range t.Slots(cutoutRows(t, rows)) {
		k := cutoutJSON{c.Panel, c.Part, figure(c.From-c.Clearance, 2), figure(c.To+c.Clearance, 2), figure(c.Length(), 2),
			figure(c.Width, 2), figure(c.Clearance, 2), []*float64{}, c.Settings}
		if c.MinTo > c.MinFrom {
			k.Least = []*float64{figure(c.MinFrom, 2), figure(c.MinTo, 2)}
		}
		out.Cutouts = append(out.Cutouts, k)
	}
	return out
}

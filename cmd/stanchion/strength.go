package main

import (
	"errors"

	"github.com/spf13/cobra"

	"stanchion/model"
	"stanchion/model/strength"
	"stanchion/model/units"
)

func newStrength() *cobra.Command {
	var o options
	var all bool
	c := &cobra.Command{
		Use:   "strength CARFILE [ID]",
		Short: "will plates and bolts hold at the design speed, and which would give first?",
		Long: `strength carries the wing's loads at the design speed down the chain of parts and
compares what every bolt, hole and plate bears with what EN 1993-1-8, EN 1999-1-1
and the theory of elastic stability allow it, worst first, and works out what
would help the weakest most.

Without an ID it takes the setting that is worst of those within the limits, or
with --all of all. [speed] design is the speed; the table [strength] may give
uprights, load_factor, vertical and cornering (in g) and yaw (in °). A part needs
thickness, material and outline, a joint grade; what is missing is listed.

An estimate for planning, not approval: wings that come off hurt people. Have a
licensed engineer check what runs on track or road, and follow local road rules
and the event's technical rules.`,
		Example: `  stanchion strength car.toml
  stanchion strength car.toml A3`,
		Args:              cobra.MinimumNArgs(1),
		ValidArgsFunction: carFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := o.check(); err != nil {
				return err
			}
			car, err := loadCar(args[0])
			if err != nil {
				return err
			}
			f, err := strength.New(car)
			if err != nil {
				return noAnswer("%s: %v", args[0], err)
			}
			var row *model.Row
			if len(args) > 1 {
				if row, err = pickRow(f.Table, args[1:]); err != nil {
					return err
				}
			} else if row, _ = f.Worst(all); row == nil {
				return noAnswer("%s: no setting within the limits has forces at the design speed: --all looks at all settings", args[0])
			}
			r, err := f.Of(row)
			if err != nil {
				return noAnswer("%s: %v", args[0], err)
			}
			if o.format == "json" {
				return writeJSON(cmd.OutOrStdout(), strengthOut(f, r))
			}
			p := out(cmd)
			most := 12
			if all || len(args) > 1 {
				most = 0
			}
			for _, l := range f.Lines(r, f.Helps(r), o.units(), most) {
				p.f("%s\n", l)
			}
			return p.err
		},
	}
	o.add(c, "", "text", "json")
	c.Flags().BoolVar(&all, "all", false, "settings outside of the limits too, and every check")
	return c
}

type strengthJSON struct {
	Setting  string        `json:"setting"`
	Speed    *float64      `json:"speed_m_s"`
	Case     string        `json:"case"`
	Checks   []checkJSON   `json:"checks"`
	Joints   []bodyJSON    `json:"joints"`
	Missing  []string      `json:"missing"`
	Helps    []helpJSON    `json:"helps"`
	Turn     *float64      `json:"bending_deg"`
	Side     *float64      `json:"bending_side_mm"`
	Assumed  []assumedJSON `json:"assumed"`
	Left     []string      `json:"not_checked"`
	Cautions []string      `json:"cautions"`
}

// checkJSON is one check. Utilisation is null where nothing is left to bear the
// demand.
type checkJSON struct {
	What        string   `json:"what"`
	Joint       string   `json:"joint"`
	Part        string   `json:"part"`
	At          string   `json:"at"`
	Station     *float64 `json:"station_mm"`
	Demand      *float64 `json:"demand"`
	Capacity    *float64 `json:"capacity"`
	Unit        string   `json:"unit"`
	Utilisation *float64 `json:"utilisation"`
	Layout      bool     `json:"layout"`
	Case        string   `json:"case"`
	Source      string   `json:"source"`
}

type helpJSON struct {
	Change  string    `json:"change"`
	Weakest checkJSON `json:"weakest"`
}

func oneCheck(c strength.Check) checkJSON {
	return checkJSON{c.What, c.Joint, c.Part, c.At, figure(c.Station, 1), figure(c.Demand, 3), figure(c.Capacity, 3), c.Unit, figure(c.Utilisation(), 4), c.Layout, c.CaseName(), c.Source}
}

func strengthOut(f *strength.Frame, r strength.Result) strengthJSON {
	s := strengthJSON{Setting: r.Row.ID, Speed: figure(f.Table.Speed, 3), Case: strength.CaseName(r.Case), Checks: []checkJSON{}, Joints: bodiesOut(f, r), Missing: append([]string{}, f.Missing...),
		Helps: []helpJSON{}, Turn: figure(r.Turn/model.Deg, 3), Side: figure(r.Side, 2), Assumed: []assumedJSON{}, Left: f.Left, Cautions: strength.Cautions}
	for _, c := range r.Checks {
		s.Checks = append(s.Checks, oneCheck(c))
	}
	for _, h := range f.Helps(r) {
		s.Helps = append(s.Helps, helpJSON{h.Change(units.Metric), oneCheck(h.Weakest)})
	}
	for _, a := range f.Assumed {
		s.Assumed = append(s.Assumed, assumedJSON{a.What, a.Value, a.Note})
	}
	return s
}

// bodyJSON is what the upper part pushes on the lower with at a joint, about the
// middle of its bolts, and what each bolt bears of it.
type bodyJSON struct {
	Joint string     `json:"joint"`
	Rear  *float64   `json:"rearward_n"`
	Side  *float64   `json:"sideways_n"`
	Down  *float64   `json:"down_n"`
	Turn  *float64   `json:"turn_nm"`
	Roll  *float64   `json:"roll_nm"`
	Yaw   *float64   `json:"yaw_nm"`
	Bolts []boltJSON `json:"bolts"`
}

type boltJSON struct {
	Pair    [2]string `json:"pair"`
	Rear    *float64  `json:"rearward_n"`
	Down    *float64  `json:"down_n"`
	Shear   *float64  `json:"shear_n"`
	Tension *float64  `json:"tension_n"`
}

func bodiesOut(f *strength.Frame, r strength.Result) []bodyJSON {
	all := []bodyJSON{}
	for i := range r.Bodies {
		b := &r.Bodies[i]
		j := bodyJSON{f.Car.Joints[b.Joint].Name, figure(b.Rear, 2), figure(b.Side, 2), figure(-b.Up, 2), figure(b.Turn/1000, 3), figure(b.Roll/1000, 3), figure(b.Yaw/1000, 3), nil}
		for k, p := range b.Pairs {
			x := b.Bolts[k]
			pair := [2]string{f.Car.Parts[b.Joint].Holes[p.Lower].ID, f.Car.Parts[b.Joint+1].Holes[p.Upper].ID}
			j.Bolts = append(j.Bolts, boltJSON{pair, figure(x.Rear, 2), figure(-x.Up, 2), figure(x.Shear(), 2), figure(x.Tension, 2)})
		}
		all = append(all, j)
	}
	return all
}

// strengthSummary says in a line or two how the worst setting stands.
func strengthSummary(p *printer, c *model.Car, u units.System) {
	f, err := strength.New(c)
	switch {
	case errors.Is(err, strength.ErrNoSpeed):
		p.f("Strength: not checked, %v.\n", err)
		return
	case err != nil:
		p.f("Strength: not checked: %v.\n", err)
		return
	}
	row, _ := f.Worst(false)
	if row == nil {
		p.f("Strength: not checked: no setting within the limits has forces at %s.\n", u.Speed(c.DesignSpeed))
		return
	}
	r, err := f.Of(row)
	if err != nil {
		return
	}
	p.f("Strength at %s, of the weakest setting within the limits, %s: %s (an estimate, not approval).\n", u.Speed(c.DesignSpeed), r.Row.ID, f.Verdict(r, u))
	for _, m := range f.Missing {
		p.f("  missing: %s\n", m)
	}
}

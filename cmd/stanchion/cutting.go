package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"stanchion/holes/plane"
	"stanchion/model/cutting"
	"stanchion/model/drawing"
	"stanchion/model/template"
	"stanchion/model/units"
	"stanchion/model/words"
)

func newCutting() *cobra.Command {
	var o options
	var gap string
	var price float64
	var fixed bool
	var wood string
	c := &cobra.Command{
		Use:   "cutting CARFILE",
		Short: "the cutting list: sheet, weight, order of drilling, the wing's mounts",
		Long: `cutting lists what has to be cut: for each plate with an outline its material, thickness and
weight, the least rectangle of sheet that it is cut from and that both are cut from together,
and its holes in the order of drilling: first two pins, so that both plates are drilled as
a pair. It ends with the dimensions to order the wing's mounts by.

Plates are laid out in steps, so that a better layout may exist; grain and rolling
direction are not looked at. The part that is fixed to the car is listed with --fixed, what a
template of plywood takes with --template ("stanchion draw" draws it at 1:1).`,
		Example: `  stanchion cutting car.toml
  stanchion cutting car.toml --price 7.50 --gap 8mm`,
		Args:              arguments(1, 1),
		ValidArgsFunction: carFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := o.check(); err != nil {
				return err
			}
			car, err := loadCar(args[0])
			if err != nil {
				return err
			}
			u := shown(car)
			between, err := units.Lengths.Parse(gap, u.LengthUnit())
			if err != nil || between < 0 || between > 100 {
				return fmt.Errorf("--gap %s; it must be 0 to %s", units.Printable(gap), u.Dimension(100))
			}
			if price < 0 || price > 1e6 {
				return fmt.Errorf("--price %g; it must be 0 or more", price)
			}
			plates, mounts := cutting.List(car, between, fixed)
			templates, err := templatesOf(car, plates, wood)
			if err != nil {
				return err
			}
			if o.format == "json" {
				err = cuttingJSON(cmd, plates, templates, &mounts, price)
			} else {
				p := out(cmd)
				for i := range plates {
					for _, l := range words.CutPlate(&plates[i], price, u) {
						p.hang(p.cells(), l)
					}
					for _, l := range words.DrillingOrder(&plates[i], u) {
						p.hang(p.cells(), l)
					}
					for _, l := range drawing.Warnings(*plates[i].Part, nil, u) {
						p.hang(p.cells(), "WARNING: "+units.Printable(l))
					}
					if t := templates[plates[i].Part.Name]; t != nil {
						for _, l := range words.CutTemplate(t, plates[i].Blank, u) {
							p.hang(p.cells(), l)
						}
					}
					p.f("\n")
				}
				for _, l := range words.OrderMounts(&mounts, u) {
					p.hang(p.cells(), l)
				}
				p.f("%s\n", words.Caution)
				err = p.err
			}
			if err == nil && len(plates) == 0 {
				return noAnswer("%s: no plate has an outline; give one, or take it from a drawing with \"stanchion import\"", args[0])
			}
			return err
		},
	}
	o.add(c, "", "text", "json")
	c.Flags().StringVar(&gap, "gap", "6mm", "what the cutter takes between plates and at the rim, `LENGTH`")
	c.Flags().Float64Var(&price, "price", 0, "what a kilogram of sheet costs, `NUMBER`")
	c.Flags().StringVar(&wood, "template", "", "list a template of plywood for each plate too, so `THICK`, such as 9mm")
	c.Flags().BoolVar(&fixed, "fixed", false, "list the part that is fixed to the car too")
	return c
}

type sheetJSON struct {
	Width  *float64      `json:"width_mm"`
	Height *float64      `json:"height_mm"`
	Plates []lyingPlates `json:"plates"`
}

type lyingPlates struct {
	X    *float64 `json:"x_mm"`
	Z    *float64 `json:"z_mm"`
	Turn *float64 `json:"turn_deg"`
}

type cutPlateJSON struct {
	Part      string        `json:"part"`
	Count     int           `json:"count"`
	Material  string        `json:"material"`
	Thickness *float64      `json:"thickness_mm"`
	Mass      *float64      `json:"mass_kg"`
	Sheet     sheetJSON     `json:"sheet_of_one"`
	Pair      *sheetJSON    `json:"sheet_of_two,omitempty"`
	Waste     *float64      `json:"left_over_pct"`
	Price     *float64      `json:"price"`
	Drilling  []drillOrJSON `json:"drilling"`
	Slots     []cutSlotJSON `json:"slots"`
	Warnings  []string      `json:"warnings"`
	Template  *templateJSON `json:"template,omitempty"`
}

type drillOrJSON struct {
	ID  string   `json:"id"`
	X   *float64 `json:"from_front_edge_mm"`
	Z   *float64 `json:"from_lower_edge_mm"`
	D   *float64 `json:"d_mm"`
	Pin bool     `json:"pin"`
}

// cutSlotJSON is a slot by the middles of its ends; it turns on an arc where turn_deg is not 0.
type cutSlotJSON struct {
	ID   string   `json:"id"`
	X    *float64 `json:"from_front_edge_mm"`
	Z    *float64 `json:"from_lower_edge_mm"`
	ToX  *float64 `json:"to_from_front_edge_mm"`
	ToZ  *float64 `json:"to_from_lower_edge_mm"`
	D    *float64 `json:"d_mm"`
	Turn *float64 `json:"turn_deg"`
}

// cuttingJSON prints the cutting list.
func cuttingJSON(cmd *cobra.Command, plates []cutting.Plate, templates map[string]*template.Template, m *cutting.Mounts, price float64) error {
	all := struct {
		Format int            `json:"format"`
		Plates []cutPlateJSON `json:"plates"`
		Mounts []partHole     `json:"mounts"`
		Apart  *float64       `json:"mounts_apart_mm"`
	}{1, []cutPlateJSON{}, []partHole{}, figure(m.Apart, 2)}
	for _, p := range plates {
		edge, _ := plane.Box(p.Part.Outline)
		one := cutPlateJSON{Slots: []cutSlotJSON{}, Warnings: []string{}, Part: p.Part.Name, Count: p.Count, Material: p.Part.Material, Thickness: number(p.Part.Thickness.Value()), Sheet: sheetOf(p.Blank),
			Waste: figure(100*p.Waste, 1), Drilling: []drillOrJSON{}}
		if p.MassOK {
			one.Mass = figure(p.Mass, 3)
			if price > 0 {
				one.Price = figure(p.Mass/(1-p.Waste)*float64(p.Count)*price, 2)
			}
		}
		if p.Pair.Width > 0 {
			pair := sheetOf(p.Pair)
			one.Pair = &pair
		}
		for _, h := range p.Drilling {
			one.Drilling = append(one.Drilling, drillOrJSON{h.ID, figure(h.FromEdge.X, 2), figure(h.FromEdge.Z, 2), figure(h.D, 2), h.Pin})
		}
		for _, h := range p.Part.Slots {
			end := h.Along(h.Length())
			one.Slots = append(one.Slots, cutSlotJSON{h.ID, figure(h.X-edge.X, 2), figure(h.Z-edge.Z, 2), figure(end.X-edge.X, 2), figure(end.Z-edge.Z, 2), figure(h.D, 2), figure(h.Turn/plane.Deg, 3)})
		}
		one.Warnings = append(one.Warnings, drawing.Warnings(*p.Part, nil, units.Metric)...)
		one.Template = templateJSONOf(templates[p.Part.Name])
		all.Plates = append(all.Plates, one)
	}
	for _, h := range m.Holes {
		all.Mounts = append(all.Mounts, partHole{h.ID, h.X, h.Z, h.D, h.Joint})
	}
	return writeJSON(cmd.OutOrStdout(), all)
}

func sheetOf(s cutting.Sheet) sheetJSON {
	j := sheetJSON{Width: figure(s.Width, 1), Height: figure(s.Height, 1), Plates: []lyingPlates{}}
	for _, p := range s.At {
		j.Plates = append(j.Plates, lyingPlates{figure(p.X, 2), figure(p.Z, 2), figure(p.Turn/plane.Deg, 2)})
	}
	return j
}

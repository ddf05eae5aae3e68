package main

import (
	"fmt"
	"math"

	"github.com/spf13/cobra"

	"stanchion/aero"
	"stanchion/model"
	"stanchion/model/coast"
	"stanchion/model/units"
	"stanchion/model/words"
)

func (x *coasted) print(cmd *cobra.Command, t *model.Table) error {
	p, u := out(cmd), shown(t.Car)
	if !coast.Rolls(x.A, x.car.Mass) {
		p.f("%s\n\n", words.NoCoastDown(x.A, x.car.Mass))
	}
	for k, g := range x.groups {
		if k >= len(x.Areas) {
			continue
		}
		p.f("%s: drag area %s ± %s m²%s\n", g.name(t), units.Fixed(x.Areas[k], 3), units.Fixed(x.AreaUncs[k], 3), predictedArea(t, g))
	}
	for k := 1; k < len(x.Areas); k++ {
		d, std := x.Difference(k, 0)
		p.f("%s\n", words.AreaDifference(x.groups[k].name(t), x.groups[0].name(t), d, std))
	}
	p.f("Rolling resistance %s ± %s %s, one standard uncertainty each.\n\n", u.ForceFigure(x.A), u.ForceFigure(x.AStdUnc), u.ForceUnit())
	p.row("%-8s  %-7s  %-14s  %-9s  %s", "from s", "for s", "speed "+u.SpeedUnit(), "heading", "file")
	for i, r := range x.found {
		heading := units.NotGiven
		if !math.IsNaN(r.Heading) {
			heading = fmt.Sprintf("%.0f°", math.Mod(r.Heading*180/math.Pi+360, 360))
		}
		p.row("%-8.1f  %-7.1f  %-14s  %-9s  %s", r.From, r.To-r.From, fmt.Sprintf("%.0f to %.0f", u.SpeedFigure(r.V[0]), u.SpeedFigure(r.V[len(r.V)-1])), heading, units.Printable(x.names[i]))
	}
	p.f("\n")
	for _, line := range words.CoastRemarks(&x.Result, x.how, x.given, x.pairs, u) {
		p.f("%s\n", line)
	}
	p.f("%s × %s of mass, air of %s kg/m³.\n", units.Fixed(x.car.Factor, 2), u.Mass(x.car.Mass), units.Fixed(x.car.Density, 3))
	loggedLeft(p, x.recordings)
	p.f("%s\n", closedCourse)
	return p.err
}

// predictedArea is what the car file says of a setting's drag area; "" where it does not.
func predictedArea(t *model.Table, g settingGroup) string {
	own, ok := t.Car.DragArea.Get()
	if !ok || g.row == nil || math.IsNaN(g.row.Drag) {
		return ""
	}
	q := aero.DynamicPressure(t.Density, t.Speed)
	std := math.Hypot(own*t.Car.Uncertainty.DragArea, t.Budget(g.row).Drag/q)
	return fmt.Sprintf("; predicted %s ± %s m²", units.Fixed(own+g.row.Drag/q, 3), units.Fixed(std, 3))
}

func (x *coasted) document() object {
	runs, areas := []object{}, []object{}
	for i, r := range x.found {
		runs = append(runs, object{{"file", x.names[i]}, {"from_s", figure(r.From, 2)}, {"to_s", figure(r.To, 2)}, {"from_m_s", figure(r.V[0], 2)}, {"to_m_s", figure(r.V[len(r.V)-1], 2)},
			{"heading_deg", figure(r.Heading*180/math.Pi, 0)}})
	}
	for k, g := range x.groups {
		if k >= len(x.Areas) {
			continue
		}
		var less, std *float64
		if k > 0 {
			d, s := x.Difference(k, 0)
			less, std = figure(d, 4), figure(s, 4)
		}
		areas = append(areas, object{{"setting", g.id()}, {"drag_area_m2", figure(x.Areas[k], 4)}, {"drag_area_std_unc_m2", figure(x.AreaUncs[k], 4)}, {"less_first_m2", less}, {"less_first_std_unc_m2", std},
			{"pairs", len(x.pairs[k].Times)}, {"pair_spread", figure(coast.Spread(x.pairs[k].Times), 4)}})
	}
	return object{{"settings", areas}, {"rolling_plausible", coast.Rolls(x.A, x.car.Mass)}, {"rolling_n", figure(x.A, 1)}, {"rolling_std_unc_n", figure(x.AStdUnc, 1)}, {"runs", runs}, {"both_ways", x.BothWays},
		{"wind_east_m_s", figure(x.Wind[0], 2)}, {"wind_north_m_s", figure(x.Wind[1], 2)}, {"scatter_m_s", figure(x.Scatter, 3)}, {"independent_samples", figure(x.Effective, 0)},
		{"mass_kg", figure(x.car.Mass, 0)}, {"rotating_factor", figure(x.car.Factor, 3)}, {"density_kg_m3", figure(x.car.Density, 4)}}
}

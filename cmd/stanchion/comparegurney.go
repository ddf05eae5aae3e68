package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"stanchion/aero"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/figures"
	"stanchion/model/given"
	"stanchion/model/units"
)

// gurneyFlag reads the height of a Gurney flap to compare with, mm; not given for none. A wing
// that has one is compared without it by 0.
func gurneyFlag(cmd *cobra.Command, c *model.Car, text string) (given.Number, error) {
	if !cmd.Flags().Changed("gurney") {
		return given.Number{}, nil
	}
	u := shown(c)
	h, err := units.Lengths.Parse(text, u.LengthUnit())
	switch most := float64(aero.TallestGurney) * c.Wing.Chord; {
	case err != nil:
		return given.Number{}, fmt.Errorf("--gurney %w", err)
	case c.Wing.Table != nil:
		return given.Number{}, fmt.Errorf("--gurney beside a table of the whole wing: the table has the wing as it was measured")
	case h < 0 || h > most:
		return given.Number{}, fmt.Errorf("--gurney %s; it must be 0 to %s, 3 %% of the chord, up to where tests go", text, u.Dimension(most))
	}
	return given.Is(h), nil
}

// gurneyChange is what a Gurney flap does to one setting at one speed.
type gurneyChange struct {
	with       *model.Row
	difference model.Contribution
	turn       float64 // rad of angle that would do as much
	byAngle    *model.Row
}

// changeBy works out what another Gurney flap does to a setting.
func changeBy(t *model.Table, r *model.Row, height float64) (gurneyChange, *model.Table, error) {
	other, err := t.WithGurney(height)
	if err != nil {
		return gurneyChange{}, nil, err
	}
	with, _ := other.Find(r.ID)
	g := gurneyChange{with: with, difference: model.DifferenceStdUnc(other.Budget(with), t.Budget(r))}
	if by, ok := t.TurnFor(r, with.Downforce); ok {
		g.turn, g.byAngle = by, t.Turned(r, by)
	}
	return g, other, nil
}

// gurneyText prints one setting with another Gurney flap beside itself.
func gurneyText(p *printer, t *model.Table, r *model.Row, letter rune, height float64, u units.System) error {
	g, other, err := changeBy(t, r, height)
	if err != nil {
		return err
	}
	what := fmt.Sprintf("with a Gurney flap of %s", u.Dimension(height))
	if height == 0 {
		what = "without its Gurney flap"
	}
	p.f("  %c %s:", letter, what)
	for _, f := range figures.Compared(t.Car) {
		std, _ := f.StdUncOf(g.difference)
		change, band := f.ChangeWithStdUnc(f.Of(other, g.with), f.Of(t, r), std, u)
		p.f(" %s %s ± %s %s;", f.Name, change, band, f.ChangeUnit(u))
	}
	switch {
	case g.with.Stalled:
		p.f(" it is STALLED, %s° past maximum CL\n", units.Fixed(-g.with.StallMargin/plane.Deg, 1))
	case g.byAngle == nil:
		p.f(" no angle of the wing as it is does as much\n")
	default:
		p.f(" as much as %s° of angle, which would have %s of drag; stall margin %s°\n", units.Signed(g.turn/plane.Deg, 1),
			u.Force(g.byAngle.Drag), units.Fixed(g.with.StallMargin/plane.Deg, 1))
	}
	return nil
}

// gurneyJSON is the same as an object.
func gurneyJSON(t *model.Table, r *model.Row, height float64) (object, error) {
	g, other, err := changeBy(t, r, height)
	if err != nil {
		return nil, err
	}
	all := object{{"id", r.ID}, {"gurney_mm", number(height)}, {"with", setting(other, g.with)}}
	for _, f := range figures.Compared(t.Car) {
		std, _ := f.StdUncOf(g.difference)
		key, stdKey := f.ChangeKeys()
		all = append(all, field{key, number(f.InFile(f.Of(other, g.with) - f.Of(t, r)))}, field{stdKey, number(f.InFile(std))})
	}
	var turn, drag *float64
	if g.byAngle != nil {
		turn, drag = figure(g.turn/plane.Deg, 3), figure(g.byAngle.Drag, 2)
	}
	return append(all, field{"angle_for_it_deg", turn}, field{"drag_by_angle_n", drag}), nil
}

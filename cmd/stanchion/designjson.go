package main

import (
	"context"

	"github.com/spf13/cobra"

	"stanchion/holes/plane"
	"stanchion/model/design"
	"stanchion/model/strength"
	"stanchion/model/words"
)

type drilledJSON struct {
	Part    string       `json:"part"`
	Holes   []partHole   `json:"holes"`
	Outline [][2]float64 `json:"outline"`

	Cutouts [][][2]float64 `json:"cutouts"`
}

type partHole struct {
	ID    string  `json:"id"`
	X     float64 `json:"x_mm"`
	Z     float64 `json:"z_mm"`
	D     float64 `json:"d_mm"`
	Joint string  `json:"joint,omitempty"`
}

type designLevelJSON struct {
	Height   float64   `json:"height_mm"`
	Angles   []float64 `json:"angles_deg"`
	Widest   *float64  `json:"widest_step_deg"`
	Given    bool      `json:"as_wanted"`
	Breaking int       `json:"breaking_limits"`
}

type proposalJSON struct {
	BestAt   []string          `json:"best_at"`
	Parts    []drilledJSON     `json:"parts"`
	Levels   []designLevelJSON `json:"levels"`
	Settings []settingJSON     `json:"settings"`
	Bound    string            `json:"bound"`
	Holes    int               `json:"holes"`
	Pitch    *float64          `json:"wing_bolts_apart_mm"`
	Tilts    []float64         `json:"foot_tilts_deg"`
	Arm      *float64          `json:"arm_mm"`
	Area     *float64          `json:"plate_area_mm2"`
	Mass     *float64          `json:"plate_mass_kg"`
	Shape    string            `json:"shape"`
	Around   []string          `json:"cranked_round"`
	Neck     *neckJSON         `json:"swan_neck,omitempty"`
	Whole    *float64          `json:"mass_without_cutouts_kg"`
	Slot     *float64          `json:"slot_mm"`
	Drilled  drilledOffJSON    `json:"drilled_off"`
	Strength string            `json:"strength"`
	Verdict  string            `json:"strength_verdict"`
}

// drilledOffJSON is what errors of drilling do.
type drilledOffJSON struct {
	Off   *float64 `json:"off_mm"`
	Fit   *float64 `json:"all_bolts_go_in_pct"`
	Wider *float64 `json:"holes_wider_by_mm"`
	Angle *float64 `json:"angle_std_unc_deg"`
	Apart *float64 `json:"left_right_std_unc_deg"`
}

// designJSON prints the proposals.
func designJSON(ctx context.Context, cmd *cobra.Command, d *design.Designed, off float64) error {
	all := struct {
		Format    int            `json:"format"`
		Proposals []proposalJSON `json:"proposals"`
		Fewest    int            `json:"fewest_holes_by_counting"`
		Looked    int            `json:"plates_compared"`
	}{1, []proposalJSON{}, d.Bound, d.Looked}
	for i := range d.Proposals {
		one, err := proposalOf(ctx, d, &d.Proposals[i], off)
		if err != nil {
			return err
		}
		all.Proposals = append(all.Proposals, one)
	}
	return writeJSON(cmd.OutOrStdout(), all)
}

func proposalOf(ctx context.Context, d *design.Designed, p *design.Proposal, off float64) (proposalJSON, error) {
	one := proposalJSON{BestAt: []string{}, Bound: words.DesignBound(d), Holes: p.Holes(), Pitch: figure(p.Pitch, 2), Tilts: []float64{}, Arm: figure(p.Arm, 1),
		Area: figure(p.Area, 0), Settings: []settingJSON{}, Verdict: strength.NotChecked.String(),
		Shape: p.Shape.Key(), Around: append([]string{}, p.Around...), Neck: neckOf(p)}
	for _, m := range p.Merits {
		one.BestAt = append(one.BestAt, m.Key())
	}
	a := p.Accuracy(off)
	one.Drilled = drilledOffJSON{figure(a.Off, 2), figure(100*a.Fit, 0), figure(a.Saves.Value(), 1), figure(a.Angle/plane.Deg, 2), figure(a.Apart/plane.Deg, 2)}
	for _, t := range p.Tilts {
		one.Tilts = append(one.Tilts, *figure(t/plane.Deg, 3))
	}
	if kg, ok := strength.PlateMass(p.Plate()); ok {
		one.Mass = figure(kg, 3)
	}
	if p.Lightened != nil && p.Lightened.Before > 0 {
		one.Whole = figure(p.Lightened.Before, 3)
	}
	if p.Slot > 0 {
		one.Slot = figure(p.Slot, 1)
	}
	for at := min(1, 1-min(p.Bracket, 1)); at <= 2; at++ {
		part := &p.Car.Parts[at]
		j := drilledJSON{Part: part.Name, Holes: []partHole{}, Outline: [][2]float64{}, Cutouts: [][][2]float64{}}
		for _, h := range part.Holes {
			j.Holes = append(j.Holes, partHole{h.ID, h.X, h.Z, h.D, h.Joint})
		}
		for _, q := range part.Outline {
			j.Outline = append(j.Outline, [2]float64{q.X, q.Z})
		}
		for _, c := range part.Cutouts {
			ring := make([][2]float64, len(c))
			for i, q := range c {
				ring[i] = [2]float64{q.X, q.Z}
			}
			j.Cutouts = append(j.Cutouts, ring)
		}
		one.Parts = append(one.Parts, j)
	}
	for _, l := range p.Levels {
		j := designLevelJSON{Height: l.Height, Angles: []float64{}, Widest: figure(l.Widest/plane.Deg, 3), Given: l.Given, Breaking: l.Breaking}
		for _, a := range l.Angles {
			j.Angles = append(j.Angles, *figure(a/plane.Deg, 3))
		}
		one.Levels = append(one.Levels, j)
	}
	for i := range p.Table.Rows {
		one.Settings = append(one.Settings, setting(p.Table, &p.Table.Rows[i]))
	}
	f, s, err := p.Strength(ctx)
	switch {
	case f == nil:
		one.Strength = err.Error()
		return one, nil
	case err != nil:
		return one, err
	}
	if s.Worst.Row == nil {
		one.Strength = whyNoLoads(f, s, shown(p.Car))
		return one, nil
	}
	one.Verdict, one.Strength = s.Verdict().String(), words.ScopeHeadline(f, s, shown(p.Car))
	return one, nil
}

package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"stanchion/model"
	"stanchion/model/calibrate"
	"stanchion/model/given"
	"stanchion/model/units"
	"stanchion/model/words"
)

func newClaim() *cobra.Command {
	var o options
	var force, at string
	c := &cobra.Command{
		Use:   "claim CARFILE",
		Short: "what a maker's single downforce figure would need, and at which speeds it is credible",
		Long: `claim takes a maker's figure, "it makes up to so many newtons", and works out the
lift coefficient that it would need over a range of speeds, and how that compares with
the maximum of this section, span and end plates, clean. The figure is [claim] downforce in
the car file, in N, or --downforce; the air is taken undisturbed, as makers quote.

` + claimRules() + `

With [claim] downforce and speed in the car file, and where that is likely, the wing's lift
is scaled to it in all figures: at the maker's speed its maximum is what the maker says. One
that is only possible changes no figure. Strength takes the larger of what is expected and
a claim that is likely or possible.

A speed beyond the car's top speed, by power and drag area without the wing, is named so;
where they are not given, beyond the design speed of strength, or beyond 280 km/h. All
speeds with the CL needed are in the JSON.

Exit code 1 means that the figure is credible at no speed looked at.`,
		Example: `  stanchion claim car.toml
  stanchion claim car.toml --downforce 1200N
  stanchion claim car.toml --downforce 120kgf --at 200km/h`,
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
			if err := claimFlags(car, force, at); err != nil {
				return err
			}
			var speeds []float64
			for v := 60.0; v <= 300; v += 20 {
				speeds = append(speeds, v*units.KPH)
			}
			answer, err := calibrate.CheckClaim(car, speeds)
			if err != nil {
				return err
			}
			if o.format == "json" {
				err = claimJSON(cmd, answer)
			} else {
				err = claimText(cmd, car, answer, shown(car))
			}
			if answer.Credible() {
				return err
			}
			return errors.Join(err, noAnswer("%s: %s is not credible at any speed up to %s", args[0], shown(car).Force(car.Claim.Downforce.Value()),
				shown(car).Speed(300*units.KPH)))
		},
	}
	c.Flags().StringVar(&force, "downforce", "", "the maker's figure, `FORCE` such as 1200N, 120kgf or 270lbf (default: the car file's)")
	c.Flags().StringVar(&at, "at", "", "`SPEED` that the maker names with it")
	o.add(c, "", "text", "json")
	return c
}

// claimRules is what the verdicts mean, as lines of a help text.
func claimRules() string { return "  " + strings.Join(words.ClaimRules(), "\n  ") }

func claimFlags(car *model.Car, force, at string) error {
	if force != "" {
		f, err := units.Forces.Parse(force, shown(car).ForceUnit())
		if err != nil {
			return fmt.Errorf("--downforce %w", err)
		}
		if f <= 0 {
			return fmt.Errorf("--downforce %s; it must be more than 0", force)
		}
		car.Claim = model.Claim{Downforce: given.Is(f)}
	}
	if at != "" {
		v, err := units.Speeds.Parse(at, shown(car).SpeedUnit())
		if err != nil {
			return fmt.Errorf("--at %w", err)
		}
		if v <= 0 || v > model.MaxSpeed {
			return fmt.Errorf("--at %s; it must be more than 0, up to %s", at, shown(car).Speed(model.MaxSpeed))
		}
		car.Claim.Speed = given.Is(v)
	}
	if !car.Claim.Downforce.Known() {
		return errors.New("no figure to judge; give [claim] downforce in the car file, or --downforce 1200N on the command line")
	}
	return nil
}

func claimJSON(cmd *cobra.Command, a calibrate.ClaimAnswer) error {
	type row struct {
		Speed    *float64 `json:"speed_m_s"`
		Needed   *float64 `json:"cl_needed"`
		Most     *float64 `json:"cl_most"`
		MostBand *float64 `json:"cl_most_band"`
		From     *float64 `json:"cl_likely_from"`
		To       *float64 `json:"cl_likely_to"`
		Limit    *float64 `json:"cl_credible_to"`
		Verdict  string   `json:"verdict"`
		Credible bool     `json:"credible"`
		Why      string   `json:"why"`
	}
	of := func(r model.ClaimRow) row {
		from, to := r.Likely()
		return row{figure(r.Speed, 3), figure(r.Needed, 3), figure(r.MaxCL, 3), figure(r.StdUnc, 3), figure(from, 3), figure(to, 3), figure(r.Most(), 3),
			r.Verdict().Key(), r.Credible(), words.Claim(r)}
	}
	doc := struct {
		Rows       []row    `json:"rows"`
		LikelyFrom *float64 `json:"likely_from_m_s"`
		LikelyTo   *float64 `json:"likely_to_m_s"`
		ImpliedCL  *float64 `json:"implied_cl"`
		Own        *row     `json:"at_own_speed"`
		From       *float64 `json:"credible_from_m_s"`
		Top        *float64 `json:"top_speed_m_s"`
		TopBand    *float64 `json:"top_speed_band_m_s"`
		TopFrom    string   `json:"top_speed_from"`
		Beyond     bool     `json:"own_speed_beyond_top"`
	}{LikelyFrom: figure(a.Likely[0], 3), LikelyTo: figure(a.Likely[1], 3), ImpliedCL: figure(a.ImpliedCL, 4), From: figure(a.From, 3),
		Top: figure(a.Top.Speed, 3), TopBand: figure(a.Top.StdUnc, 3),
		TopFrom: map[calibrate.TopFrom]string{calibrate.TopByPower: "power_and_drag_area", calibrate.TopByDesign: "design_speed", calibrate.TopAsUsual: "common_practice"}[a.Top.By]}
	for _, r := range a.Rows {
		doc.Rows = append(doc.Rows, of(r))
	}
	if r, ok := a.Own(); ok {
		own := of(r)
		doc.Own, doc.Beyond = &own, a.Top.Below(r.Speed)
	}
	return writeJSON(cmd.OutOrStdout(), doc)
}

func claimText(cmd *cobra.Command, car *model.Car, a calibrate.ClaimAnswer, u units.System) error {
	p := out(cmd)
	p.hang(min(p.cells(), words.LineWidth), words.ClaimLines(car, a, u)...)
	return p.err
}

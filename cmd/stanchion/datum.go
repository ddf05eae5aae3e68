package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"stanchion/holes/plane"
	"stanchion/model/calibrate"
	"stanchion/model/carfile"
	"stanchion/model/words"
)

func newDatum() *cobra.Command {
	var o options
	var write bool
	c := &cobra.Command{
		Use:   "datum CARFILE",
		Short: "what the bracket's angle and place really are, from readings with the wing on",
		Long: `datum fits the fixed part's angle and height to readings: [[measured]] tables with
a setting's id, the angle of its chord to level ground in degrees, and if you like
its height, the reading's uncertainty and the side of the car.

  [[measured]]
  setting = "A:F+A2:R"
  angle   = 6.4
  reading = 0.2
  side    = "left"

One reading tells the angle; three on two settings tell one that does not fit.
--write puts the corrected angle and height in the car file after showing the
change. Exit code 1 means that there are no readings.`,
		Example:           "  stanchion datum car.toml\n  stanchion datum car.toml --write",
		Args:              arguments(1, 1),
		ValidArgsFunction: carFiles,
		RunE:              func(cmd *cobra.Command, args []string) error { return o.datum(cmd, args[0], write) },
	}
	o.add(c, "", "text", "json")
	c.Flags().BoolVar(&write, "write", false, "put the corrected place in the car file")
	return c
}

// datum fits the fixed part's place to a car file's readings, shows it, and if asked to puts it
// in the file.
func (o *options) datum(cmd *cobra.Command, path string, write bool) error {
	t, err := o.table(path)
	if err != nil {
		return err
	}
	if len(t.Car.Readings) == 0 {
		return noAnswer("%s: no readings; add [[measured]] tables with a setting and its angle or height", path)
	}
	d, err := calibrate.FitDatum(t, t.Car.Readings)
	if err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	if o.format == "json" {
		err = writeJSON(cmd.OutOrStdout(), datumJSON(d))
	} else {
		p := out(cmd)
		for _, l := range words.DatumLines(t, d, shown(t.Car)) {
			p.f("%s\n", l)
		}
		err = p.err
	}
	if err != nil || !write {
		return err
	}
	for _, r := range d.Residuals {
		if r.Suspect {
			return fmt.Errorf("%s is not changed: the reading with %s does not fit the rest: read it again, or take it out", path, r.Setting)
		}
	}
	fixed := calibrate.Corrected(t.Car, d).Fixed
	return rewrite(cmd, path, "the correction of the fixed part", func(text []byte) ([]carfile.Edit, error) { return carfile.SetFixed(text, fixed) })
}

// datumJSON is the JSON document of a fit.
func datumJSON(d calibrate.Datum) any {
	type residual struct {
		Setting string   `json:"setting"`
		Side    string   `json:"side,omitempty"`
		Angle   *float64 `json:"angle_deg"`
		Height  *float64 `json:"height_mm"`
		Suspect bool     `json:"suspect"`
	}
	doc := struct {
		Angle     *float64   `json:"angle_deg"`
		AngleBand *float64   `json:"angle_band_deg"`
		X         *float64   `json:"x_mm"`
		Z         *float64   `json:"z_mm"`
		ZBand     *float64   `json:"z_band_mm"`
		Twist     *float64   `json:"twist_deg"`
		Residuals []residual `json:"residuals"`
	}{figure(d.Angle/plane.Deg, 4), figure(d.AngleStdUnc/plane.Deg, 4), figure(d.X, 3), figure(d.Z, 3), figure(d.ZStdUnc, 3),
		figure(d.Twist/plane.Deg, 4), nil}
	for _, r := range d.Residuals {
		doc.Residuals = append(doc.Residuals, residual{r.Setting, r.Side, figure(r.Angle/plane.Deg, 4), figure(r.Height, 3), r.Suspect})
	}
	return doc
}

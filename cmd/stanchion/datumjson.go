package main

import (
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/calibrate"
)

// datumJSON is the JSON document of a fit.
func datumJSON(t *model.Table, d calibrate.Datum) any {
	type residual struct {
		Setting  string   `json:"setting"`
		Side     string   `json:"side,omitempty"`
		Face     string   `json:"face,omitempty"`
		Floor    string   `json:"floor,omitempty"`
		Measured *float64 `json:"measured_angle_deg"` // of the chord to the ground, by the level
		Read     *float64 `json:"measured_angle_band_deg"`
		Taped    *float64 `json:"tape_angle_deg"`
		TapeBand *float64 `json:"tape_angle_band_deg"`
		Angle    *float64 `json:"angle_deg"`
		Height   *float64 `json:"height_mm"`
		Leading  *float64 `json:"leading_mm"`
		Trailing *float64 `json:"trailing_mm"`
		Times    *float64 `json:"over_uncertainty"`
		Suspect  bool     `json:"suspect"`
		LeftOut  bool     `json:"left_out"`
		Disagree bool     `json:"disagrees"`
		Rebolted bool     `json:"rebolted,omitempty"`
		Slip     *string  `json:"slip"`
	}
	type floor struct {
		Name     string   `json:"name"`
		Slope    *float64 `json:"slope_deg"`
		SlopeUnc *float64 `json:"slope_band_deg"`
		Zero     *float64 `json:"level_zero_deg"`
		ZeroUnc  *float64 `json:"level_zero_band_deg"`
		Disagree bool     `json:"disagrees"`
	}
	type threshold struct {
		Times      *float64 `json:"over_uncertainty"`
		Figures    int      `json:"figures"`
		FalseAlarm *float64 `json:"false_alarm"`
		Source     string   `json:"source"`
	}
	type untold struct {
		What calibrate.Unknown `json:"what"`
		Why  calibrate.Why     `json:"why"`
	}
	type taken struct {
		What     calibrate.Assumption `json:"what"`
		Readings int                  `json:"readings"`
	}
	// The readings by themselves and the car file before them, both as corrections of what the file has.
	type withFile struct {
		Standing calibrate.Standing `json:"standing"`
		Refused  bool               `json:"refused"`
		Read     *float64           `json:"readings_deg"`
		ReadUnc  *float64           `json:"readings_band_deg"`
		File     *float64           `json:"file_deg"`
		FileUnc  *float64           `json:"file_band_deg"`
		Times    *float64           `json:"over_uncertainty"`
		Settings int                `json:"settings"`
	}
	doc := struct {
		Angle     *float64   `json:"angle_deg"`
		AngleBand *float64   `json:"angle_band_deg"`
		X         *float64   `json:"x_mm"`
		XBand     *float64   `json:"x_band_mm"`
		Z         *float64   `json:"z_mm"`
		ZBand     *float64   `json:"z_band_mm"`
		Twist     *float64   `json:"twist_deg"`
		TwistBand *float64   `json:"twist_band_deg"`
		Lean      *float64   `json:"lean_mm"`
		LeanBand  *float64   `json:"lean_band_mm"`
		Differ    bool       `json:"sides_differ"`
		Checked   bool       `json:"checked"`
		Readings  int        `json:"readings"`
		File      withFile   `json:"with_file"`
		Threshold threshold  `json:"threshold"`
		Untold    []untold   `json:"not_told"`
		Taken     []taken    `json:"taken_for_granted"`
		Floors    []floor    `json:"floors"`
		Residuals []residual `json:"residuals"`
	}{
		Angle: figure(d.Angle/plane.Deg, 4), AngleBand: figure(d.AngleStdUnc/plane.Deg, 4), X: figure(d.X, 3),
		Z: figure(d.Z, 3), ZBand: figure(d.ZStdUnc, 3),
		Twist: figure(d.Twist/plane.Deg, 4), TwistBand: figure(d.TwistStdUnc/plane.Deg, 4), Lean: figure(d.Lean, 3), LeanBand: figure(d.LeanStdUnc, 3),
		Differ: d.SidesDiffer(), Checked: d.Checked(),
		Readings:  len(d.Residuals),
		Threshold: threshold{figure(d.Threshold, 3), d.Tests, figure(calibrate.FalseAlarm, 3), "Šidák 1967"},
		File:      withFile{Standing: d.Standing, Refused: d.Refused()},
		Untold:    []untold{}, Taken: []taken{}, Floors: []floor{}, Residuals: []residual{},
	}
	if w := d.WithTheFile; w.Standing != calibrate.NoAngle {
		doc.File = withFile{w.Standing, w.Refused(), figure(w.Read/plane.Deg, 4), figure(w.ReadStdUnc/plane.Deg, 4), figure(w.File/plane.Deg, 4), figure(w.FileStdUnc/plane.Deg, 4),
			figure(w.Times, 3), w.Settings}
	}
	if d.Tests == 0 {
		doc.Threshold.Times = nil
	}
	for _, n := range d.Untold {
		doc.Untold = append(doc.Untold, untold(n))
	}
	for _, a := range d.Taken {
		doc.Taken = append(doc.Taken, taken(a))
	}
	for _, f := range d.Floors {
		doc.Floors = append(doc.Floors, floor{f.Name, figure(f.Slope/plane.Deg, 4), figure(f.SlopeStdUnc/plane.Deg, 4), figure(f.Zero/plane.Deg, 4),
			figure(f.ZeroStdUnc/plane.Deg, 4), f.Disagree})
	}
	for _, r := range d.Residuals {
		f := calibrate.Understand(t.Car, r.Reading)
		doc.Residuals = append(doc.Residuals, residual{
			Setting: r.Setting, Side: r.Side, Face: r.Face, Floor: r.Floor,
			Measured: figure(f.Angle/plane.Deg, 4), Read: figure(f.StdUnc/plane.Deg, 4), Taped: figure(f.TapeAngle/plane.Deg, 4), TapeBand: figure(f.TapeUnc/plane.Deg, 4),
			Angle: figure(r.Off/plane.Deg, 4), Height: figure(r.Heights.Quarter, 3), Leading: figure(r.Heights.Leading, 3), Trailing: figure(r.Heights.Trailing, 3),
			Times: figure(r.Times, 3), Suspect: r.Suspect, LeftOut: r.Suspect, Disagree: r.Disagree, Rebolted: r.Rebolted, Slip: slip(r),
		})
	}
	return doc
}

// slip is what a suspect reading may have wrong.
func slip(r calibrate.Residual) *string {
	if !r.Suspect {
		return nil
	}
	text := map[calibrate.Slip]string{calibrate.SlipAngle: "angle", calibrate.SlipHeight: "height", calibrate.SlipTurning: "turning"}[r.Slip]
	return &text
}

// tapeJSON is the JSON document of what a tape must read.
func tapeJSON(t *model.Table, rows []*model.Row) any {
	type height struct {
		ID       string   `json:"id"`
		Angle    *float64 `json:"angle_deg"`
		Leading  *float64 `json:"leading_mm"`
		Trailing *float64 `json:"trailing_mm"`
		Quarter  *float64 `json:"height_mm"`
		Band     *float64 `json:"tape_angle_band_deg"`
	}
	doc := struct {
		Chord    *float64 `json:"chord_mm"`
		Tape     *float64 `json:"tape_band_mm"`
		Settings []height `json:"settings"`
	}{figure(t.Car.Wing.Chord, 3), figure(model.DefaultTape, 3), []height{}}
	for _, r := range rows {
		lead, trail := calibrate.LeadingEdge(r.Position).Z, calibrate.TrailingEdge(t.Car, r.Position).Z
		_, unc := calibrate.TapeAngle(lead, trail, t.Car.Wing.Chord, model.DefaultTape)
		doc.Settings = append(doc.Settings, height{r.ID, figure(r.Angle/plane.Deg, 4), figure(lead, 2), figure(trail, 2), figure(r.Height, 2), figure(unc/plane.Deg, 3)})
	}
	return doc
}

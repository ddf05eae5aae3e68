package main

import (
	"math"

	"stanchion/model"
	"stanchion/model/calibrate"
	"stanchion/model/logbook"
	"stanchion/model/units"
	"stanchion/model/words"
)

// fitDocument is what "note fit --format json" prints. Unknowns are in the units of the car file.
func fitDocument(t *model.Table, b logbook.Book, l calibrate.Learned, tables fitTables, doubt string) any {
	type unknown struct {
		Key         string   `json:"unknown"`
		Unit        string   `json:"unit"`
		Prior       *float64 `json:"prior"`
		PriorStdUnc *float64 `json:"prior_std_unc"`
		Posterior   *float64 `json:"posterior"`
		StdUnc      *float64 `json:"std_unc"`
	}
	type reading struct {
		Note     string   `json:"note"`
		Kind     string   `json:"reading"`
		Setting  string   `json:"setting"`
		Speed    *float64 `json:"speed_m_s"`
		Unit     string   `json:"unit"`
		Measured *float64 `json:"measured"`
		StdUnc   *float64 `json:"std_unc"`
		Fitted   *float64 `json:"fitted"`
		Off      *float64 `json:"off_std_unc"`
		Suspect  bool     `json:"suspect"`
	}
	type next struct {
		Figure  string   `json:"figure"`
		Unit    string   `json:"unit"`
		Kind    string   `json:"reading"`
		Setting string   `json:"setting"`
		Speed   *float64 `json:"speed_m_s"`
		Before  *float64 `json:"std_unc_before"`
		After   *float64 `json:"std_unc_after"`
	}
	type beforeAfter struct {
		Before    *float64 `json:"before"`
		StdBefore *float64 `json:"std_unc_before"`
		After     *float64 `json:"after"`
		StdAfter  *float64 `json:"std_unc_after"`
	}
	var doc struct {
		Downforce       *float64                `json:"downforce_factor"`
		DownforceStdUnc *float64                `json:"downforce_factor_band"`
		Drag            *float64                `json:"drag_factor"`
		DragStdUnc      *float64                `json:"drag_factor_band"`
		Used            []string                `json:"used"`
		Notes           []string                `json:"notes"`
		Unknowns        []unknown               `json:"unknowns"`
		Covariance      [][]*float64            `json:"covariance"`
		Residuals       []reading               `json:"residuals"`
		Suspects        []reading               `json:"suspects"`
		ChiSquared      *float64                `json:"chi_squared"`
		Chance          *float64                `json:"chance"`
		Widened         *float64                `json:"widened_by"`
		OneSetting      bool                    `json:"one_setting"`
		WorthWriting    bool                    `json:"worth_writing"`
		Doubt           string                  `json:"doubt,omitempty"`
		Setting         *string                 `json:"setting"`
		Figures         map[string]*beforeAfter `json:"figures"`
		Next            []next                  `json:"next"`
	}
	doc.Used, doc.Notes = []string{}, units.AllIn(l.Notes, units.Metric)
	doc.Unknowns, doc.Covariance, doc.Residuals, doc.Suspects, doc.Next = []unknown{}, [][]*float64{}, []reading{}, []reading{}, []next{}
	doc.ChiSquared, doc.Chance, doc.Widened, doc.OneSetting = figure(l.ChiSquared, 3), figure(l.Chance, 5), figure(l.Widened, 3), l.OneSetting
	doc.WorthWriting, doc.Doubt = l.Fit != nil && doubt == "", doubt
	for i, x := range l.Unknowns {
		_, size := x.Of.FileUnit()
		digits := digitsOf(x.StdUnc / size)
		doc.Unknowns = append(doc.Unknowns, unknown{x.Of.Key(), fitUnit(x.Of), figure(x.Before/size, digits), figure(x.BeforeStdUnc/size, digits), figure(x.Value/size, digits), figure(x.StdUnc/size, digits)})
		var row []*float64
		for k, y := range l.Unknowns {
			_, other := y.Of.FileUnit()
			row = append(row, figure(l.Cov.At(i, k)/(size*other), digits+digitsOf(y.StdUnc/other)))
		}
		doc.Covariance = append(doc.Covariance, row)
		switch {
		case l.Fit == nil:
		case x.Of == model.LiftFactor:
			doc.Downforce, doc.DownforceStdUnc = figure(x.Value, 4), figure(x.StdUnc, 4)
		case x.Of == model.DragFactor:
			doc.Drag, doc.DragStdUnc = figure(x.Value, 4), figure(x.StdUnc, 4)
		}
	}
	for _, r := range l.Readings {
		unit := "mm"
		switch r.Kind {
		case calibrate.TopSpeed:
			unit = "m_s"
		case calibrate.CoastArea:
			unit = "m2"
		}
		one := reading{r.Note, words.ReadingName(r.Kind), r.Setting, figure(r.Speed, 3), unit, figure(r.Measured, 3), figure(r.StdUnc, 3), figure(r.Fitted, 3), figure(r.Off, 2), r.Suspect}
		doc.Residuals = append(doc.Residuals, one)
		if r.Suspect {
			doc.Suspects = append(doc.Suspects, one)
		} else {
			doc.Used = append(doc.Used, "note "+r.Note+": "+words.ReadingName(r.Kind)+" at "+units.Metric.Speed(r.Speed))
		}
	}
	if x, ok := lastNoted(tables.before, b.Notes); ok && l.Fit != nil {
		y, _ := tables.after.Find(x.ID)
		doc.Setting = &x.ID
		before, after := tables.before.Budget(x), tables.after.Budget(y)
		pair := func(a, as, b, bs float64, digits int) *beforeAfter {
			return &beforeAfter{figure(a, digits), figure(as, digits), figure(b, digits), figure(bs, digits)}
		}
		doc.Figures = map[string]*beforeAfter{
			"downforce_n":        pair(x.Downforce, before.Downforce, y.Downforce, after.Downforce, 1),
			"downforce_on_car_n": pair(x.OnCar, before.OnCar, y.OnCar, after.OnCar, 1),
			"drag_n":             pair(x.Drag, before.Drag, y.Drag, after.Drag, 1),
			"front_share_pct":    pair(100*x.Share, 100*before.Share, 100*y.Share, 100*after.Share, 3),
			"balance_shift_pp":   pair(100*x.Shift, 100*before.Shift, 100*y.Shift, 100*after.Shift, 3),
		}
		for _, n := range fitNext(l, x) {
			unit, size, digits := "n", 1.0, 1
			if n.key == "front_share" {
				unit, size, digits = "pct", 100, 3
			}
			r := n.reading
			doc.Next = append(doc.Next, next{n.key, unit, words.ReadingName(r.Kind), r.Row.ID, figure(r.Speed, 3), figure(size*r.Before, digits), figure(size*r.After, digits)})
		}
	}
	return doc
}

// digitsOf is how many digits behind the point give a number of that size with three.
func digitsOf(std float64) int {
	if !(std > 0) {
		return 3
	}
	return max(0, 2-int(math.Floor(math.Log10(std))))
}

package words

import (
	"math"
	"strings"
	"testing"

	"stanchion/model"
	"stanchion/model/calibrate"
	"stanchion/model/given"
	"stanchion/model/units"
)

// What figures are scaled to is said, and only that.
func TestScaled(t *testing.T) {
	for _, c := range []struct {
		claim float64
		fit   model.Scale
		want  string
	}{
		{1, model.NoScale(), ""}, {0, model.NoScale(), ""}, {0.9, model.NoScale(), "scaled to maker's claim"},
		{1, model.Scale{Factor: 0.8, StdUnc: 0.1}, "fitted to the track"},
		{0.9, model.Scale{Factor: 0.8, StdUnc: 0.1}, "scaled to maker's claim, fitted to the track"},
	} {
		car := &model.Car{TrackFit: model.NoFit()}
		car.TrackFit.Downforce = c.fit
		if got := Scaled(&model.Table{Car: car, Wing: model.WingCurve{ClaimScale: c.claim}}); got != c.want {
			t.Errorf("claim %g, fit %+v: %q, want %q", c.claim, c.fit, got, c.want)
		}
	}
}

// What is said of a claim of 1200 N, by the speeds at which it is likely and how fast the car goes: 1200 N at 60 m/s
// are 1200·(50/60)² = 833 N at 50 m/s.
func TestClaimLines(t *testing.T) {
	none := math.NaN()
	for _, c := range []struct {
		likely       [2]float64
		from, needed float64 // needed is the CL at the speeds that were looked at, of a maximum of 1.4
		top          calibrate.Top
		own          float64
		want, not    string
	}{
		{[2]float64{50, 60}, 45, 1, calibrate.Top{Speed: 70, StdUnc: 2}, none, "Likely from 180 km/h to 216 km/h.\nNot credible below 162 km/h; above 216 km/h the wing makes more than that.", "BEYOND"},
		{[2]float64{50, 60}, 45, 1, calibrate.Top{Speed: 47, StdUnc: 2}, none, "BEYOND THE CAR'S TOP SPEED, 169 km/h ± 7 km/h without the wing: on this car the claim is likely at no speed.", "own"},
		{[2]float64{50, 60}, 45, 1, calibrate.Top{Speed: 49, StdUnc: 2}, none, "Likely from", "BEYOND"},
		{[2]float64{50, 60}, 45, 1, calibrate.Top{Speed: 50, By: calibrate.TopByDesign}, 60, "BEYOND THE DESIGN SPEED OF STRENGTH, 180 km/h: there the same wing would make 833 N", "at no speed"},
		{[2]float64{50, 60}, 45, 1, calibrate.Top{Speed: 50, By: calibrate.TopAsUsual}, 60, "BEYOND WHAT CARS ON TRACK DAYS REACH, 180 km/h (common practice;", ""},
		{[2]float64{50, 60}, 45, 1, calibrate.Top{Speed: 60}, 60, "At the maker's own 216 km/h: possible, needs CL 1.00", "BEYOND"},
		{[2]float64{none, none}, 200, 9, calibrate.Top{Speed: 70}, none, "Likely at no speed up to 288 km/h, and not credible either.", "below"},
		{[2]float64{none, none}, 10, 0.1, calibrate.Top{Speed: 70}, none, "Likely at no speed from 288 km/h to 288 km/h: the wing makes more than that.", "credible"},
		{[2]float64{none, none}, 79, 1.5, calibrate.Top{Speed: 70}, none, "Likely at no speed up to 288 km/h; not credible below 284 km/h.", "more"},
	} {
		row := func(v float64) model.ClaimRow {
			return model.ClaimRow{Speed: v, Needed: c.needed, MaxCL: 1.4, StdUnc: 0.1}
		}
		car := &model.Car{Name: "x", Claim: model.Claim{Downforce: given.Is(1200)}}
		a := calibrate.ClaimAnswer{Rows: []model.ClaimRow{row(80)}, Likely: c.likely, From: c.from, Top: c.top}
		if !math.IsNaN(c.own) {
			own := row(c.own)
			a.Implied = &own
		}
		if got := strings.Join(ClaimLines(car, a, units.Metric), "\n"); !strings.Contains(got, c.want) || c.not != "" && strings.Contains(got, c.not) {
			t.Errorf("likely %v, from %g, top %+v, own %g:\n%s\nwant %q, not %q", c.likely, c.from, c.top, c.own, got, c.want, c.not)
		}
	}
}

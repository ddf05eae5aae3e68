package words

import (
	"testing"

	"stanchion/model"
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

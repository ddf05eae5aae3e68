package figures

import (
	"math"
	"testing"

	"stanchion/holes/plane"
	"stanchion/model/units"
)

// By hand: 50.06 less 50.00 % is 0.06 ± 0.04 pp, 1.5 standard uncertainties, while 50.1 less 50.0 with ± 0.0 would be
// any number of them; 0.06 ± 0.10 is below 1, and 0.1 ± 0.1 would be 1; 0.09 ± 0.08 is not clear, with a ± of one of the
// last digit. 7.1 less 6.0° with ± 0.2° is clear either way.
func TestChangeIsNotMisledByRounding(t *testing.T) {
	share, force, angle := Get(FrontShare), Get(Downforce), Get(GroundAngle)
	for _, c := range []struct {
		f                   Figure
		now, before, stdUnc float64
		change, band        string
	}{
		{share, 0.5006, 0.5, 0.0004, "+0.06", "0.04"},
		{share, 0.5006, 0.5, 0.0010, "+0.06", "0.10"},
		{share, 0.5009, 0.5, 0.0008, "+0.09", "0.08"},
		{share, 0.502, 0.5, 0.0005, "+0.2", "0.1"},
		{share, 0.5001, 0.5, 0.0002, "+0.01", "0.02"},
		{force, 356.6, 300, 28.4, "+56.6", "28.4"},
		{share, 0.5, 0.5, 0, "0.0", "0.0"},
		{force, 300, 356.4, 20, "−56", "20"},
		{angle, 7.1 * plane.Deg, 6 * plane.Deg, 0.2 * plane.Deg, "+1.1", "0.2"},
	} {
		if change, band := c.f.ChangeWithStdUnc(c.now, c.before, c.stdUnc, units.Metric); change != c.change || band != c.band {
			t.Errorf("%s from %g to %g ± %g: %s ± %s, want %s ± %s", c.f.Name, c.before, c.now, c.stdUnc, change, band, c.change, c.band)
		}
	}
	if change, band := share.ChangeWithStdUnc(math.NaN(), 0.5, 0.1, units.Metric); change != units.NotGiven || band != "10.0" {
		t.Errorf("an unknown share: %q ± %q", change, band)
	}
}

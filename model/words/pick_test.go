package words

import (
	"testing"

	"stanchion/model/choose"
	"stanchion/model/units"
)

// A balance that misses by less than is shown gets a second decimal, so that the sentence does not
// contradict itself.
func TestBalanceThatJustMisses(t *testing.T) {
	for _, c := range []struct {
		s    choose.Shortfall
		want string
	}{
		{choose.Shortfall{Obstacle: choose.OffFrontShare, Have: 0.512, Wanted: 0.495, Tolerance: 0.005}, "front share 51.2 %, target 49.5 ± 0.5 %"},
		{choose.Shortfall{Obstacle: choose.OffFrontShare, Have: 0.5002, Wanted: 0.495, Tolerance: 0.005}, "front share 50.02 %, target 49.50 ± 0.50 %"},
		{choose.Shortfall{Obstacle: choose.OffBalanceShift, Have: -0.0282, Wanted: -0.025, Tolerance: 0.003}, "share shift −2.82 pp, target −2.50 ± 0.30 pp"},
		{choose.Shortfall{Obstacle: choose.OffBalanceShift, Have: -0.029, Wanted: -0.025, Tolerance: 0.003}, "share shift −2.9 pp, target −2.5 ± 0.3 pp"},
	} {
		if got := Shortfall(c.s, units.Metric); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

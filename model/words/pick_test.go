package words

import (
	"testing"

	"stanchion/holes/plane"
	"stanchion/model/choose"
	"stanchion/model/given"
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

// A figure that is beyond a limit by less than is shown gets as many more digits as show it: 40.3 N above 40 N, not
// 40 N; a limit that has more digits of its own is spelt with them too. 24 in are 609.6 mm.
func TestFigureThatJustMisses(t *testing.T) {
	imperial := units.SystemOf("in", "lb", "mph")
	for _, c := range []struct {
		s    choose.Shortfall
		u    units.System
		want string
	}{
		{choose.Shortfall{Obstacle: choose.AboveMaxDrag, Have: 41, Wanted: 40}, units.Metric, "drag 41 N (4 kgf), maximum 40 N (4 kgf)"},
		{choose.Shortfall{Obstacle: choose.AboveMaxDrag, Have: 40.3, Wanted: 40}, units.Metric, "drag 40.3 N, above the maximum of 40 N"},
		{choose.Shortfall{Obstacle: choose.AboveMaxDrag, Have: 40.004, Wanted: 40}, units.Metric, "drag 40.004 N, above the maximum of 40 N"},
		{choose.Shortfall{Obstacle: choose.BelowMinDownforce, Have: 400.31, Wanted: 400.34}, units.Metric, "downforce 400.31 N, below the minimum of 400.34 N"},
		{choose.Shortfall{Obstacle: choose.BelowMinStallMargin, Have: 1.98 * plane.Deg, Wanted: 2 * plane.Deg}, units.Metric, "stall margin 1.98°, below the minimum of 2.0°"},
		{choose.Shortfall{Obstacle: choose.AboveMaxHeight, Have: 609.68, Wanted: 609.6}, imperial, "height 24.003 in, above the maximum of 24.00 in"},
		{choose.Shortfall{Obstacle: choose.AboveMaxDrag, Have: 27.1, Wanted: 6 * units.LBF}, imperial, "drag 6.1 lbf, above the maximum of 6 lbf"},
		{choose.Shortfall{Obstacle: choose.AboveMaxDrag, Have: 40.0000001, Wanted: 40}, units.Metric, "drag just above the maximum of 40 N (4 kgf)"},
	} {
		if got := Shortfall(c.s, c.u); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

// A chance that comes from draws is called about, in steps of 5 % and never more than there is; a setting that meets
// what was asked for is not told with less.
func TestChanceFromDrawsIsRounded(t *testing.T) {
	for _, c := range []struct {
		of, stdUnc float64
		want       string
	}{
		{0.497, 0, "49 %"}, {0.497, 0.016, "about 45 %"}, {0.5, 0.016, "about 50 %"}, {0.03, 0.005, "under 5 %"}, {0, 0.001, "under 1 %"}, {0.005, 0.002, "under 1 %"},
		{1, 0.001, "over 99 %"}, {0.993, 0.003, "about 95 %"}, {0.995, 0, "over 99 %"}, {0.004, 0, "under 1 %"},
	} {
		if got := chance(choose.Probability{Of: c.of, StdUnc: c.stdUnc}); got != c.want {
			t.Errorf("%g ± %g: %q, want %q", c.of, c.stdUnc, got, c.want)
		}
	}
	asked := choose.Criteria{MinChance: given.Is(0.53)}
	for of, want := range map[float64]string{0.54: "about 53 %", 0.56: "about 55 %", 0.52: "about 50 %"} {
		if got := chanceMet(choose.Probability{Of: of, StdUnc: 0.016}, &asked); got != want {
			t.Errorf("%g with 53 %% asked for: %q, want %q", of, got, want)
		}
	}
}

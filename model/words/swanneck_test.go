package words

import (
	"strings"
	"testing"

	"stanchion/model/design"
	"stanchion/model/units"
)

// TestNoSwanNeck: what to order is said with the flag that takes it, in the unit system; other reasons are not of swan necks.
func TestNoSwanNeck(t *testing.T) {
	low := &design.Designed{Why: design.LowMounts, Mounts: 55}
	for want, got := range map[string]string{
		"order top mounts with bolts about 55mm above the chord line, and give --mounts-above 55mm": NoSwanNeck(low, units.Metric),
		"--mounts-above 2.165in": NoSwanNeck(low, units.Imperial),
		"too near to it or in it; try --mounts-above 55mm": NoSwanNeck(&design.Designed{Why: design.LowMounts, Mounts: 55,
			Wish: design.Wish{Above: []float64{25}}}, units.Metric),
		"no way from the foot round the wing": NoSwanNeck(&design.Designed{Why: design.NoWay}, units.Metric),
	} {
		if !strings.Contains(got, want) {
			t.Errorf("%q, want %q", got, want)
		}
	}
	for _, why := range []design.Short{design.NoFoot, design.NoHead, design.NotListed} {
		if got := NoSwanNeck(&design.Designed{Why: why}, units.Metric); got != "" {
			t.Error(got)
		}
	}
}

// TestSwanNeckLines: what is free, what is assumed of the section and the air, and which bolts stand how high.
func TestSwanNeckLines(t *testing.T) {
	n := design.Neck{Gap: 10, Nearest: 10.4, Below: 84, Width: 60, Drawn: true, Front: 45, Rear: 45, LostKnown: true, Lost: 0.004, LostUnder: 0.019}
	one := strings.Join(SwanNeck(&design.Proposal{Neck: &n}, units.Metric), "\n")
	for _, want := range []string{"round the wing's leading edge, at least 60.0 mm wide, 10.4 mm from the wing's section at its nearest, free for 84 mm below it",
		"wing's bolts 45.0 mm above the chord line", "to cost 0.4 % of the lift", "up to 1.9 % if all of it did", "not modelled"} {
		if !strings.Contains(one, want) {
			t.Errorf("%q is missing in\n%s", want, one)
		}
	}
	if strings.Contains(one, "order") || strings.Contains(one, "not known") {
		t.Error(one)
	}
	n = design.Neck{Gap: 10, Nearest: 10.4, Below: 10, Width: 60, Behind: true, Front: 45, Rear: 40, Ordered: true}
	two := strings.Join(SwanNeck(&design.Proposal{Neck: &n}, units.Metric), "\n")
	for _, want := range []string{"trailing edge", "no room is left free", "45.0 mm (front) and 40.0 mm (rear) above the chord line: order top mounts for that; how they hold", "section is not known", "not worked out"} {
		if !strings.Contains(two, want) {
			t.Errorf("%q is missing in\n%s", want, two)
		}
	}
	n.LostKnown, n.Lost = true, 0.004
	if got := neckAir(&n); !strings.Contains(got, "0.4 % of the lift, as of a plate above") || strings.Contains(got, "leading edge") {
		t.Error(got)
	}
	if SwanNeck(&design.Proposal{}, units.Metric) != nil {
		t.Error("a plate that is none has lines")
	}
}

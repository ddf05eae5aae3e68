package aero

import (
	"math"
	"testing"
)

// Flow between two heights by straight lines, none beyond them; one point holds at all heights.
func TestFlowByHand(t *testing.T) {
	flow, err := NewFlow([]FlowPoint{{Above: 0.3, Angle: 2 * deg, Ratio: 1.0}, {Above: 0.1, Angle: 6 * deg, Ratio: 0.8}})
	if err != nil {
		t.Fatal(err)
	}
	for above, want := range map[float64][2]float64{0.1: {6, 0.8}, 0.15: {5, 0.85}, 0.3: {2, 1}} {
		p, ok := flow.At(above)
		if !ok {
			t.Errorf("none at %g m", above)
		}
		near(t, "angle, °", p.Angle/deg, want[0], 1e-9)
		near(t, "ratio", p.Ratio, want[1], 1e-9)
	}
	for _, above := range []float64{0.09, 0.31} {
		if p, ok := flow.At(above); ok || !math.IsNaN(p.Angle) || !math.IsNaN(p.Ratio) {
			t.Errorf("at %g m: %+v", above, p)
		}
	}
	if lo, hi := flow.Range(); lo != 0.1 || hi != 0.3 || !flow.Known() {
		t.Errorf("range %g to %g m, known %v", lo, hi, flow.Known())
	}
	one, _ := NewFlow([]FlowPoint{{Above: 0.2, Angle: 3 * deg, Ratio: 0.9}})
	none, _ := NewFlow(nil)
	for _, c := range []struct {
		flow         Flow
		angle, ratio float64
		known        bool
	}{{one, 3, 0.9, true}, {none, 0, 1, false}} {
		p, ok := c.flow.At(5)
		lo, hi := c.flow.Range()
		if !ok || math.Abs(p.Angle/deg-c.angle) > 1e-9 || p.Ratio != c.ratio || p.Above != 5 || !math.IsInf(lo, -1) || !math.IsInf(hi, 1) || c.flow.Known() != c.known {
			t.Errorf("%+v, %v; %g to %g; known %v", p, ok, lo, hi, c.flow.Known())
		}
	}
	if _, err := NewFlow([]FlowPoint{{Above: 0.2}, {Above: 0.1}, {Above: 0.2}}); err == nil {
		t.Error("two points at one height")
	}
}

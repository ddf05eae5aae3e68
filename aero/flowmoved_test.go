package aero

import (
	"math"
	"testing"
)

// By hand: points at 2° and 4° with bands of 0.01 and 0.03 rad, moved by one band each and by 0.02 of
// the ratio: half-way 3° and 0.02 rad, a ratio of 0.92.
func TestFlowMovedByHand(t *testing.T) {
	const deg = math.Pi / 180
	f, err := NewFlow([]FlowPoint{{0, 2 * deg, 0.9, 0.01, 0.1}, {0.2, 4 * deg, 0.9, 0.03, 0.1}})
	if err != nil {
		t.Fatal(err)
	}
	moved := f.Moved(func(p FlowPoint) (float64, float64) { return p.AngleStdUnc, 0.02 })
	p, ok := moved.At(0.1)
	if !ok || math.Abs(p.Angle-(3*deg+0.02)) > 1e-12 || math.Abs(p.Ratio-0.92) > 1e-12 || math.Abs(p.AngleStdUnc-0.02) > 1e-12 {
		t.Errorf("%+v, %v", p, ok)
	}
	if p, _ := f.At(0.1); math.Abs(p.Angle-3*deg) > 1e-12 {
		t.Errorf("the flow itself moved: %+v", p)
	}
	if p, ok := (Flow{}).Moved(func(FlowPoint) (float64, float64) { return 0.05, -0.1 }).At(3); !ok || p.Angle != 0.05 || p.Ratio != 0.9 {
		t.Errorf("undisturbed, moved: %+v, %v", p, ok)
	}
}

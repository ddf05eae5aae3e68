package strength

import (
	"math"
	"testing"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/sheet"
)

// IIW aluminium parent metal FAT 71, m 5: 129.26, 81.56 and 51.46 MPa at 1e5, 1e6 and 1e7 cycles. Category
// 90 of EN 1993-1-9 by hand at 180 MPa: 2e6/8 = 250,000.
func TestCyclesAgainstPublishedCurves(t *testing.T) {
	part := &model.Part{}
	aluminium, steel := &plate{part: part, material: Material{elastic: 70e3}}, &plate{part: part, material: Material{elastic: 210e3}}
	for r, want := range map[float64]float64{129.26: 1e5, 81.56: 1e6, 51.46: 1e7} {
		f := Fatigue{Range: 1.5 * r}
		f.of(aluminium, 1.5)
		if math.Abs(f.Cycles/want-1) > 2e-3 {
			t.Errorf("%g MPa: %.0f cycles, want %.0f", r, f.Cycles, want)
		}
	}
	f := Fatigue{Range: 180, Opening: true}
	if f.of(steel, 1); math.Abs(f.Cycles-250e3) > 1 {
		t.Errorf("%.0f cycles", f.Cycles)
	}
	f = Fatigue{Range: 180, Opening: true} // at an opening the lower of two: 2e6 (71/180)^5 = 19,096, 2e6 (90/180)^7 = 15,625
	if f.of(aluminium, 1); math.Abs(f.Cycles-15625) > 1 {
		t.Errorf("%.0f cycles", f.Cycles)
	}
	part.Welded = true
	f = Fatigue{Range: 44}
	if f.of(aluminium, 1); math.Abs(f.Cycles-250e3) > 1 {
		t.Errorf("beside a weld %.0f cycles", f.Cycles)
	}
	f = Fatigue{Range: 8}
	if f.of(aluminium, 1); !math.IsInf(f.Cycles, 1) {
		t.Errorf("below the limit %.0f cycles", f.Cycles)
	}
}

// By hand: cases of 10, 20 and 5 MPa at an end and a face swing by 75 MPa between +50 and -25.
func TestRangeByHand(t *testing.T) {
	c, _ := (&sheet.Shape{Outline: []plane.Point{{}, {X: 100}, {X: 100, Z: 100}, {Z: 100}}, Floor: sheet.NoFloor}).NewChord(plane.Point{Z: 50}, plane.Point{X: 100, Z: 50})
	var f Fatigue
	f.widen(&c, []sheet.Stress{{Mean: 10, Turn: 10, Bend: 30}, {Mean: 5, Turn: -5, Bend: -25}})
	if f.Range != 75 || f.Opening {
		t.Errorf("%+v", f)
	}
}

package model

import (
	"math"
	"testing"

	"stanchion/holes/plane"
)

// By hand: a plate of 100 by 200 mm with a window of 40 by 100 mm, 20 mm from its front and 50
// from its lower edge: 16,000 mm² about 52.5, 100.
func TestCutoutsByHand(t *testing.T) {
	p := Part{Outline: []plane.Point{{}, {X: 100}, {X: 100, Z: 200}, {Z: 200}}}
	p.Cutouts = [][]plane.Point{{{X: 20, Z: 50}, {X: 20, Z: 150}, {X: 60, Z: 150}, {X: 60, Z: 50}}}
	if mm2, middle := p.Area(); math.Abs(mm2-16000) > 1e-9 || middle.Distance(plane.Point{X: 52.5, Z: 100}) > 1e-9 {
		t.Errorf("%g mm² about %v", mm2, middle)
	}
	for _, c := range []struct {
		at         plane.Point
		mm         float64
		metal, out bool
	}{
		{plane.Point{X: 70, Z: 100}, 10, true, false},
		{plane.Point{X: 40, Z: 55}, 5, false, true},
		{plane.Point{X: 104, Z: 100}, 4, false, false},
	} {
		mm, metal := p.EdgeDistance(c.at)
		if math.Abs(mm-c.mm) > 1e-9 || metal != c.metal || p.InCutout(c.at) != c.out {
			t.Errorf("%v: %g mm, metal %v, in a cut-out %v", c.at, mm, metal, p.InCutout(c.at))
		}
	}
	if mm, metal := (&Part{}).EdgeDistance(plane.Point{}); !math.IsInf(mm, 1) || metal {
		t.Errorf("without an outline: %g mm, metal %v", mm, metal)
	}
}

package choose_test

import (
	"math"
	"testing"

	"stanchion/model"
	"stanchion/model/choose"
)

// By hand: a difference of 10 with a standard uncertainty of 10.1 is 0.99 of it, of 10 once, of
// 5.01 1.996 times, of 5 twice.
func TestClarityByHand(t *testing.T) {
	for _, c := range []struct {
		difference, stdUnc float64
		want               choose.Clarity
	}{
		{10, 10.1, choose.NoClearDifference}, {-10, 10, choose.NotSure}, {10, 5.01, choose.NotSure},
		{-10, 5, choose.Clear}, {0, 0, choose.NoClearDifference}, {1, 0, choose.Clear},
		{0, 1, choose.NoClearDifference}, {math.NaN(), 1, choose.NotKnown}, {1, math.NaN(), choose.NotKnown},
	} {
		if got := choose.ClarityOf(c.difference, c.stdUnc); got != c.want {
			t.Errorf("%g with ±%g: %v, want %v", c.difference, c.stdUnc, got, c.want)
		}
	}
	// The clearer of downforce and front share counts.
	a, b := &model.Row{}, &model.Row{}
	a.Downforce, b.Downforce, a.Share, b.Share = 400, 410, 0.5, 0.49
	if got := choose.Apart(a, b, model.Contribution{Moved: model.Moved{Downforce: 10, Share: 0.004}}); got != choose.Clear {
		t.Errorf("0.01 of share with ±0.004: %v", got)
	}
	if got := choose.Apart(a, b, model.Contribution{Moved: model.Moved{Downforce: 6, Share: 0.02}}); got != choose.NotSure {
		t.Errorf("10 N with ±6 N: %v", got)
	}
}

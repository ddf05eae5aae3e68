package calibrate

import (
	"math"

	"stanchion/model"
	"stanchion/model/choose"
)

// Twisted reports whether left and right differ in angle by more than their uncertainty leaves open, and by
// more than a wing on its two uprights usually has: it is twisted, or one side was misread. Their middle is
// then no angle of the bracket's.
func (d Datum) Twisted() bool {
	return choose.ClarityOf(d.Twist, d.TwistStdUnc) == choose.Clear && math.Abs(d.Twist) > UsualTwist
}

// Leaning reports the same of the height of left and right.
func (d Datum) Leaning() bool {
	return choose.ClarityOf(d.Lean, d.LeanStdUnc) == choose.Clear && math.Abs(d.Lean) > UsualLean
}

// SidesDiffer reports whether left and right are clearly apart in angle or height.
func (d Datum) SidesDiffer() bool { return d.Twisted() || d.Leaning() }

// Checked reports whether any reading checks another.
func (d Datum) Checked() bool { return d.Tests >= 2 }

// PlayInTwist returns how much of TwistStdUnc, rad, is play in the holes, which the two sides may take up
// in their own way: with u = play/√3 of each reading, the root of the sum of Σu²/n² over the n readings of
// either side. Exact where the readings of a side weigh alike; NaN where a side was not read.
func PlayInTwist(t *model.Table, d Datum) float64 {
	var sum [2]float64
	var n [2]float64
	for _, r := range d.Residuals {
		row, ok := t.Find(r.Setting)
		if at := side(r.Reading); ok && at != 0 && !r.Suspect {
			k := 0
			if at < 0 {
				k = 1
			}
			n[k]++
			sum[k] += row.Play * row.Play / 3
		}
	}
	return math.Sqrt(sum[0]/(n[0]*n[0]) + sum[1]/(n[1]*n[1]))
}

package calibrate

import (
	"math"

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

// Checked reports whether any reading checks another: on one setting alone a wrong hole would not show.
func (d Datum) Checked() bool { return d.Tests >= 2 && (d.Settings >= 2 || d.Standing == NoAngle) }

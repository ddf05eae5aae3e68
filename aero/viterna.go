package aero

import "math"

// stalledAspect is the aspect ratio that sections are continued with past their
// stall: that of the wings they are for, 4 to 8, between which the largest drag
// changes by 6 %. With the value for endless wings the lift past the stall comes
// out nearly level, which sections of 9 to 18 % do not show.
const stalledAspect = 6

// stalled continues a section's curve past its stall.
type stalled struct {
	angle          float64 // rad, where it takes over
	a2, b2, cdMost float64
}

// Viterna returns lift and drag past the stall, for angles from alphaS to 90°,
// of a wing of aspect ratio a whose curve reaches cls and cds at alphaS rad. It
// is continuous there and ends in a flat plate across the flow. Single-element
// wings are known to within some 20 % by it.
//
// Source: L. A. Viterna and R. D. Corrigan, "Fixed pitch rotor performance of
// large horizontal axis wind turbines", NASA CP-2230 (1981); L. A. Viterna and
// D. C. Janetzke, NASA TM-82944 (1982).
func Viterna(alphaS, cls, cds, a float64) func(alpha float64) (cl, cd float64) {
	s := stalled{angle: alphaS, cdMost: 2.01}
	if a <= 50 {
		s.cdMost = 1.11 + 0.018*a
	}
	sin, cos := math.Sincos(alphaS)
	s.a2 = (cls - s.cdMost*sin*cos) * sin / (cos * cos)
	s.b2 = (cds - s.cdMost*sin*sin) / cos
	return s.at
}

func (s stalled) at(alpha float64) (cl, cd float64) {
	sin, cos := math.Sincos(alpha)
	return s.cdMost/2*math.Sin(2*alpha) + s.a2*cos*cos/sin, s.cdMost*sin*sin + s.b2*cos
}

package aero

import "math"

// Spera is the lift and drag of a wing past its stall, joined to what is known at the stall
// itself: angles in rad, slope per rad. Lift falls off along the wing's own curve until it
// meets that of a plate across the flow; drag rises from the stall to that of the plate.
// Both are continuous at the stall. Lift and drag of single-element wings lie within
// about 15 % of it between the stall and 45°; right after the stall sections that stall
// from the leading edge fall more suddenly than it says.
//
// Source: D. A. Spera, "Models of Lift and Drag Coefficients of Stalled and Unstalled
// Airfoils in Wind Turbines and Wind Tunnels", NASA/CR-2008-215434 (2008, errata 2012),
// equations for CL1 past ACL1, CL2 and CD2, with the wing's values for the primed ones.
type Spera struct {
	ZeroLift  float64 // angle of attack
	Slope     float64 // of the lift about zero lift
	MaxAngle  float64 // the stall
	MaxLift   float64
	StallDrag float64 // CD at the stall
	Thickness float64 // of the section, chords
	Aspect    float64 // aspect ratio of the wing; +Inf for a section
}

// At returns the coefficients at an angle of attack in rad from the stall to 90°.
func (s Spera) At(alpha float64) (cl, cd float64) {
	// What the straight line has over the maximum at the stall. A curve that is straight up
	// to it would fall at once; the report's sections have a third of their maximum.
	loss := max(s.Slope*(s.MaxAngle-s.ZeroLift)-s.MaxLift, s.MaxLift/3)
	ratio := (alpha - s.ZeroLift) / (s.MaxAngle - s.ZeroLift)
	// Written from the top, so that it is the maximum at the stall whatever the slope.
	attached := (s.MaxLift+loss)*ratio - loss*math.Pow(ratio, 1+s.MaxLift/loss)
	// A plate has no more lift than the wing had at its stall, but for what it gains beyond 20°.
	plate := min(s.plateLift(alpha), 0.85*s.MaxLift+0.05/deg*max(0, alpha-20*deg))
	return max(attached, plate), s.plateDrag(alpha)
}

// plateLift is CL2.
func (s Spera) plateLift(alpha float64) float64 {
	most := 1.190 * (1 - s.Thickness*s.Thickness) * s.share(0.65, 9, 2.3)
	loss := 1.632 - most
	from := 92 - alpha/deg
	if from <= 0 {
		return 0.032 * from
	}
	return 0.032*from - loss*math.Pow(from/51, 1+most/loss)
}

// plateDrag is CD2.
func (s Spera) plateDrag(alpha float64) float64 {
	most := 2.300 * math.Exp(-math.Pow(0.65*s.Thickness, 0.90)) * s.share(0.52, 6.5, 1.1)
	return s.StallDrag + (most-s.StallDrag)*math.Sin(math.Pi/2*(alpha-s.MaxAngle)/(math.Pi/2-s.MaxAngle))
}

// share is the part that a wing's aspect ratio leaves of what a section has: F2 and G2.
func (s Spera) share(least, at, power float64) float64 {
	return least + (1-least)*math.Exp(-math.Pow(at/s.Aspect, power))
}

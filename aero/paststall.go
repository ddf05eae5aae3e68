package aero

import "math"

// top is the lift of one side of a section from zero lift to beyond its stall:
// angles in rad from the chord, cl above zero.
type top struct {
	zero, slope     float64
	lift, angle     float64 // maximum, and where
	drag, thickness float64 // at the maximum; in chords
}

// bend returns the angle up to which lift is straight. The cubic from there to
// the top rises all the way as long as the straight line, carried on to the
// angle of the maximum lift, does not exceed it more than threefold.
func (t top) bend() float64 {
	beyond := max(t.angle-t.zero-t.lift/t.slope, 0.3*deg) // 0.3° for a sharp top
	return max(t.zero, t.angle-3*beyond)
}

// stallWithin returns an angle of the maximum lift moved to where a curve can be drawn to it: half a
// degree beyond the straight line, and before the line's lift is three times the maximum.
func stallWithin(angle, zero, slope, lift float64) float64 {
	straight := lift / slope
	return min(max(angle, zero+straight+0.5*deg), zero+2.8*straight)
}

// attached returns the lift up to the maximum: straight, then a cubic from the straight part
// to a level top.
func (t top) attached(a float64) float64 {
	bend := t.bend()
	if a <= bend {
		return t.slope * (a - t.zero)
	}
	l := t.angle - bend
	x := (a - bend) / l
	y0, y1 := t.slope*(bend-t.zero), t.lift
	return y0*(1+x*x*(2*x-3)) + y1*x*x*(3-2*x) + l*t.slope*x*(1-x)*(1-x)
}

// How lift falls past the maximum: at the rate steepestFall, per rad, once the top is passed
// by a few times roundFall, rad.
//
// Source: the NACA 0015 of the University of Glasgow at 1.5e6, from 1.265 at 14° to 0.90 at 18°.
// Sharp noses stall more suddenly, with hysteresis; blunt and thick sections, such as the NACA 4415
// at 1e6 from 1.354 at 14.3° to about 1.1 at 20°, more slowly.
const (
	steepestFall = 0.08 / deg
	roundFall    = 1 * deg
)

// past returns lift and drag beyond the maximum of a two-dimensional section: lift falls, as
// above, to that of a stalled plate, which has its second maximum, near 1.17, at 41°; drag grows
// with a sine to 2.0 across the flow.
//
// Source for plate and drag: D. A. Spera, NASA/CR-2008-215434 (2008, errata 2012), with an aspect
// ratio without bound. Below 20° the plate's lift is held at its value there, 0.74, where measured
// stalls end (0012 0.75, 2414 0.775, SD8020 0.76), or at 0.85 of a lower maximum. Lift is within
// 0.05 of NACA TN 3361 (0012); from 30° to 60° it is 0.15 above SAND80-2114 (0015, 1.6e5), and drag 0.2.
func (t top) past(a float64) (cl, cd float64) {
	falling := t.lift - steepestFall*(math.Hypot(a-t.angle, roundFall)-roundFall)
	plate := stalledPlate(max(a, 20*deg), t.thickness)
	plate = min(plate, 0.85*t.lift+max(a-20*deg, 0)*0.05/deg)
	// The larger, rounded off over 0.06 of lift.
	cl = (falling + plate + math.Sqrt(square(falling-plate)+square(0.03*min(1, (a-t.angle)/deg)))) / 2
	across := 2.300 * math.Exp(-math.Pow(0.65*t.thickness, 0.90))
	turn := math.Pi / 2 * (a - t.angle) / (math.Pi/2 - t.angle)
	return cl, t.drag + (across-t.drag)*math.Sin(turn)
}

// stalledPlate is the lift of a wholly separated section, for 0 to 92°.
// Source: as in past.
func stalledPlate(a, thickness float64) float64 {
	most := 1.190 * (1 - thickness*thickness)
	r := 1.632 - most
	n := 1 + most/r
	return -0.032*(a/deg-92) - r*math.Pow((92-a/deg)/51, n)
}

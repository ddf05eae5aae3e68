package aero

import "math"

// trend is how a section's stall moves with the Reynolds number. What is
// computed and what is published is carried by the same one.
type trend struct {
	power float64 // of the Reynolds number in maximum lift
	turn  float64 // rad by which the stall angle grows per decade
}

// Source: fitted by us with the limits of stall, to sections at 2e5 to 9e6. Pairs of one section
// at two Reynolds numbers have, as powers: NACA 4415 1e6 to 9e6 0.087, 2415 3e5 to 9e6 0.066, 4412
// 3e6 to 9e6 0.097, 66(2)-415 7e5 to 2e6 0.103, 2414 1e5 to 3e5 0.046, 0012 1.8e6 to 9e6 0.125, 0015
// 3.6e5 to 1.5e6 0.076, and, made for high lift at low Reynolds numbers, S1223 and FX 63-137 2e5 to
// 5e5 0.01: most within 0.03 of it. Where the leading edge decides, the stall angle grows by 3° per decade
// (0009 11.0° at 6.9e5, 12.2° at 1.2e6, 13.4° at 9e6); elsewhere it hardly moves (2415 16.7° at 3e5,
// 16.4° at 9e6; 4415 14.3° at 1e6, 15.0° at 9e6).
const (
	liftPower   = 0.09
	nosePower   = 0.03 // more where the leading edge decides
	lowPower    = 0.08 // less where the mean line falls off at the rear, from a slope of 0.05 to 0.25
	noseTurn    = 3.1 * deg
	powerStdUnc = 0.03
	turnStdUnc  = 1.5 * deg // per decade
)

// trend returns the trend of a section, share of whose stall the leading edge decides.
func (f form) trend(share float64) trend {
	low := min(max((f.rear-0.05)/0.2, 0), 1)
	return trend{power: liftPower + nosePower*share - lowPower*low, turn: noseTurn * share}
}

// usualTrend is that of a section whose shape is not known.
var usualTrend = trend{power: liftPower, turn: noseTurn / 3}

// lift returns by what maximum lift is multiplied from one Reynolds number to another, level above
// 1.2e7.
func (t trend) lift(from, to float64) float64 {
	return math.Pow(min(to, maxReynolds)/min(from, maxReynolds), t.power)
}

// angle returns by how much the stall angle moves, rad.
func (t trend) angle(from, to float64) float64 { return t.turn * math.Log10(to/from) }

// slopePerDecade is by which part of the inviscid lift slope the slope grows per decade of
// the Reynolds number.
// Source: W. J. McCroskey, NASA TM 100019 (1987), for the NACA 0012: 0.00485 of 0.110 per degree.
const slopePerDecade = 0.044

// dragPower is the power of the Reynolds number in profile drag.
// Source: NACA Report 586 (1937), −0.11 (read in a secondary source); the NACA 2415 from 3e5 to 9e6
// has −0.13, a turbulent plate −0.2.
const dragPower = -0.12

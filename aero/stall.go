package aero

import "math"

// stall is how one side of a section stalls, before Reynolds numbers come in.
type stall struct {
	lift  float64 // maximum, at stallReynolds
	share float64 // 1 where the leading edge decides, 0 where the trailing edge does
}

// stallReynolds is the Reynolds number at which maximum lift is worked out from
// the shape; liftTrend carries it to others.
const stallReynolds = 3e6

// Maximum lift by two limits, fitted by us together, by least squares of the logarithms, to
// 54 published values: NACA 4- and 5-digit and 6-series sections 6 to 24 % thick at 9e6
// (NACA Report 824), and low-speed sections with up to 12 % camber at 2e5 to 1.8e6. The mean
// error is 4.7 %, the standard deviation 5.9 %; two tunnels differ by as much.
const (
	noseSpeed     = 3.73 // of the flow about the nose at which its layer bursts
	rearPower     = 8    // of Kirchhoff's factor
	rearFactor    = 1.86
	rearCamber    = 1.37 // per slope of the mean line at the trailing edge, up to 0.2
	limitsPower   = 5.0  // with which the two limits are rounded off
	layerReynolds = 1e6  // of the layers that separate at the rear
)

// stall returns the maximum lift of the upper side by the smaller of two limits.
//
// At the leading edge the layer, or its laminar bubble, bursts when the flow about the nose
// gets too fast: a critical peak of the suction, near −13, as in W. O. Valarezo and V. D.
// Chin, Journal of Aircraft 31 (1994) 103-109. It orders sections by their noses as the
// ordinate at 1.25 % does in D. E. Gault, NACA TN 3963 (1957).
//
// At the trailing edge separation creeps forward: Kirchhoff's flow past a plate that separates
// at f chords keeps ((1+√f)/2)² of its lift (B. Thwaites, "Incompressible Aerodynamics" (1960)).
// The inviscid pressures put separation too far back, so a power of that factor and a factor
// are fitted; a mean line that falls off at the rear, and the loss of slope, cost more.
func (p *Panels) stall(f form) stall {
	slope := f.efficiency(stallReynolds)
	rear := p.rearLimit() * rearFactor * slope * slope / (1 + rearCamber*min(max(f.rear, 0), 0.2))
	nose := math.Inf(1)
	if a, ok := p.angleOfSpeed(noseSpeed); ok {
		cl, _ := p.Lift(a)
		ideal, _ := p.Lift(p.idealAngle())
		nose = max(slope*cl, slope*ideal+plateLift)
	}
	r := math.Pow(rear/nose, limitsPower)
	return stall{lift: rear * math.Pow(1+r, -1/limitsPower), share: r / (1 + r)}
}

// plateLift is the lift that a plate gains from its ideal angle of attack to its stall: thin sections
// do not stall at once when the flow bursts at their nose, but carry a long bubble.
// Source: 6 % thick symmetrical sections, 0.80 to 0.92 at 9e6 (NACA Report 824), and the curved
// plate Göttingen 417a, 1.397 (Summary of Low-Speed Airfoil Data 3).
const plateLift = 0.75

// idealAngle returns the angle of attack, rad, at which the flow about the nose is as fast on
// the upper side as on the lower.
func (p *Panels) idealAngle() float64 {
	m := p.mirrored()
	lo, hi := p.ZeroLift()-10*deg, p.ZeroLift()+20*deg
	for range 25 {
		if mid := (lo + hi) / 2; p.peakSpeed(mid) < m.peakSpeed(-mid) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}

// rearLimit returns the largest inviscid lift times the part that separation at
// the rear leaves of it.
func (p *Panels) rearLimit() float64 {
	const step = 1 * deg
	start := p.ZeroLift() + 3*deg
	var kept []float64
	best, f := 0, 1.0
	for i := range 34 {
		a := start + float64(i)*step
		cl, _ := p.Lift(a)
		f = min(f, max(p.upperLayer(a, layerReynolds, 1).Separation, 0))
		kept = append(kept, cl*math.Pow((1+math.Sqrt(f))/2, rearPower))
		if kept[i] > kept[best] {
			best = i
		}
		if kept[i] < 0.9*kept[best] {
			break
		}
	}
	if best == 0 || best == len(kept)-1 {
		return kept[best]
	}
	return vertex(kept[best-1], kept[best], kept[best+1])
}

// angleOfSpeed returns the angle of attack, rad, above zero lift at which the
// flow about the nose reaches a speed, over that far away. It reports false
// when it does not within 40°.
func (p *Panels) angleOfSpeed(speed float64) (float64, bool) {
	lo, hi := p.ZeroLift()+2*deg, p.ZeroLift()+40*deg
	if p.peakSpeed(hi) < speed {
		return 0, false
	}
	for range 30 {
		if mid := (lo + hi) / 2; p.peakSpeed(mid) < speed {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2, true
}

// peakSpeed returns the largest speed of the flow over the upper side, over that far away,
// between nodes by a parabola.
func (p *Panels) peakSpeed(alpha float64) float64 {
	sin, cos := math.Sincos(alpha)
	at := func(i int) float64 { return cos*p.basis0[i] + sin*p.basis1[i] }
	best := 1
	for i := 1; i < len(p.nodes)-1; i++ {
		if at(i) > at(best) {
			best = i
		}
	}
	return min(vertex(at(best-1), at(best), at(best+1)), 1.1*at(best))
}

// vertex returns the top of the parabola through three values at equal distances, the middle one
// the largest.
func vertex(a, b, c float64) float64 { return b + square(a-c)/8/max(2*b-a-c, 1e-9) }

// maxLift returns the maximum lift at a Reynolds number.
func (s stall) maxLift(f form, reynolds float64) float64 {
	return s.lift * f.trend(s.share).lift(stallReynolds, reynolds)
}

// angle returns the angle of attack of the maximum lift, rad, for a zero-lift
// angle and a slope, both at stallReynolds.
//
// Source: linear, fitted by us to the same sections: 0.72 of the angle at which the straight
// line reaches the maximum, more with thickness and camber at the rear, whose lift bends over
// early. The mean error is 1.1°, the standard deviation 1.3°.
func (s stall) angle(f form, zero, slope, reynolds float64) float64 {
	straight := zero + s.lift/slope
	a := 3.0*deg + 0.72*straight + 20*deg*f.thickness + 7.5*deg*max(f.rear, 0)
	return a + f.trend(s.share).angle(stallReynolds, reynolds)
}

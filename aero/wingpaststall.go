package aero

import "math"

// withSpera returns a wing's curve with Spera's past its stall on either side, from the
// stall, where one is found, to the last angle that is worked out; a side on which no
// stall is found stays as it is. The other side is treated as Spera does: mirrored about
// the wing's zero lift.
func (w Wing) withSpera(c Curve) Curve {
	aspect := w.AspectRatio()
	if w.Plate.Height > 0 {
		aspect *= 1 + 1.9*w.Plate.Height/w.Span // S. F. Hoerner, "Fluid-Dynamic Drag" (1965), ch. 7
	}
	past := func(c Curve, last float64) Curve {
		_, _, ok := c.Stall()
		zero, slope := c.Straight()
		if !ok || math.IsNaN(zero) {
			return c
		}
		// The top lies between points; it becomes one.
		peak, most := c.peak()
		top := c.at(peak)
		top.CL = most
		s := Spera{ZeroLift: zero, Slope: slope, MaxAngle: peak, MaxLift: most, StallDrag: top.CD, Thickness: w.Thickness, Aspect: aspect}
		var alpha, cl, cd, cm []float64
		for a, k := range c.Points() {
			if a < peak-rounding {
				alpha, cl, cd, cm = append(alpha, a), append(cl, k.CL), append(cd, k.CD), append(cm, k.CM)
			}
		}
		alpha, cl, cd, cm = append(alpha, peak), append(cl, most), append(cd, top.CD), append(cm, top.CM)
		// The force moves from where it is at the stall back to the middle of the chord, a
		// quarter chord behind the quarter chord, where a plate across the flow has it.
		for a := (math.Floor(peak/angleStep+rounding) + 1) * angleStep; a <= last+rounding; a += angleStep {
			l, d := s.At(a)
			sin, cos := math.Sincos(a)
			across := (a - peak) / (math.Pi/2 - peak)
			moved := top.CM*(1-across) - (l*cos+d*sin)/4*math.Sin(math.Pi/2*across)
			alpha, cl, cd, cm = append(alpha, a), append(cl, l), append(cd, d), append(cm, moved)
		}
		joined, err := NewCurve(alpha, cl, cd, cm)
		if err != nil {
			return c
		}
		return joined
	}
	return past(past(c, highestAngle).mirrored(), -lowestAngle).mirrored()
}

// mirrored returns the curve of the wing turned upside down.
func (c Curve) mirrored() Curve {
	n := len(c.alpha)
	alpha, cl, cd, cm := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	for i, a := range c.alpha {
		k := c.at(a)
		alpha[n-1-i], cl[n-1-i], cd[n-1-i], cm[n-1-i] = -a, -k.CL, k.CD, -k.CM
	}
	m, err := NewCurve(alpha, cl, cd, cm)
	if err != nil {
		return c
	}
	return m
}

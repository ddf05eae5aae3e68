package strength

import (
	"math"

	"stanchion/holes/plane"
)

func (b *Body) centre() plane.Point {
	var c plane.Point
	for _, k := range b.Bolts {
		c.X += k.At.X / float64(len(b.Bolts))
		c.Z += k.At.Z / float64(len(b.Bolts))
	}
	return c
}

// share divides the joint's load, given at the middle of its bolts, among them by
// the elastic method: a force F at the middle and a moment M about it give a bolt
// at r from the middle F/n and M r / Σr², square to r.
//
// Source: J. E. Shigley, "Mechanical Engineering Design", eccentric loading of
// bolt groups in shear.
//
// Across the plane the bolts carry Side/n each and, about each principal axis of
// the group, M d / Σd² at the distance d from it, without prying. Where that is
// more than bolts that turn the plates about the edge of their washers would
// bear, M / (n · washer radius), it is that: so bolts in one line hold a moment
// about their line too. The load comes from either side, so that a bolt's tension
// is the sum of all parts.
func (b *Body) share(washer float64) {
	n := float64(len(b.Bolts))
	c := b.centre()
	polar, xx, xz, zz := 0.0, 0.0, 0.0, 0.0
	for _, k := range b.Bolts {
		x, z := k.At.X-c.X, k.At.Z-c.Z
		polar += x*x + z*z
		xx, xz, zz = xx+x*x, xz+x*z, zz+z*z
	}
	for i := range b.Bolts {
		k := &b.Bolts[i]
		x, z := k.At.X-c.X, k.At.Z-c.Z
		k.Rear, k.Up = b.Rear/n, b.Up/n
		if polar > 0 {
			k.Rear -= b.Turn * z / polar
			k.Up += b.Turn * x / polar
		}
		k.Axial = b.Side / n
		k.Tension = math.Abs(b.Side) / n
	}
	// Axial forces N give the moments Roll = -Σ N z and Yaw = Σ N x.
	main := math.Atan2(2*xz, xx-zz) / 2
	for _, turn := range [2]float64{main, main + math.Pi/2} {
		ez, ex := math.Sincos(turn)
		moment := b.Yaw*ex - b.Roll*ez
		spread := ex*ex*xx + 2*ex*ez*xz + ez*ez*zz
		most := 0.0
		for _, k := range b.Bolts {
			most = max(most, math.Abs((k.At.X-c.X)*ex+(k.At.Z-c.Z)*ez))
		}
		edge := math.Inf(1)
		if washer > 0 {
			edge = math.Abs(moment) / (n * washer)
		}
		elastic := spread > 1e-9 && math.Abs(moment)*most/spread <= edge
		for i := range b.Bolts {
			k := &b.Bolts[i]
			if elastic {
				d := (k.At.X-c.X)*ex + (k.At.Z-c.Z)*ez
				k.Axial += moment * d / spread
				k.Tension += math.Abs(moment * d / spread)
			} else if !math.IsInf(edge, 0) {
				k.Tension += edge
			}
		}
	}
}

package aero

import (
	"math"
)

// vortex is a horseshoe: bound from a to b, with both legs straight along the
// flow to infinity.
type vortex struct {
	a, b   [3]float64
	strip  int
	chord  float64    // of its panel, m
	at     [3]float64 // control point, three quarters along the panel
	normal [3]float64
}

// velocity returns what a unit circulation of the horseshoe and of its mirror
// image at the wing's middle induces at a point, over the circulation, 1/m.
func (v vortex) velocity(p [3]float64) [3]float64 {
	mirror := func(q [3]float64) [3]float64 { return [3]float64{q[0], -q[1], q[2]} }
	u := horseshoe(p, v.a, v.b)
	w := horseshoe(p, mirror(v.b), mirror(v.a))
	return [3]float64{u[0] + w[0], u[1] + w[1], u[2] + w[2]}
}

// horseshoe returns the velocity at p of a unit vortex that comes in from
// infinity along a, runs to b and leaves along b: Katz and Plotkin, sec. 10.4.5
// for the bound part, with the legs' integral in closed form.
func horseshoe(p, a, b [3]float64) [3]float64 {
	var u [3]float64
	r1, r2, r0 := sub(p, a), sub(p, b), sub(b, a)
	c := cross(r1, r2)
	if n := dot(c, c); n > 1e-20 {
		k := (dot(r0, r1)/norm(r1) - dot(r0, r2)/norm(r2)) / (4 * math.Pi * n)
		u = [3]float64{k * c[0], k * c[1], k * c[2]}
	}
	leg := func(r [3]float64, sign float64) {
		h2 := r[1]*r[1] + r[2]*r[2]
		if h2 < 1e-20 {
			return
		}
		k := sign * (1 + r[0]/norm(r)) / (4 * math.Pi * h2)
		u[1] -= k * r[2]
		u[2] += k * r[1]
	}
	leg(r2, 1)
	leg(r1, -1)
	return u
}

func sub(a, b [3]float64) [3]float64 { return [3]float64{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }
func dot(a, b [3]float64) float64    { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }
func norm(a [3]float64) float64      { return math.Sqrt(dot(a, a)) }
func cross(a, b [3]float64) [3]float64 {
	return [3]float64{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

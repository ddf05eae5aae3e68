package deck

import "math"

// vec is a place or a velocity: x to the rear, y to the right, z up.
type vec [3]float64

func (a vec) plus(b vec) vec      { return vec{a[0] + b[0], a[1] + b[1], a[2] + b[2]} }
func (a vec) minus(b vec) vec     { return vec{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }
func (a vec) times(k float64) vec { return vec{k * a[0], k * a[1], k * a[2]} }
func (a vec) dot(b vec) float64   { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }
func (a vec) norm() float64       { return math.Sqrt(a.dot(a)) }

func (a vec) cross(b vec) vec {
	return vec{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

// mirror is a reflection: the signs of y and z.
type mirror struct{ y, z float64 }

func (m mirror) of(q vec) vec { return vec{q[0], m.y * q[1], m.z * q[2]} }

// mirrors returns the reflections in the car's middle plane and, with the ground, in the
// road. The mirror image of a flow u(q) is R·u(R·q), that of a potential φ(q) is φ(R·q).
func mirrors(ground bool) []mirror {
	if ground {
		return withGround
	}
	return withGround[:2]
}

var withGround = []mirror{{1, 1}, {-1, 1}, {1, -1}, {-1, -1}}

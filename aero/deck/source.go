package deck

import "math"

// panel is a flat piece of the right half of the body's skin.
type panel struct {
	corner [4]vec     // anticlockwise as seen from outside
	out    [4]vec     // across each edge in the panel's plane, outwards, of length 1; none at an edge of no length
	edge   [4]float64 // the edges' lengths, m
	at     vec        // its middle
	normal vec        // outwards
	area   float64
	far2   float64 // square of the distance from which it counts as a point, m²
	slice  int     // the slice of the profile that it lies on; -1 where its pressure does not count
	ahead  int     // of a panel of the wake: the next panel ahead of it; -1 for one of the body
}

// farPanel is the distance, in diagonals of a panel, from which a panel acts as a point
// source: the error is then below 1 % of what is already a small share.
const farPanel = 2.5

func newPanel(a, b, c, d vec, slice int) panel {
	p := panel{corner: [4]vec{a, b, c, d}, slice: slice, ahead: -1}
	twice := c.minus(a).cross(d.minus(b))
	p.area = twice.norm() / 2
	p.normal = twice.times(1 / twice.norm())
	for i := range 4 {
		edge := p.corner[(i+1)%4].minus(p.corner[i])
		if p.edge[i] = edge.norm(); p.edge[i] > 1e-12 {
			p.out[i] = edge.cross(p.normal).times(1 / p.edge[i])
		}
	}
	// The centroid, by the two triangles a, b, c and a, c, d.
	t1 := b.minus(a).cross(c.minus(a)).norm() / 2
	t2 := c.minus(a).cross(d.minus(a)).norm() / 2
	ac := a.plus(c)
	p.at = ac.plus(b).times(t1).plus(ac.plus(d).times(t2)).times(1 / (3 * (t1 + t2)))
	diagonal := max(c.minus(a).norm(), d.minus(b).norm())
	p.far2 = farPanel * farPanel * diagonal * diagonal
	return p
}

// symmetric returns the velocity that the panel and its mirror images induce at q. Written out by components, which
// is twice as fast: a body has some 100,000 pairs of panels.
func (p *panel) symmetric(q vec, ground bool) vec {
	var x, y, z float64
	for _, m := range mirrors(ground) {
		fx, fy, fz := q[0]-p.at[0], m.y*q[1]-p.at[1], m.z*q[2]-p.at[2]
		if r2 := fx*fx + fy*fy + fz*fz; r2 > p.far2 {
			k := p.point(r2)
			x, y, z = x+k*fx, y+m.y*(k*fy), z+m.z*(k*fz)
			continue
		}
		u := p.velocity(m.of(q))
		x, y, z = x+u[0], y+m.y*u[1], z+m.z*u[2]
	}
	return vec{x, y, z}
}

// point is the velocity of a point source of the panel's strength, over the way from it, whose square is r2.
func (p *panel) point(r2 float64) float64 { return p.area / (4 * math.Pi * r2 * math.Sqrt(r2)) }

// symmetricPotential returns the potential of the same.
func (p *panel) symmetricPotential(q vec, ground bool) (sum float64) {
	for _, m := range mirrors(ground) {
		sum += p.potential(m.of(q))
	}
	return sum
}

// velocity returns what sources of unit strength per area, spread evenly over the panel,
// induce at q. In the plane of the panel: the line integral of 1/r along its edges, by
// Gauss's theorem; across it: the solid angle that q sees. After J. L. Hess and A. M. O.
// Smith, "Calculation of potential flow about arbitrary bodies", Prog. Aeronaut. Sci. 8
// (1967) 1-138; solid angle of a triangle: A. van Oosterom and J. Strackee, IEEE Trans.
// Biomed. Eng. BME-30 (1983) 125-126.
func (p *panel) velocity(q vec) vec {
	from := q.minus(p.at)
	if r2 := from.dot(from); r2 > p.far2 {
		return from.times(p.point(r2))
	}
	r, n := p.seen(q)
	var x, y, z float64
	for i := range p.out {
		along, out := p.edgeLog(i, &n), &p.out[i]
		x, y, z = x+along*out[0], y+along*out[1], z+along*out[2]
	}
	angle := p.angle(&r, &n)
	if from.dot(from) < 1e-20 {
		angle = 2 * math.Pi // on its outer side
	}
	const k = 1 / (4 * math.Pi)
	return vec{k * (x + angle*p.normal[0]), k * (y + angle*p.normal[1]), k * (z + angle*p.normal[2])}
}

// potential returns the potential at q, m, of the sources whose velocity is velocity.
func (p *panel) potential(q vec) float64 {
	from := q.minus(p.at)
	if r2 := from.dot(from); r2 > p.far2 {
		return -p.area / (4 * math.Pi * math.Sqrt(r2))
	}
	r, n := p.seen(q)
	sum := -from.dot(p.normal) * p.angle(&r, &n)
	for i := range 4 {
		sum += r[i].dot(p.out[i]) * p.edgeLog(i, &n)
	}
	return -sum / (4 * math.Pi)
}

// seen returns the corners as seen from q, and how far away they are.
func (p *panel) seen(q vec) (r [4]vec, n [4]float64) {
	for i := range p.corner {
		c := &p.corner[i]
		x, y, z := c[0]-q[0], c[1]-q[1], c[2]-q[2]
		r[i] = vec{x, y, z}
		n[i] = math.Sqrt(x*x + y*y + z*z)
	}
	return r, n
}

// edgeLog returns ∫ ds/r along edge i for corners that are n away.
func (p *panel) edgeLog(i int, n *[4]float64) float64 {
	s, d := n[i]+n[(i+1)%4], p.edge[i]
	return math.Log((s + d) / max(s-d, 1e-12))
}

// angle returns the solid angle, positive on the outer side.
func (p *panel) angle(r *[4]vec, n *[4]float64) float64 {
	return solidAngle(&r[0], &r[1], &r[2], n[0], n[1], n[2]) + solidAngle(&r[0], &r[2], &r[3], n[0], n[2], n[3])
}

// solidAngle is that of the triangle with its corners at a, b, c, whose lengths are la, lb,
// lc, as seen from the origin; positive on the side from which they run anticlockwise.
func solidAngle(a, b, c *vec, la, lb, lc float64) float64 {
	volume := a[0]*(b[1]*c[2]-b[2]*c[1]) + a[1]*(b[2]*c[0]-b[0]*c[2]) + a[2]*(b[0]*c[1]-b[1]*c[0])
	ab, bc, ca := a[0]*b[0]+a[1]*b[1]+a[2]*b[2], b[0]*c[0]+b[1]*c[1]+b[2]*c[2], c[0]*a[0]+c[1]*a[1]+c[2]*a[2]
	return -2 * math.Atan2(volume, la*lb*lc+ab*lc+bc*la+ca*lb)
}

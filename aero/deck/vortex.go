package deck

import "math"

// piece is a straight vortex of unit circulation on the right half, from a to b or, when it is
// endless, from a along the stream to infinity.
type piece struct {
	a, b    vec
	endless bool
}

func (p *piece) velocity(q vec) vec {
	if p.endless {
		return leg(q, p.a)
	}
	return segment(q, p.a, p.b)
}

// vortex is a horseshoe: bound from a to b, with its legs along the chord to the trailing
// edge and from there along the stream.
type vortex struct {
	pieces     []int
	signs      []float64
	width      float64 // m, by which b lies to the left of a; 0 on a plate
	at, normal vec     // the control point, three quarters along the panel
	wing       bool    // and not a plate
}

// lattice is the right half of a wing with its end plate.
type lattice struct {
	vs     []vortex
	pieces []piece // each once: neighbours share their legs
}

// add adds a horseshoe bound from a to b whose legs leave the trailing edge at endA and endB.
func (l *lattice) add(v vortex, a, b, endA, endB vec) {
	v.width = a[1] - b[1]
	join := func(p piece, sign float64) {
		if p.a[1] == 0 && (p.endless || p.b[1] == 0) {
			return // in the middle plane: its mirror image cancels it
		}
		for i, old := range l.pieces {
			if old == p {
				v.pieces, v.signs = append(v.pieces, i), append(v.signs, sign)
				return
			}
		}
		l.pieces = append(l.pieces, p)
		v.pieces, v.signs = append(v.pieces, len(l.pieces)-1), append(v.signs, sign)
	}
	join(piece{endA, vec{}, true}, -1)
	join(piece{a, endA, false}, -1)
	join(piece{a, b, false}, 1)
	join(piece{b, endB, false}, 1)
	join(piece{endB, vec{}, true}, 1)
	l.vs = append(l.vs, v)
}

// velocities returns what unit circulations of each horseshoe and its mirror images induce
// at q, 1/m.
func (l *lattice) velocities(q vec, ground bool) []vec {
	each := make([]vec, len(l.pieces))
	for _, m := range mirrors(ground) {
		p := m.of(q)
		for i := range l.pieces {
			u, e := l.pieces[i].velocity(p), &each[i]
			e[0] += u[0]
			e[1] += m.y * u[1]
			e[2] += m.z * u[2]
		}
	}
	all := make([]vec, len(l.vs))
	for k := range all {
		v := &l.vs[k]
		var x, y, z float64
		for i, p := range v.pieces {
			e, sign := &each[p], v.signs[i]
			x, y, z = x+sign*e[0], y+sign*e[1], z+sign*e[2]
		}
		all[k] = vec{x, y, z}
	}
	return all
}

// segment is a straight vortex of unit circulation from a to b: J. Katz and A. Plotkin,
// "Low-Speed Aerodynamics", 2nd ed. (2001), sec. 10.4.5.
func segment(q, a, b vec) vec {
	x1, y1, z1 := q[0]-a[0], q[1]-a[1], q[2]-a[2]
	x2, y2, z2 := q[0]-b[0], q[1]-b[1], q[2]-b[2]
	cx, cy, cz := y1*z2-z1*y2, z1*x2-x1*z2, x1*y2-y1*x2
	n := cx*cx + cy*cy + cz*cz
	if n < 1e-16 {
		return vec{}
	}
	r1, r2 := math.Sqrt(x1*x1+y1*y1+z1*z1), math.Sqrt(x2*x2+y2*y2+z2*z2)
	// r0·(r1/|r1| - r2/|r2|) with r0 = r1 - r2 is (|r1|+|r2|)(1 - cos), the angle being at q.
	k := (r1 + r2) * (1 - (x1*x2+y1*y2+z1*z2)/(r1*r2)) / (4 * math.Pi * n)
	return vec{k * cx, k * cy, k * cz}
}

// leg is a straight vortex of unit circulation from a along the stream to infinity.
func leg(q, a vec) vec {
	x, y, z := q[0]-a[0], q[1]-a[1], q[2]-a[2]
	h2 := y*y + z*z
	if h2 < 1e-16 {
		return vec{}
	}
	k := (1 + x/math.Sqrt(x*x+y*y+z*z)) / (4 * math.Pi * h2)
	return vec{0, -k * z, k * y}
}

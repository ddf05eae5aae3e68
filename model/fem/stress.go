package fem

import (
	"math"

	"stanchion/holes/plane"
	"stanchion/model/sheet"
)

// inner is what a plate bears at a place, per length of a cut: forces in N/mm, moments in N.
type inner struct{ nx, nz, nxz, mx, mz, mxz float64 }

// at returns what the plate bears at a place; ok is false outside the metal.
func (s *State) at(p plane.Point) (in inner, ok bool) {
	g := s.r.grid
	e, a, b, ok := g.find(p)
	if !ok || g.cells[e].share == 0 {
		return in, false
	}
	// The shape functions are products of one by x and one by z: summed row by row, without tables of nine.
	va, sa := quadratic(a)
	vb, sb := quadratic(b)
	var ex, ez, exz, kx, kz, kxz float64
	for j := range 3 {
		var ux, uz, vx, vz, bxx, bxz, bzx, bzz float64 // of this row: values and slopes by x of plan and side
		for i := range 3 {
			n := g.cells[e].nodes[3*j+i]
			u, v, bx, bz := s.plan[2*n], s.plan[2*n+1], s.side[3*n+1], s.side[3*n+2]
			ux, uz = ux+sa[i]*u, uz+va[i]*u
			vx, vz = vx+sa[i]*v, vz+va[i]*v
			bxx, bxz = bxx+sa[i]*bx, bxz+va[i]*bx
			bzx, bzz = bzx+sa[i]*bz, bzz+va[i]*bz
		}
		ex += vb[j] * ux
		ez += sb[j] * vz
		exz += sb[j]*uz + vb[j]*vx
		kx += vb[j] * bxx
		kz += sb[j] * bzz
		kxz += sb[j]*bxz + vb[j]*bzx
	}
	scale := 2 / g.h // of a cell's own coordinates
	m := s.r.material
	in.nx, in.nz, in.nxz = m.membraneForce(scale*ex, scale*ez, scale*exz)
	d := scale * m.e * m.t * m.t * m.t / 12 / (1 - m.nu*m.nu)
	in.mx, in.mz, in.mxz = d*(kx+m.nu*kz), d*(kz+m.nu*kx), d*(1-m.nu)/2*kxz
	return in, true
}

// Out is how far a place has moved out of the plane, mm; ok is false outside the metal.
func (s *State) Out(p plane.Point) (mm float64, ok bool) {
	e, a, b, ok := s.r.grid.find(p)
	if !ok || s.r.grid.cells[e].share == 0 {
		return 0, false
	}
	n, _, _ := shape(a, b)
	for i, k := range s.r.grid.cells[e].nodes {
		mm += n[i] * s.side[3*k]
	}
	return mm, true
}

// along are the means and first moments of what crosses a chord, per length of it.
type along struct{ mean, linear float64 }

// add takes what a length w of a chord bears per length, off its middle.
func (a *along) add(v, w, off float64) {
	a.mean += v * w
	a.linear += v * w * off
}

// Cut is what a chord bears by the solver: forces in N, moments in N·mm, and the stress parts in
// MPa, linearised over its metal.
type Cut struct {
	Normal, Shear, Turn float64
	sheet.Stress
}

// Across integrates what the plate bears across a chord; ok is false where most of it is not in
// the metal that counts.
func (s *State) Across(c *sheet.Chord) (cut Cut, ok bool) {
	way := c.Way()
	n := plane.Point{X: -way.Z, Z: way.X}
	xx, zz, xz := n.X*n.X, n.Z*n.Z, n.X*n.Z
	t := s.r.Plate.Thickness
	var nn, ns, mn, ms along
	covered := 0.0
	for _, span := range c.Spans {
		parts := max(3, int(math.Ceil((span.To-span.From)/s.r.H)))
		step := (span.To - span.From) / float64(parts)
		for k := range parts {
			for _, g := range [2]float64{-1 / math.Sqrt(3), 1 / math.Sqrt(3)} {
				u := span.From + step*(float64(k)+0.5+g/2)
				in, ok := s.at(c.At(u))
				if !ok {
					continue
				}
				w := step / 2
				covered += w
				off := u - c.Middle
				nn.add(in.nx*xx+in.nz*zz+2*in.nxz*xz, w, off)
				ns.add((in.nx*n.X+in.nxz*n.Z)*way.X+(in.nxz*n.X+in.nz*n.Z)*way.Z, w, off)
				mn.add(in.mx*xx+in.mz*zz+2*in.mxz*xz, w, off)
				ms.add((in.mx*n.X+in.mxz*n.Z)*way.X+(in.mxz*n.X+in.mz*n.Z)*way.Z, w, off)
			}
		}
	}
	if covered < 0.9*c.Width {
		return cut, false
	}
	cut.Normal, cut.Shear, cut.Turn = nn.mean, ns.mean, nn.linear
	cut.Stress = sheet.Stress{
		Mean:  nn.mean / (c.Width * t),
		Turn:  nn.linear * c.Far / (c.Inertia * t),
		Shear: math.Abs(ns.mean) / (c.Width * t),
		Bend:  6 / (t * t) * mn.mean / c.Width,
		Twist: 6 / (t * t) * ms.mean / c.Width,
	}
	return cut, true
}

// BoltForce is what a plate pushes a bolt at its foot with, N: in the plane, and along the bolt.
type BoltForce struct{ X, Z, Axial float64 }

// Bolts are what a plate pushes the bolts at its foot with.
func (s *State) Bolts() []BoltForce {
	var all []BoltForce
	for b, spots := range s.r.foot {
		var f BoltForce
		for _, p := range spots {
			for i, n := range p.cell.nodes {
				k := p.n[i] * p.area
				f.X += k * s.r.shear[b] * s.plan[2*n]
				f.Z += k * s.r.shear[b] * s.plan[2*n+1]
				f.Axial += k * s.r.across * s.side[3*n]
			}
		}
		all = append(all, f)
	}
	return all
}

package aero

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// lattice is the linear answer of a wing to the angles of its strips: half the
// wing is cut into strips across the span, and all results are linear or
// quadratic in the vector θ of the strips' angles in rad.
type lattice struct {
	lift   *mat.Dense // cl of each strip = lift·θ
	drag   *mat.Dense // CDi of the wing = θᵀ·drag·θ
	moment []float64  // CM of the wing about the quarter chord = moment·θ, beyond the sections' own
	weight []float64  // of each strip's chord·width in half the area; free tips drawn in make the sum fall just short of 1
	share  []float64  // the same, made to sum to 1
	arm    []float64  // of each strip's chord²·width in half the area times the chord
	twist  []float64  // angle of each strip with the wing at zero, rad
}

// A lattice of this many strips over half the span and panels along the chord
// is within 0.5 % of a converged lifting surface (checked in the tests).
const (
	stripsAcross = 14
	panelsAlong  = 6
)

// newLattice solves the vortex lattice of a planform with thin flat panels.
//
// Source: the vortex lattice of J. Katz and A. Plotkin, "Low-Speed
// Aerodynamics", 2nd ed. (2001), ch. 12, with bound vortices at a quarter and
// control points at three quarters of each panel; free edges drawn in by a
// quarter of a panel: G. J. Hough, J. Aircraft 10 (1973) 314-317. The induced
// drag is taken far behind the wing (Trefftz plane), where it is exact for the
// circulation found.
func newLattice(p Planform) (*lattice, error) {
	edges := p.stripEdges()
	vs := p.wingVortices(edges)
	wing := len(vs)
	vs = append(vs, p.plateVortices(edges)...)

	n := len(vs)
	strips := len(edges) - 1
	a := mat.NewDense(n, n, nil)
	OnAll(n, func(i int) {
		for k, w := range vs {
			a.Set(i, k, dot(w.velocity(vs[i].at), vs[i].normal))
		}
	})
	rhs := mat.NewDense(n, strips, nil)
	for i := range wing {
		rhs.Set(i, vs[i].strip, -1) // the flow through a strip at 1 rad, linearised
	}
	var gamma mat.Dense // circulation of each panel per strip angle, over the flow speed
	if err := gamma.Solve(a, rhs); err != nil {
		return nil, err
	}
	return p.gather(edges, vs, wing, &gamma), nil
}

// wingVortices lays panels on the right half of the wing: x from the
// quarter-chord line to the rear, y to the right, z towards lift.
func (p Planform) wingVortices(edges []float64) []vortex {
	var vs []vortex
	for j := range len(edges) - 1 {
		y1, y2 := edges[j], edges[j+1]
		mid := (y1 + y2) / 2
		c1, c2, c := p.chordAt(y1), p.chordAt(y2), p.chordAt(mid)
		for i := range panelsAlong {
			at := func(chord, part float64) float64 {
				return chord * ((float64(i)+part)/panelsAlong - 0.25)
			}
			vs = append(vs, vortex{
				a: [3]float64{at(c1, 0.25), y1, 0}, b: [3]float64{at(c2, 0.25), y2, 0},
				strip: j, chord: c / panelsAlong,
				at: [3]float64{at(c, 0.75), mid, 0}, normal: [3]float64{0, 0, 1},
			})
		}
	}
	return vs
}

// plateVortices lays panels on the right end plate.
func (p Planform) plateVortices(edges []float64) []vortex {
	if p.Plate.Height <= 0 || p.Plate.Length <= 0 {
		return nil
	}
	zs, y := p.plateEdges(), edges[len(edges)-1]
	front := -p.tip()/4 - p.Plate.Ahead
	var vs []vortex
	for j := range len(zs) - 1 {
		for i := range panelsAlong {
			x := func(part float64) float64 {
				return front + p.Plate.Length*(float64(i)+part)/panelsAlong
			}
			vs = append(vs, vortex{
				a: [3]float64{x(0.25), y, zs[j]}, b: [3]float64{x(0.25), y, zs[j+1]},
				strip: -1, chord: p.Plate.Length / panelsAlong,
				at: [3]float64{x(0.75), y, (zs[j] + zs[j+1]) / 2}, normal: [3]float64{0, 1, 0},
			})
		}
	}
	return vs
}

// gather turns circulations into the matrices of a lattice.
func (p Planform) gather(edges []float64, vs []vortex, wing int, gamma *mat.Dense) *lattice {
	strips := len(edges) - 1
	l := &lattice{
		lift: mat.NewDense(strips, strips, nil), moment: make([]float64, strips),
		weight: make([]float64, strips), share: make([]float64, strips), arm: make([]float64, strips), twist: make([]float64, strips),
	}
	half, laid := p.Area()/2, 0.0 // the area of half the wing and of its strips, m²
	chord := 0.0                  // mean aerodynamic, m
	chords, widths := make([]float64, strips), make([]float64, strips)
	for j := range strips {
		mid := (edges[j] + edges[j+1]) / 2
		chords[j], widths[j] = p.chordAt(mid), edges[j+1]-edges[j]
		laid += chords[j] * widths[j]
		chord += chords[j] * chords[j] * widths[j]
		l.twist[j] = p.Twist * 2 * mid / p.Span
	}
	chord /= laid
	for j := range strips {
		area := chords[j] * widths[j]
		l.weight[j], l.share[j], l.arm[j] = area/half, area/laid, area/laid*chords[j]/chord
	}
	for i := range wing {
		v := vs[i]
		j := v.strip
		c := chords[j]
		x := (v.a[0] + v.b[0]) / 2
		for k := range strips {
			g := gamma.At(i, k)
			l.lift.Set(j, k, l.lift.At(j, k)+2*g/c)
			l.moment[k] -= 2 * g / c * x / chord * l.weight[j]
		}
	}
	l.drag = trefftz(vs, gamma, half)
	return l
}

// trefftz returns the quadratic form of the induced drag, from the velocities
// that the trailing vortices of both halves induce far behind the wing.
func trefftz(vs []vortex, gamma *mat.Dense, half float64) *mat.Dense {
	// One line per strip of the wing or plate: its panels share their legs.
	type line struct {
		y1, z1, y2, z2 float64
		total          []float64 // circulation per strip angle
	}
	_, strips := gamma.Dims()
	var lines []line
	for i, v := range vs {
		if i%panelsAlong == 0 {
			lines = append(lines, line{v.a[1], v.a[2], v.b[1], v.b[2], make([]float64, strips)})
		}
		for k := range strips {
			lines[len(lines)-1].total[k] += gamma.At(i, k)
		}
	}
	swirl := func(y, z, y0, z0 float64) (v, w float64) { // of a unit line vortex along x
		dy, dz := y-y0, z-z0
		r2 := 2 * math.Pi * (dy*dy + dz*dz)
		return -dz / r2, dy / r2
	}
	n := len(lines)
	wash := mat.NewDense(n, n, nil)
	for i, m := range lines {
		y, z := (m.y1+m.y2)/2, (m.z1+m.z2)/2
		length := math.Hypot(m.y2-m.y1, m.z2-m.z1)
		ny, nz := -(m.z2-m.z1)/length, (m.y2-m.y1)/length
		for k, s := range lines {
			// The bound vortex runs from 1 to 2, so its circulation comes in
			// along leg 1 and leaves along leg 2; the mirror image runs back.
			v2, w2 := swirl(y, z, s.y2, s.z2)
			v1, w1 := swirl(y, z, s.y1, s.z1)
			iv2, iw2 := swirl(y, z, -s.y2, s.z2)
			iv1, iw1 := swirl(y, z, -s.y1, s.z1)
			normal := (v2-v1+iv1-iv2)*ny + (w2-w1+iw1-iw2)*nz
			wash.Set(i, k, -normal*length)
		}
	}
	total := mat.NewDense(n, strips, nil)
	for i, s := range lines {
		total.SetRow(i, s.total)
	}
	var left, form mat.Dense
	left.Mul(total.T(), wash)
	form.Mul(&left, total)
	form.Scale(1/half, &form)
	return &form
}

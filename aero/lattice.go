package aero

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// Planform is the shape of a wing seen from above, with its end plates. The
// quarter-chord line is straight and square to the flow.
type Planform struct {
	Span     float64 // m, between the end plates
	Chord    float64 // m, at the middle
	TipChord float64 // m; 0 for the same as Chord
	Twist    float64 // rad, of the tip against the middle, in the sense of more lift; it grows linearly
	Plate    Plate
}

// Plate is one of the two equal end plates, flat and along the flow. The zero
// Plate is none.
type Plate struct {
	Length float64 // m, along the chord
	Height float64 // m, the full height
	Ahead  float64 // m, from the wing's leading edge forward to the plate's
	Above  float64 // m, from the chord line to the middle of the plate, on the side to which the wing lifts
}

func (p Planform) tip() float64 {
	if p.TipChord == 0 {
		return p.Chord
	}
	return p.TipChord
}

// Area returns the area of the wing without its plates, m².
func (p Planform) Area() float64 { return p.Span * (p.Chord + p.tip()) / 2 }

// MeanChord returns the mean aerodynamic chord, m, which moments are given on:
// ∫c² dy / ∫c dy.
func (p Planform) MeanChord() float64 {
	a, b := p.Chord, p.tip()
	return 2 * (a*a + a*b + b*b) / (3 * (a + b))
}

// AspectRatio returns span²/area, without the plates.
func (p Planform) AspectRatio() float64 { return p.Span * p.Span / p.Area() }

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

// vortex is a horseshoe: bound from a to b, with both legs straight along the
// flow to infinity.
type vortex struct {
	a, b   [3]float64
	strip  int
	chord  float64    // of its panel, m
	at     [3]float64 // control point, three quarters along the panel
	normal [3]float64
}

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
	for i, v := range vs {
		for k, w := range vs {
			a.Set(i, k, dot(w.velocity(v.at), v.normal))
		}
	}
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

// stripEdges returns the strips' edges over half the span, m.
func (p Planform) stripEdges() []float64 {
	n := float64(stripsAcross)
	width := p.Span / 2 / (n + 0.25)
	if p.Plate.Height > 0 {
		width = p.Span / 2 / n
	}
	edges := make([]float64, stripsAcross+1)
	for i := range edges {
		edges[i] = width * float64(i)
	}
	return edges
}

func (p Planform) chordAt(y float64) float64 {
	return p.Chord + (p.tip()-p.Chord)*min(1, 2*y/p.Span)
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

// plateEdges returns the heights of the plate's strip edges, m, from the
// lowest up; the wing's own plane is one of them, so that vortices meet.
func (p Planform) plateEdges() []float64 {
	low, high := p.Plate.Above-p.Plate.Height/2, p.Plate.Above+p.Plate.Height/2
	var zs []float64
	across := func(from, to float64, inset bool) {
		n := max(3, min(8, int(math.Ceil((to-from)/(p.Span/2/stripsAcross)))))
		width := (to - from) / float64(n)
		if inset {
			width = (to - from) / (float64(n) + 0.25)
		}
		for i := 1; i <= n; i++ {
			zs = append(zs, width*float64(i))
		}
	}
	// Upwards from the wing, then downwards, each from the wing's plane.
	if high > 0 {
		across(max(0, low), high, true)
		for i := range zs {
			zs[i] += max(0, low)
		}
	}
	up := append([]float64(nil), zs...)
	zs = nil
	if low < 0 {
		across(max(0, -high), -low, true)
		for i := range zs {
			zs[i] = -(zs[i] + max(0, -high))
		}
	}
	var all []float64
	for i := len(zs) - 1; i >= 0; i-- {
		all = append(all, zs[i])
	}
	switch {
	case low <= 0 && high >= 0:
		all = append(all, 0)
	case low > 0:
		all = append(all, low)
	default:
		all = append(all, high)
	}
	return append(all, up...)
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

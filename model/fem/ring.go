package fem

import (
	"fmt"
	"math"

	"stanchion/holes/plane"
)

// Bolt is a place where a bolt clamps a plate: between the hole and the washer's edge.
type Bolt struct {
	At     plane.Point
	Hole   float64 // mm, diameter
	Washer float64 // mm, outer diameter
	Shear  float64 // N/mm in the plane, of a bolt at the foot
}

// patch is a piece of metal that something acts on: the rings of bolts together.
type patch struct {
	points        []spot
	area          float64 // mm²
	centre        plane.Point
	jxx, jxz, jzz float64 // mm⁴ about the centre
}

// spot is a place with the share of a patch that it stands for.
type spot struct {
	cell *cell
	n    [9]float64
	at   plane.Point
	area float64 // mm²
}

// How many points a ring is taken as.
const (
	ringRadii  = 4
	ringAround = 32
)

// ring returns the metal below a bolt's washer.
func (g *grid) ring(b Bolt) ([]spot, error) {
	r, w := gauss(ringRadii)
	in, out := b.Hole/2, b.Washer/2
	var all []spot
	for i := range r {
		radius := (in+out)/2 + (out-in)/2*r[i]
		area := w[i] * (out - in) / 2 * radius * 2 * math.Pi / ringAround
		for k := range ringAround {
			sin, cos := math.Sincos(2 * math.Pi * (float64(k) + 0.5) / ringAround)
			p := b.At.Add(plane.Point{X: radius * cos, Z: radius * sin})
			e, a, c, ok := g.find(p)
			if !ok || g.cells[e].share == 0 || !g.shape.Inside(p) {
				continue
			}
			n, _, _ := shape(a, c)
			all = append(all, spot{&g.cells[e], n, p, area})
		}
	}
	if len(all) == 0 {
		return nil, fmt.Errorf("there is no metal under the washer at (%.1f, %.1f)", b.At.X, b.At.Z)
	}
	return all, nil
}

// patch returns the metal below the washers of bolts as one.
func (g *grid) patch(bolts []Bolt) (patch, error) {
	var p patch
	for _, b := range bolts {
		spots, err := g.ring(b)
		if err != nil {
			return p, err
		}
		p.points = append(p.points, spots...)
	}
	for _, s := range p.points {
		p.area += s.area
		p.centre = p.centre.Add(s.at.Times(s.area))
	}
	p.centre = p.centre.Times(1 / p.area)
	for _, s := range p.points {
		dx, dz := s.at.X-p.centre.X, s.at.Z-p.centre.Z
		p.jxx += s.area * dx * dx
		p.jxz += s.area * dx * dz
		p.jzz += s.area * dz * dz
	}
	return p, nil
}

// tilt returns the pressure b dx + c dz, N/mm², whose moments about x and z are given:
// mx = -∫dz p and mz = ∫dx p.
func (p *patch) tilt(mx, mz float64) (b, c float64) {
	det := p.jxx*p.jzz - p.jxz*p.jxz
	return (mz*p.jzz + mx*p.jxz) / det, (-mx*p.jxx - mz*p.jxz) / det
}

// Motion is how a plate's head moves as a rigid body, by least squares over its washers.
type Motion struct {
	X, Z, Turn float64 // mm and rad, in the plane
	Side       float64 // mm across it
	SX, SZ     float64 // slopes of it by x and z
}

// inPlane is the motion of a patch in the plane under the displacements u.
func (p *patch) inPlane(u []float64) (m Motion) {
	for _, s := range p.points {
		var ux, uz float64
		for i, n := range s.cell.nodes {
			ux += s.n[i] * u[2*n]
			uz += s.n[i] * u[2*n+1]
		}
		m.X += s.area * ux / p.area
		m.Z += s.area * uz / p.area
		m.Turn += s.area * ((s.at.X-p.centre.X)*uz - (s.at.Z-p.centre.Z)*ux) / (p.jxx + p.jzz)
	}
	return m
}

// across is the motion of a patch across the plane under the displacements u.
func (p *patch) across(u []float64) (m Motion) {
	var mx, mz float64
	for _, s := range p.points {
		w := 0.0
		for i, n := range s.cell.nodes {
			w += s.n[i] * u[3*n]
		}
		m.Side += s.area * w / p.area
		mz += s.area * (s.at.X - p.centre.X) * w
		mx -= s.area * (s.at.Z - p.centre.Z) * w
	}
	m.SX, m.SZ = p.tilt(mx, mz)
	return m
}

package cad

import (
	"fmt"
	"math"
	"slices"

	"stanchion/holes/plane"
)

// polyline takes a polyline of either kind.
func (g *gathering) polyline(e *entity, at affine) {
	flags := int(e.number(70, 0))
	if e.kind == "POLYLINE" && flags&(8|16|64) != 0 {
		g.pass(e, "which is a mesh or runs in space")
		return
	}
	vs := e.corners()
	n := len(vs)
	if n < 2 {
		g.pass(e, "with fewer than two corners")
		return
	}
	closed := flags&1 != 0
	if vs[0].p.Distance(vs[n-1].p) < 1e-9 && n > 2 {
		closed, n = true, n-1 // closed by its last corner
	}
	last := n - 1
	if closed {
		last = n
	}
	l := loop{layer: e.layer(), line: e.line}
	for i := range last {
		a, b := vs[i], vs[(i+1)%n]
		if math.IsNaN(a.p.X+a.p.Z+b.p.X+b.p.Z+a.bulge) || math.Abs(a.bulge) > 1e6 {
			g.pass(e, fmt.Sprintf("with a field that is not a number (line %d)", e.line))
			return
		}
		k, ok := g.placed(at, edge{a.p, b.p, a.bulge})
		if !ok {
			g.pass(e, "which its block squeezes, or which is far away")
			return
		}
		if k.a.Distance(k.b) > 1e-9 {
			l.edges = append(l.edges, k)
		}
	}
	switch {
	case !closed:
		g.edges = append(g.edges, l.edges...)
		for range l.edges {
			g.layers = append(g.layers, l.layer)
		}
	case len(l.edges) > 1:
		g.loops = append(g.loops, l)
	}
}

// vertex is a corner of a polyline, and the bulge of the edge from it.
type vertex struct {
	p     plane.Point
	bulge float64
}

// corners lists the corners of a polyline of either kind.
func (e *entity) corners() (vs []vertex) {
	if e.kind == "POLYLINE" {
		for i := range e.inner {
			v := &e.inner[i]
			if v.kind != "VERTEX" || int(v.number(70, 0))&16 != 0 { // a spline's frame is no corner
				continue
			}
			vs = append(vs, vertex{plane.Point{X: v.number(10, 0), Z: v.number(20, 0)}, v.number(42, 0)})
		}
		return vs
	}
	for _, p := range e.pairs {
		switch p.code {
		case 10:
			vs = append(vs, vertex{p: plane.Point{X: parse(p.value)}})
		case 20:
			if len(vs) > 0 {
				vs[len(vs)-1].p.Z = parse(p.value)
			}
		case 42:
			if len(vs) > 0 {
				vs[len(vs)-1].bulge = parse(p.value)
			}
		}
	}
	return vs
}

// insert puts a block in its place, in rows and columns when it says so.
func (g *gathering) insert(e *entity, at affine, depth int) error {
	name := e.text(2)
	inner, ok := g.blocks[name]
	switch {
	case !ok:
		g.pass(e, "of a block that is not there")
		return nil
	case slices.Contains(g.within, name):
		g.pass(e, "of a block in itself")
		return nil
	case depth >= maxDepth:
		g.pass(e, "of blocks nested more than 16 deep")
		return nil
	}
	g.within = append(g.within, name)
	defer func() { g.within = g.within[:len(g.within)-1] }()
	base := g.bases[name]
	sx, sz := e.number(41, 1), e.number(42, 1)
	sin, cos := math.Sincos(e.number(50, 0) * plane.Deg)
	columns, rows := max(1, int(min(e.number(70, 1), 1e6))), max(1, int(min(e.number(71, 1), 1e6)))
	for row := range rows {
		for col := range columns {
			dx, dz := float64(col)*e.number(44, 0), float64(row)*e.number(45, 0)
			m := affine{cos * sx, -sin * sz, sin * sx, cos * sz, e.number(10, 0) + cos*dx - sin*dz, e.number(20, 0) + sin*dx + cos*dz}
			m = m.then(affine{a: 1, d: 1, x0: -base[0], z0: -base[1]})
			if err := g.all(inner, at.then(m), depth+1, e.layer()); err != nil {
				return err
			}
			if g.count++; g.count > maxEntities {
				return fmt.Errorf("more than %d entities with the blocks put in place; draw the part alone", maxEntities)
			}
		}
	}
	return nil
}

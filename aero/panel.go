package aero

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Panels is the inviscid flow about a section: vorticity that varies linearly
// along straight panels between the points of its outline.
//
// Source: the stream-function form of the linear-vorticity method, M. Drela,
// "XFOIL: an analysis and design system for low Reynolds number airfoils",
// Lecture Notes in Engineering 54 (1989), sec. 2.1; the integrals are those of
// J. Katz and A. Plotkin, "Low-Speed Aerodynamics" (2001), ch. 10, for ln r.
type Panels struct {
	nodes  []Vec     // from the trailing edge over the upper side to the leading edge and back below
	along  []float64 // arc length to each node, chords
	basis0 []float64 // vorticity at each node, over the flow's speed, at 0°
	basis1 []float64 // and at 90°
}

// NewPanels solves the flow about an outline: points in chords from the
// trailing edge over the upper, lifting side to the leading edge and back along
// the lower side, as Naca.Outline gives them. A trailing edge of finite
// thickness is closed by shearing both sides together. The error says why an
// outline cannot be used.
func NewPanels(outline []Vec) (*Panels, error) {
	nodes, err := closed(outline)
	if err != nil {
		return nil, err
	}
	n := len(nodes)
	p := &Panels{nodes: nodes, along: make([]float64, n)}
	for i := 1; i < n; i++ {
		p.along[i] = p.along[i-1] + math.Hypot(nodes[i].X-nodes[i-1].X, nodes[i].Y-nodes[i-1].Y)
	}
	// Unknown: the vorticity at each node and the stream function on the body.
	a := mat.NewDense(n+1, n+1, nil)
	rhs := mat.NewDense(n+1, 2, nil)
	OnAll(n-1, func(i int) {
		row := a.RawRowView(i)
		from := logOf(nodes[i], nodes[0])
		for k := range n - 1 {
			to := logOf(nodes[i], nodes[k+1])
			g1, g2 := streamOfPanel(nodes[i], nodes[k], nodes[k+1], from, to)
			row[k] += g1
			row[k+1] += g2
			from = to
		}
		row[n] = -1
		rhs.Set(i, 0, -nodes[i].Y)
		rhs.Set(i, 1, nodes[i].X)
	})
	// The two nodes at the trailing edge are one place, so the second gives no
	// condition of its own: let the mean vorticity run on smoothly to it.
	last := a.RawRowView(n - 1)
	for _, e := range []struct {
		i int
		v float64
	}{{0, 1}, {1, -2}, {2, 1}, {n - 1, -1}, {n - 2, 2}, {n - 3, -1}} {
		last[e.i] += e.v
	}
	kutta := a.RawRowView(n)
	kutta[0], kutta[n-1] = 1, 1
	var x mat.Dense
	if err := x.Solve(a, rhs); err != nil {
		return nil, fmt.Errorf("the outline's panels cannot be solved: %w", err)
	}
	p.basis0, p.basis1 = make([]float64, n), make([]float64, n)
	for i := range n {
		p.basis0[i], p.basis1[i] = x.At(i, 0), x.At(i, 1)
	}
	return p, nil
}

// closed returns the outline with a sharp trailing edge.
func closed(outline []Vec) ([]Vec, error) {
	n := len(outline)
	if n < 20 {
		return nil, fmt.Errorf("%d points; at least 20 are needed", n)
	}
	nodes := append([]Vec(nil), outline...)
	first, last := nodes[0], nodes[n-1]
	gap := Vec{last.X - first.X, last.Y - first.Y}
	if math.Hypot(gap.X, gap.Y) > 0.05 {
		return nil, errors.New("the trailing edge is open by more than 5 % of the chord")
	}
	lead := 0
	for i, v := range nodes {
		if v.X < nodes[lead].X {
			lead = i
		}
	}
	chord := (first.X+last.X)/2 - nodes[lead].X
	for i := range nodes {
		part := max(0, (nodes[i].X-nodes[lead].X)/chord) / 2
		if i > lead {
			part = -part
		}
		nodes[i].X += part * gap.X
		nodes[i].Y += part * gap.Y
	}
	mid := Vec{(nodes[0].X + nodes[n-1].X) / 2, (nodes[0].Y + nodes[n-1].Y) / 2}
	nodes[0], nodes[n-1] = mid, mid
	return nodes, nil
}

// logOf returns the logarithm of the distance of two points; 0 for one and the same, where it is
// only met multiplied by the vanishing distance.
func logOf(p, q Vec) float64 {
	d := (p.X-q.X)*(p.X-q.X) + (p.Y-q.Y)*(p.Y-q.Y)
	if d < 1e-24 {
		return 0
	}
	return math.Log(d) / 2
}

// streamOfPanel returns the stream function at p of a panel from a to b whose
// vorticity is 1 at a and falls to 0 at b, and of one that rises from 0 to 1. la and lb are
// the logarithms of the distances from p to a and b.
func streamOfPanel(p, a, b Vec, la, lb float64) (atA, atB float64) {
	l := math.Hypot(b.X-a.X, b.Y-a.Y)
	tx, ty := (b.X-a.X)/l, (b.Y-a.Y)/l
	x := (p.X-a.X)*tx + (p.Y-a.Y)*ty
	y := (p.Y-a.Y)*tx - (p.X-a.X)*ty
	s1, s2 := x*x+y*y, (x-l)*(x-l)+y*y // squares of the distances to the ends
	turn := 0.0
	if math.Abs(y) > 1e-13 {
		turn = math.Atan2(y*l, s1-x*l) // the angle that the panel subtends
	}
	i0 := x*la - (x-l)*lb - l + y*turn
	i1 := x*i0 - (s1*la-s2*lb)/2 + (s1-s2)/4
	return (i0 - i1/l) / (2 * math.Pi), i1 / l / (2 * math.Pi)
}

// Speeds returns the flow's speed along the surface at each node over that far
// away, positive towards the trailing edge on the upper side and against the
// order of the nodes, at an angle of attack in rad.
func (p *Panels) Speeds(alpha float64) []float64 {
	sin, cos := math.Sincos(alpha)
	u := make([]float64, len(p.nodes))
	for i := range u {
		u[i] = cos*p.basis0[i] + sin*p.basis1[i]
	}
	return u
}

// Pressures returns the pressure coefficient at each node.
func (p *Panels) Pressures(alpha float64) []float64 {
	cp := p.Speeds(alpha)
	for i, u := range cp {
		cp[i] = 1 - u*u
	}
	return cp
}

// Nodes returns the points at which speeds and pressures are given.
func (p *Panels) Nodes() []Vec { return p.nodes }

// Lift returns the lift coefficient by the circulation, and the moment about
// the quarter chord by the pressures, at an angle of attack in rad. Drag is
// zero, as in all inviscid flow.
func (p *Panels) Lift(alpha float64) (cl, cm float64) {
	u := p.Speeds(alpha)
	circulation := 0.0
	lead, trail := p.edges()
	chord := trail - lead
	quarter := lead + chord/4
	for i := range len(u) - 1 {
		a, b := p.nodes[i], p.nodes[i+1]
		circulation += (u[i] + u[i+1]) / 2 * (p.along[i+1] - p.along[i])
		cp := 1 - (u[i]*u[i]+u[i]*u[i+1]+u[i+1]*u[i+1])/3
		x, y := (a.X+b.X)/2-quarter, (a.Y+b.Y)/2
		// Pressure acts on the panel from outside; the nodes run
		// anticlockwise, so (dy, -dx) points outwards.
		fx, fy := -cp*(b.Y-a.Y), cp*(b.X-a.X)
		cm -= x*fy - y*fx
	}
	return 2 * circulation / chord, cm / (chord * chord)
}

func (p *Panels) edges() (lead, trail float64) {
	lead, trail = math.Inf(1), math.Inf(-1)
	for _, v := range p.nodes {
		lead, trail = min(lead, v.X), max(trail, v.X)
	}
	return lead, trail
}

// ZeroLift returns the inviscid angle of zero lift, rad.
func (p *Panels) ZeroLift() float64 {
	// Lift is A cos α + B sin α exactly.
	a, _ := p.Lift(0)
	b, _ := p.Lift(math.Pi / 2)
	return math.Atan2(-a, b)
}

package deck

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"

	"stanchion/aero"
)

// A closed body in free air, and the flow round it as a second onset: what the pressures -ρU·w
// sum to on the body (U the flow round the body, w the wing's disturbance) is what U's
// disturbance does to the wing's vortices, by Kutta and Joukowski, with the other sign. So
// nothing is lost along the stream either: d'Alembert.
func TestForceAndCounterforce(t *testing.T) {
	line := []Point{{-1, 2.03}, {-0.97, 2.2}, {-0.9, 2.32}, {-0.75, 2.43}, {-0.4, 2.5}, {0.3, 2.5}, {0.7, 2.41}, {0.95, 2.2}, {1, 2.03}}
	m := mesh{fine: 0.07, edge: 0.07, near: 3, coarse: 1, across: graded(5), rows: graded(3), bottom: 2, air: true}
	d, err := build(line, 1.2, m)
	if err != nil {
		t.Fatal(err)
	}
	n := len(d.panels)
	f := d.fields(aero.Planform{Span: 0.8, Chord: 0.2}, Place{0.5, 2.9, 0})
	g, sources, err := d.answer(f, 0)
	if err != nil {
		t.Fatal(err)
	}
	onset, base := mat.NewVecDense(n, nil), new(mat.VecDense)
	for i, p := range d.panels {
		onset.SetVec(i, -p.normal[0])
	}
	if err := d.wakes[0].SolveVecTo(base, false, onset); err != nil {
		t.Fatal(err)
	}
	var body, top vec
	for _, p := range d.panels {
		u, w := vec{1}, vec{}
		for k := range d.panels {
			v := d.panels[k].symmetric(p.at, false)
			u, w = u.plus(v.times(base.AtVec(k))), w.plus(v.times(sources.AtVec(k)))
		}
		for k, v := range f.lattice.velocities(p.at, false) {
			w = w.plus(v.times(g.AtVec(k)))
		}
		force := p.normal.times(2 * u.dot(w) * p.area)
		body = body.plus(force)
		if p.slice >= 0 {
			top = top.plus(force)
		}
	}
	wing := vec{}
	disturbance := func(q vec) (u vec) {
		for k := range d.panels {
			u = u.plus(d.panels[k].symmetric(q, false).times(base.AtVec(k)))
		}
		return u
	}
	for i, p := range f.lattice.pieces {
		strength := 0.0
		for k, v := range f.lattice.vs {
			for j, number := range v.pieces {
				if number == i {
					strength += v.signs[j] * g.AtVec(k)
				}
			}
		}
		from, to, step := p.a, p.b, 4
		if p.endless {
			to, step = p.a.plus(vec{20}), 40
		}
		for j := range step {
			// Closer together near the wing.
			part := func(j int) float64 { return math.Pow(float64(j)/float64(step), 2) }
			if !p.endless {
				part = func(j int) float64 { return float64(j) / float64(step) }
			}
			a, b := from.plus(to.minus(from).times(part(j))), from.plus(to.minus(from).times(part(j+1)))
			u := disturbance(a.plus(b).times(0.5))
			// u × dl of the piece and its mirror image: the sideways parts cancel.
			c := u.cross(b.minus(a)).times(2 * strength)
			wing[0], wing[2] = wing[0]+c[0], wing[2]+c[2]
		}
	}
	down := downforce(f.lattice.vs, g)
	// Both flows are endless at the body's edges, where panels give too little of it.
	near(t, "force along the stream on body and wing, over the downforce", (body[0]+wing[0])/down, 0, 0.02)
	near(t, "force upwards on body and wing", (body[2]+wing[2])/down, 0, 0.02)
	near(t, "force upwards on the wing", wing[2]/down, -0.169, 0.01)
	near(t, "force on the wing along the stream", wing[0]/down, -0.09, 0.01)
	near(t, "lift of the upper side", top[2]/down, 0.317, 0.01)
}

package deck

import (
	"gonum.org/v1/gonum/mat"

	"stanchion/aero"
)

// fields are what a wing's vortices at unit circulation do to the body and to one another.
type fields struct {
	lattice     *lattice
	wash        [2]*mat.Dense // right-hand sides of the two wakes' equations
	along       *mat.Dense    // velocity along x at the panels whose pressures are wanted
	alone, self *mat.Dense    // velocity across the wing at its control points: without ground, with it
	feel        *mat.Dense    // the same by the body's sources of unit strength
}

func (d *Deck) fields(p aero.Planform, at Place) fields {
	l := newLattice(p, at)
	n, w := len(d.panels), len(l.vs)
	f := fields{
		lattice: l, wash: [2]*mat.Dense{mat.NewDense(n, w, nil), mat.NewDense(n, w, nil)},
		along: mat.NewDense(d.counted, w, nil),
		alone: mat.NewDense(w, w, nil), self: mat.NewDense(w, w, nil), feel: mat.NewDense(w, n, nil),
	}
	aero.OnAll(n+w, func(i int) {
		if i < n {
			d.onBody(f, i)
		} else {
			d.onWing(f, i-n)
		}
	})
	return f
}

// onBody fills in what the vortices do to panel i.
func (d *Deck) onBody(f fields, i int) {
	p := &d.panels[i]
	for k, u := range f.lattice.velocities(p.at, d.ground) {
		f.wash[0].Set(i, k, -u.dot(p.normal))
		f.wash[1].Set(i, k, -u.dot(p.normal))
		if i < d.counted {
			f.along.Set(i, k, u[0])
		}
	}
	if p.ahead >= 0 {
		// The vortices' own rise of potential from the panel ahead.
		from := d.panels[p.ahead].at
		for k, u := range f.lattice.velocities(p.at.plus(from).times(0.5), d.ground) {
			f.wash[1].Set(i, k, -u.dot(p.at.minus(from)))
		}
	}
}

// onWing fills in what vortices and sources do to the wing's panel i.
func (d *Deck) onWing(f fields, i int) {
	at, normal := f.lattice.vs[i].at, f.lattice.vs[i].normal
	alone, self := f.lattice.velocities(at, false), f.lattice.velocities(at, d.ground)
	for k := range alone {
		f.alone.Set(i, k, alone[k].dot(normal))
		f.self.Set(i, k, self[k].dot(normal))
	}
	for k := range d.panels {
		f.feel.Set(i, k, d.panels[k].symmetric(at, d.ground).dot(normal))
	}
}

// answer solves wing and body together for one of the two wakes: the wing's circulations at
// unit angle and the sources of the panels.
func (d *Deck) answer(f fields, wake int) (circulation, sources *mat.VecDense, err error) {
	var each, back mat.Dense // sources for a unit circulation of each vortex
	if err := d.wakes[wake].SolveTo(&each, false, f.wash[wake]); err != nil {
		return nil, nil, err
	}
	back.Mul(f.feel, &each)
	back.Add(&back, f.self)
	circulation, err = atUnitAngle(f.lattice.vs, &back)
	if err != nil {
		return nil, nil, err
	}
	sources = new(mat.VecDense)
	sources.MulVec(&each, circulation)
	return circulation, sources, nil
}

// atUnitAngle returns the circulations that keep the flow along the wing at 1 rad, linearised,
// over the speed.
func atUnitAngle(vs []vortex, across mat.Matrix) (*mat.VecDense, error) {
	rhs, g := mat.NewVecDense(len(vs), nil), new(mat.VecDense)
	for i, v := range vs {
		if v.wing {
			rhs.SetVec(i, 1)
		}
	}
	return g, g.SolveVec(across, rhs)
}

// downforce returns that of the whole wing over ρV, for circulations.
func downforce(vs []vortex, g *mat.VecDense) (sum float64) {
	for i, v := range vs {
		sum += 2 * g.AtVec(i) * v.width
	}
	return sum
}

// reaction returns what the body feels of the wing for one wake.
func (d *Deck) reaction(f fields, wake int, alone float64) (Reaction, error) {
	g, sources, err := d.answer(f, wake)
	if err != nil {
		return Reaction{}, err
	}
	var u, own mat.VecDense
	u.MulVec(d.along, sources)
	own.MulVec(f.along, g)
	u.AddVec(&u, &own)
	down := downforce(f.lattice.vs, g)
	n := len(d.slices) - 1
	r := Reaction{Rise: down/alone - 1, slices: d.slices, up: make([]float64, n), back: make([]float64, n)}
	for i := range d.counted {
		p := &d.panels[i]
		// The pressure is -ρVu, linearised; the panel stands for its mirror image too.
		k := 2 * u.AtVec(i) * p.area / down
		r.up[p.slice] += k * p.normal[2]
		r.back[p.slice] += k * p.normal[0]
	}
	return r.total(), nil
}

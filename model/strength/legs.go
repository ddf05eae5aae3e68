package strength

import (
	"math"

	"stanchion/model/fem"
	"stanchion/model/sheet"
)

// legs reads the stress at the root of each leg of a plate that stands on a line on more than one: there the
// clamp spoils what the solver reads, so that what crosses the leg is read at two heights above and carried
// down, along which nothing loads it.
func (r *reading) legs(k int, state *fem.State) {
	floor := r.p.metal.shape.Floor
	if math.IsInf(floor, -1) {
		return
	}
	roots := r.p.metal.shape.Level(floor + 2e-3)
	if len(roots) < 2 {
		return
	}
	low, high := 1.6*r.out.Cell, 3.2*r.out.Cell
	for i := range roots {
		root := &roots[i]
		a, okA := r.above(root, floor+low, state)
		b, okB := r.above(root, floor+high, state)
		if !okA || !okB {
			continue
		}
		down := func(x, y float64) float64 { return x + (x-y)*low/(high-low) }
		t := r.p.t
		stress := root.Stress(sheet.Cut{Normal: down(a.Normal, b.Normal), Shear: down(a.Shear, b.Shear), Turn: down(a.Turn, b.Turn),
			Bend: down(a.bend, b.bend), Twist: down(a.twist, b.twist) / 2}, t)
		check := r.p.onChord(root, stress)
		check.Case = k
		r.worst(check, stress, root, true)
		r.keep(root, stress)
	}
}

// crossing is what crosses a leg at a height: forces in N, moments in N·mm.
type crossing struct {
	fem.Cut
	bend, twist float64
}

// above is what crosses the leg over a root at a height.
func (r *reading) above(root *sheet.Chord, z float64, state *fem.State) (c crossing, ok bool) {
	level := r.p.metal.shape.Level(z)
	for i := range level {
		l := &level[i]
		if max(min(l.A.X, l.B.X), min(root.A.X, root.B.X)) >= min(max(l.A.X, l.B.X), max(root.A.X, root.B.X)) {
			continue
		}
		cut, ok := state.Across(l)
		if !ok {
			return c, false
		}
		w := r.p.t * r.p.t / 6 * l.Width
		return crossing{cut, cut.Bend * w, cut.Twist * w}, true
	}
	return c, false
}

// picture keeps how much of its strength the plate uses at each place in a load case.
func (r *reading) picture(state *fem.State) {
	places := r.p.metal.lattice()
	for i := range places {
		c := &places[i]
		if r.touches(c) {
			continue
		}
		if cut, ok := state.Across(c); ok {
			r.out.Field = append(r.out.Field, Used{c.Place, r.p.onChord(c, cut.Stress).Utilisation()})
		}
	}
}

package strength

import (
	"context"
	"fmt"
	"slices"
	"sync"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model/fem"
)

// mostCells is how many cells a plate is laid under: so many are solved in well under a second.
const mostCells = 1200

// memory keeps what the solver found: a held plate takes some tens of megabytes, so that only a few
// stay.
type memory struct {
	mutex     sync.Mutex
	held      []kept[*fem.Solver]
	responses []kept[*fem.Response]
	results   sync.Map // of settings that were solved, by their ids
}

type kept[T any] struct {
	key   string
	value T
}

// How many held plates and responses stay.
const (
	heldKept      = 3
	responsesKept = 40
)

// remembered returns what is kept under a key, or makes it; the newest stand last.
func remembered[T any](all *[]kept[T], most int, key string, make func() (T, error)) (T, error) {
	if i := slices.IndexFunc(*all, func(k kept[T]) bool { return k.key == key }); i >= 0 {
		k := (*all)[i]
		*all = append(slices.Delete(*all, i, i+1), k)
		return k.value, nil
	}
	v, err := make()
	if err != nil {
		return v, err
	}
	if len(*all) >= most {
		*all = slices.Delete(*all, 0, 1)
	}
	*all = append(*all, kept[T]{key, v})
	return v, nil
}

// respond returns how a part answers to loads at its head in a setting: it hangs on its bolts alone.
func (f *Analysis) respond(ctx context.Context, st stance, part int) (*fem.Response, error) {
	foot, head := st.boltPlaces(f, part)
	at := fmt.Sprintf("%d foot %.3f", part, foot)
	f.memory.mutex.Lock()
	defer f.memory.mutex.Unlock()
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	return remembered(&f.memory.responses, responsesKept, fmt.Sprintf("%s head %.3f", at, head), func() (*fem.Response, error) {
		s, err := remembered(&f.memory.held, heldKept, at, func() (*fem.Solver, error) { return f.hold(st, part, foot) })
		if err != nil {
			return nil, err
		}
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		return s.On(f.bolted(part, part, st.row.Fits[part].Pairs, head, false))
	})
}

// hold makes a part ready that is held at its foot.
func (f *Analysis) hold(st stance, part int, foot []plane.Point) (*fem.Solver, error) {
	p := &f.plates[part]
	m := p.material
	sheet := fem.Plate{Shape: p.metal.shape, Thickness: p.t, Elastic: m.elastic, Poisson: m.elastic/(2*m.shear) - 1, Density: m.density * 1e-12}
	var held fem.Foot
	switch {
	case part > 0:
		held.Bolts = f.bolted(part, part-1, st.row.Fits[part-1].Pairs, foot, true)
	case len(foot) > 0:
		b, _ := f.onChassis(st, cases[0], st.bodies)
		held.Bolts = f.bolted(part, chassisJoint, b.Pairs, foot, true)
	}
	return fem.New(sheet, held, sheet.CellSize(mostCells))
}

// bolted are the bolts at one end of a part as the solver takes them: of its foot with what each
// gives in shear, where the plate on the other side counts as this one when it is not known.
func (f *Analysis) bolted(part, joint int, pairs []holes.Pair, places []plane.Point, foot bool) []fem.Bolt {
	p := &f.plates[part]
	_, b := f.joint(joint)
	t, e := p.t, p.material.elastic
	if part > 0 && foot {
		if q := &f.plates[part-1]; q.sound() {
			t, e = q.t, q.material.elastic
		}
	}
	var all []fem.Bolt
	for i, pair := range pairs {
		hole := pair.Lower
		if foot {
			hole = pair.Upper
		}
		k := fem.Bolt{At: places[i], Hole: p.part.Holes[hole].D, Washer: b.Washer}
		if foot {
			k.Shear = fem.HuthShear(b.D, t, e, p.t, p.material.elastic, steel)
		}
		all = append(all, k)
	}
	return all
}

// steel is Young's modulus of bolts, MPa.
const steel = 210e3

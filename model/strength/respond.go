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

// memory keeps what the solver found of an analysis' settings, by their ids.
type memory struct{ results sync.Map }

// solved are held plates and how they respond, for all analyses: one that differs in a hole, a speed or a
// note has the other plates as they were. A held plate takes some tens of megabytes, so that only a few stay.
var solved struct {
	mutex     sync.Mutex
	held      []kept[*fem.Solver]
	responses []kept[*fem.Response]
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

// question is a plate that is held, with bolts at its head: all that its response hangs on.
type question struct {
	plate fem.Plate
	foot  fem.Foot
	head  []fem.Bolt
}

// held tells plates and what holds them apart, key those with another head too.
func (q question) held() string {
	p := q.plate
	return fmt.Sprint(*p.Shape, p.Thickness, p.Elastic, p.Poisson, p.Density, q.foot)
}

func (q question) key() string { return fmt.Sprint(q.held(), q.head) }

// question asks how a part responds in a setting.
func (f *Analysis) question(st stance, part int) question {
	p := &f.plates[part]
	m := p.material
	foot, head := st.boltPlaces(f, part)
	return question{
		plate: fem.Plate{Shape: p.metal.shape, Thickness: p.t, Elastic: m.elastic, Poisson: m.elastic/(2*m.shear) - 1, Density: m.density * 1e-12},
		foot:  f.foot(st, part, foot),
		head:  f.bolted(part, part, st.row.Fits[part].Pairs, head, false),
	}
}

// respond returns how a part answers to loads at its head in a setting: it hangs on its bolts alone.
func (f *Analysis) respond(ctx context.Context, st stance, part int) (*fem.Response, error) {
	q := f.question(st, part)
	solved.mutex.Lock()
	defer solved.mutex.Unlock()
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	return remembered(&solved.responses, responsesKept, q.key(), func() (*fem.Response, error) {
		s, err := remembered(&solved.held, heldKept, q.held(), func() (*fem.Solver, error) {
			return fem.New(q.plate, q.foot, q.plate.CellSize(mostCells))
		})
		if err != nil {
			return nil, err
		}
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		return s.On(q.head)
	})
}

// foot is what holds a part, by bolts at places.
func (f *Analysis) foot(st stance, part int, places []plane.Point) (held fem.Foot) {
	switch {
	case part > 0:
		held.Bolts = f.bolted(part, part-1, st.row.Fits[part-1].Pairs, places, true)
	case len(places) > 0:
		b, _ := f.onChassis(st, cases[0], st.bodies)
		held.Bolts = f.bolted(part, chassisJoint, b.Pairs, places, true)
	}
	return held
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

package drill

import (
	"context"
	"math"
	"slices"
	"sync"

	"stanchion/aero"
	"stanchion/holes"
	"stanchion/holes/plane"
)

// scan is the field of a joint with the most that each place can be worth.
type scan struct {
	field *field
	joint int
	aim   *aim
	rests []rest
	order []scored // places that serve, the best first
	buf   []place

	inside []scored // those that do not, and part a step all the same
}

// scored is a place of the field and what it is worth.
type scored struct {
	place int
	value value
}

// maxRests bounds how many ways of bolting the other joints each place is looked at with; of more, evenly spread
// ones are taken.
const maxRests = 400

// newScan looks over all places of a field.
func newScan(ctx context.Context, a *aim, f *field, j int, progress func(float64)) (*scan, error) {
	s := &scan{field: f, joint: j, aim: a, rests: rests(a.e.Table, j)}
	if n := len(s.rests); n > maxRests {
		few := make([]rest, maxRests)
		for i := range few {
			few[i] = s.rests[i*n/maxRests]
		}
		s.rests = few
	}
	if err := s.look(ctx, progress); err != nil {
		return nil, err
	}
	slices.SortStableFunc(s.order, func(a, b scored) int { return a.value.compare(b.value) })
	return s, nil
}

// look values all places, on all processors.
func (s *scan) look(ctx context.Context, progress func(float64)) error {
	const chunk = 512
	n := (len(s.field.places) + chunk - 1) / chunk
	type part struct{ order, inside []scored }
	parts := make([]part, n)
	var mu sync.Mutex
	done := 0
	workers := sync.Pool{New: func() any { return s.another() }}
	aero.OnAll(n, func(k int) {
		if ctx.Err() != nil {
			return
		}
		w := workers.Get().(*scan)
		defer workers.Put(w)
		for i := k * chunk; i < min((k+1)*chunk, len(s.field.places)); i++ {
			v := w.value(i, -1)
			switch {
			case s.aim.goal.serves(v):
				parts[k].order = append(parts[k].order, scored{i, v})
			case w.aim.within():
				parts[k].inside = append(parts[k].inside, scored{i, v})
			}
		}
		mu.Lock()
		defer mu.Unlock()
		done++
		progress(float64(done) / float64(n))
	})
	for _, p := range parts {
		s.order, s.inside = append(s.order, p.order...), append(s.inside, p.inside...)
	}
	return ctx.Err()
}

// another is the scan with working memory of its own.
func (s *scan) another() *scan {
	w, a := *s, *s.aim
	a.fresh = a.steps.fresh()
	w.aim, w.buf = &a, nil
	return &w
}

// value is what the i-th place of the field is worth, without one of its seats when that is not below 0.
func (s *scan) value(i, without int) value {
	seats := s.field.of(i)
	s.buf = s.settings(s.buf[:0], seats, s.field.at(i), without)
	return s.aim.of(s.buf, false)
}

// settings adds where seats of a place put the wing, with every way of bolting the other joints.
func (s *scan) settings(to []place, seats []seat, at plane.Point, without int) []place {
	for k := range seats {
		seat := &seats[k]
		if k == without || !s.enough(seats, seat) {
			continue
		}
		lower, upper := s.field.bolted(seat, at)
		sin, cos := math.Sincos(seat.turn)
		for r := range s.rests {
			to = append(to, s.rests[r].with(lower, upper, seat.turn, sin, cos))
		}
	}
	return to
}

// enough reports whether with a seat's two bolts as many others go in as the joint needs at least: others of the
// same place with the same bolt in the new hole, turned alike within what clearances allow.
func (s *scan) enough(seats []seat, one *seat) bool {
	need := s.field.joint.MinBolts - 2
	if need <= 0 {
		return true
	}
	for k := range seats {
		o := &seats[k]
		if o.moving == one.moving && o.partner != one.partner && o.through != one.through && math.Abs(o.turn-one.turn) <= s.play(o)+s.play(one) {
			if need--; need == 0 {
				return true
			}
		}
	}
	return false
}

// play is about how far a seat's two bolts can turn, rad.
func (s *scan) play(o *seat) float64 {
	f := s.field
	own, through, moving := &f.own[o.partner], &f.other[o.through], &f.other[o.moving]
	c := holes.Clearance(own.D, through.D, f.joint.Shank) + holes.Clearance(f.d, moving.D, f.joint.Shank)
	return 2 * c / max(through.At().Distance(moving.At()), f.joint.Shank)
}

// room is what bolts and rules leave at a place, mm: the least slack of the seats that its value comes from, and
// what is over of the rule that is nearest to being broken.
func (s *scan) room(i int, v value, margin float64) float64 {
	room := margin
	for k, seat := range s.field.of(i) {
		if s.value(i, k).compare(v) > 0 {
			room = min(room, seat.slack)
		}
	}
	return room
}

// margin is what is over of the rule that is nearest to being broken, mm; below 0 where one is.
func margin(rules []RuleCheck) float64 {
	m := math.Inf(1)
	for _, r := range rules {
		if r.Must {
			m = min(m, r.Have-r.Need)
		}
	}
	return m
}

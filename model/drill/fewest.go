package drill

import (
	"context"
	"math"
	"slices"
)

// with returns the steps with the angles of new settings at the heights that there are.
func (s *steps) with(places []place) *steps {
	f := s.fresh()
	for _, p := range places {
		f.add(p)
	}
	next := *s
	next.heights = slices.Clone(s.heights)
	for _, i := range f.touched {
		h := &next.heights[i]
		h.angles = append(slices.Clone(h.angles), f.angles[i]...)
		slices.Sort(h.angles)
		h.sort()
	}
	return &next
}

// lacking returns how many further angles are needed, so that no step is wider than most, rad, at any height that
// counts; nil counts all.
func (s *steps) lacking(most float64, counts func(h *stepsAt) bool) int {
	n := 0
	for i := range s.heights {
		if h := &s.heights[i]; counts == nil || counts(h) {
			n += h.lacking(most, nil)
		}
	}
	return n
}

// fewest searches for the fewest holes with which no step is wider than wanted: one after the other the hole that
// spares most, and after each, every hole is exchanged for a better one while there is one.
type fewest struct {
	ctx   context.Context
	e     *Existing
	goal  Goal
	aim   *aim
	joint int
	found Found
}

// setOf is a set of holes with what they change.
type setOf struct {
	holes   []NewHole
	lacking int
	widest  float64 // rad, of the steps that count
}

func suggestFewest(ctx context.Context, e *Existing, w Goal, j int, progress func(float64)) (Found, error) {
	f := &fewest{ctx: ctx, e: e, goal: w, aim: newAim(e, w), joint: j}
	f.found.Lacking = f.aim.steps.lacking(w.MaxStep.Value(), f.aim.counts)
	now, err := f.measure(nil)
	if err != nil || now.lacking == 0 {
		return f.found, err
	}
	for n := range w.Count {
		progress(float64(n) / float64(w.Count))
		next, ok, err := f.further(now)
		if err != nil {
			return f.found, err
		}
		if !ok || next.lacking >= now.lacking {
			break
		}
		if now, err = f.exchanged(next); err != nil {
			return f.found, err
		}
		if now.lacking == 0 {
			break
		}
	}
	if len(now.holes) == 0 {
		return f.found, nil
	}
	one, _, _, err := e.rate(ctx, f.aim, now.holes, func(value) bool { return true })
	one.Lacking, one.Hits = now.lacking, f.found.Lacking-now.lacking
	f.found.Best = []Suggestion{one}
	return f.found, err
}

// state is the car with some of the holes, and the steps that it has.
func (f *fewest) state(hs []NewHole) (*Existing, *steps, error) {
	if len(hs) == 0 {
		return f.e, f.aim.steps, nil
	}
	c, err := f.e.change(hs)
	if err != nil {
		return nil, nil, err
	}
	return NewExisting(f.e.Table.With(c.car, c.gone, c.rows)), f.aim.steps.with(c.runnable()), nil
}

// runnable lists where the new settings of a change put the wing, of those that can be run.
func (c *change) runnable() []place {
	var places []place
	for _, i := range c.added {
		if r := &c.rows[i]; r.Within() && !r.Stalled {
			places = append(places, place{angle: r.Angle, x: r.X, height: r.Height})
		}
	}
	return places
}

// measure says what a set of holes leaves lacking.
func (f *fewest) measure(hs []NewHole) (setOf, error) {
	_, steps, err := f.state(hs)
	if err != nil {
		return setOf{}, err
	}
	s := setOf{holes: hs, lacking: steps.lacking(f.goal.MaxStep.Value(), f.aim.counts)}
	for i := range steps.heights {
		if h := &steps.heights[i]; len(h.wide) > 0 && (f.aim.counts == nil || f.aim.counts(h)) {
			s.widest = max(s.widest, h.wide[0].width())
		}
	}
	return s, nil
}

// further returns a set with the best further hole; ok is false where none spares anything.
func (f *fewest) further(now setOf) (next setOf, ok bool, err error) {
	e, steps, err := f.state(now.holes)
	if err != nil {
		return next, false, err
	}
	w := f.goal
	w.Name = func(int) string { return f.free(now.holes) }
	field, err := newField(f.ctx, e.Table.Car, w, f.joint)
	if err != nil {
		return next, false, err
	}
	a := newAim(e, w)
	a.steps, a.fresh = steps, steps.fresh()
	scan, err := newScan(f.ctx, a, field, f.joint, func(float64) {})
	if err != nil {
		return next, false, err
	}
	if len(now.holes) == 0 {
		f.found.Step, f.found.Places, f.found.Coarse = field.step, len(field.places), len(scan.rests) == maxRests
		f.found.Fewest = f.least(scan)
	}
	s := &search{ctx: f.ctx, e: e, goal: w, scan: scan, first: true}
	if err := s.run(func(float64) {}); err != nil {
		return next, false, err
	}
	f.found.Tried, f.found.Weighed = f.found.Tried+s.found.Tried, f.found.Weighed+s.found.Weighed
	if len(now.holes) == 0 {
		f.found.Near = s.found.Near
	}
	if len(s.found.Best) == 0 {
		return next, false, nil
	}
	next, err = f.measure(append(slices.Clone(now.holes), s.found.Best[0].Holes...))
	return next, true, err
}

// free is a name that none of the holes has.
func (f *fewest) free(hs []NewHole) string {
	for n := 0; ; n++ {
		if name := f.goal.Name(n); !slices.ContainsFunc(hs, func(h NewHole) bool { return h.ID == name }) {
			return name
		}
	}
}

// exchanged returns a set in which no single hole can be exchanged for a better one.
func (f *fewest) exchanged(now setOf) (setOf, error) {
	for again := len(now.holes) > 1; again && now.lacking > 0; {
		again = false
		for i := range now.holes {
			others := setOf{holes: slices.Delete(slices.Clone(now.holes), i, i+1)}
			next, ok, err := f.further(others)
			if err != nil {
				return now, err
			}
			if ok && next.lacking < now.lacking {
				now, again = next, true
				break
			}
		}
	}
	for i := range now.holes {
		now.holes[i].ID = f.goal.Name(i)
	}
	return now, nil
}

// least is the least number of holes that can do it: each adds no more angles at a height than any one place does.
// Settings with bolts in two new holes are not counted.
func (f *fewest) least(s *scan) int {
	most := make([]int, len(f.aim.steps.heights))
	for _, c := range s.order {
		s.value(c.place, -1)
		for _, i := range s.aim.fresh.touched {
			most[i] = max(most[i], len(s.aim.fresh.angles[i]))
		}
	}
	n := 0
	for i := range f.aim.steps.heights {
		h := &f.aim.steps.heights[i]
		if need := h.lacking(f.goal.MaxStep.Value(), nil); need > 0 && (f.aim.counts == nil || f.aim.counts(h)) {
			n = max(n, int(math.Ceil(float64(need)/float64(max(most[i], 1)))))
		}
	}
	return n
}

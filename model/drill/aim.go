package drill

import (
	"cmp"
	"math"

	"stanchion/holes/plane"
	"stanchion/model"
)

// aim says of how much worth new settings are for a goal.
type aim struct {
	goal   Goal
	e      *Existing
	steps  *steps
	forces *forces // nil where no force counts
	fresh  *fresh
	counts func(h *stepsAt) bool // which heights count for MaxStep; nil for all
}

// value is what a place is worth, the most important first.
type value struct {
	hits float64 // settings that are what is wanted; for MaxStep the angles that it spares
	near float64 // how near the nearest comes to what is wanted, 1 for exactly; in steps of a twentieth
	gain float64 // rad, by how much the widest steps shrink together
}

// compare orders values, the best first.
func (v value) compare(o value) int {
	return cmp.Or(cmp.Compare(o.hits, v.hits), cmp.Compare(o.near, v.near), cmp.Compare(o.gain, v.gain))
}

// minGain is the least that steps must shrink by to be worth a hole, rad: what spelling an angle rounds away.
const minGain = 0.05 * plane.Deg

// serves reports whether a value is any good for the goal.
func (w Goal) serves(v value) bool {
	if w.Fill {
		return v.gain >= minGain
	}
	return v.hits > 0
}

func newAim(e *Existing, w Goal) *aim {
	a := &aim{goal: w, e: e, steps: e.steps()}
	a.fresh = a.steps.fresh()
	if w.Downforce.Known() || w.Between != nil && (w.Between.By == ByDownforce || w.Between.By == ByShare) {
		a.forces = forcesOf(e.Table)
	}
	if w.MaxStep.Known() && w.Height.Known() {
		a.counts = func(h *stepsAt) bool { return math.Abs(h.height-w.Height.Value()) <= hitHeight }
	}
	return a
}

// twentieth rounds to steps of 0.05.
func twentieth(x float64) float64 { return math.Round(x*20) / 20 }

// wanted says how near a place comes to what is wanted, and whether it is that; with a margin for forces, which are
// only interpolated.
func (a *aim) wanted(p place) (near float64, ok bool) {
	w := a.goal
	if h, known := w.Height.Get(); known && math.Abs(p.height-h) > hitHeight {
		return 0, false
	}
	if angle, known := w.Angle.Get(); known {
		off := math.Abs(p.angle - angle)
		return twentieth(1 - off/hitAngle), off <= hitAngle
	}
	downforce, share := 0.0, 0.0
	if a.forces != nil {
		if downforce, share, ok = a.forces.at(p); !ok {
			return 0, false
		}
	}
	if want, known := w.Downforce.Get(); known {
		off := math.Abs(downforce/want - 1)
		return twentieth(max(0, 1-off/hitForce)), off <= hitForce+0.01
	}
	figure := downforce
	switch w.Between.By {
	case ByAngle:
		figure = p.angle
	case ByHeight:
		figure = p.height
	case ByShare:
		figure = share
	}
	near = w.Between.Middle(figure)
	return twentieth(near), near > 0
}

// of values places that settings would have. Without exact it is the most that they can be worth: as if all that
// serve kept the limits, and none beyond the angles that there are did.
func (a *aim) of(places []place, exact bool) value {
	a.fresh.empty()
	v := value{near: math.Inf(-1)}
	for _, p := range places {
		a.fresh.add(p)
		if a.goal.Fill || a.goal.MaxStep.Known() {
			continue
		}
		if near, ok := a.wanted(p); ok {
			v.hits, v.near = v.hits+1, max(v.near, near)
		}
	}
	if v.hits == 0 {
		v.near = 0
	}
	if a.goal.Between != nil { // one setting between is what is asked for
		v.hits = min(v.hits, 1)
	}
	v.gain = a.fresh.gain(exact)
	if most, ok := a.goal.MaxStep.Get(); ok {
		for _, i := range a.fresh.touched {
			if h := &a.steps.heights[i]; a.counts == nil || a.counts(h) {
				v.hits += float64(h.lacking(most, nil) - h.lacking(most, a.fresh.angles[i]))
			}
		}
	}
	return v
}

// exactly values the new settings of a change, of which only those count that can be run.
func (a *aim) exactly(c *change) value {
	v, with := value{}, a.e.Table.Bare(c.car)
	for _, i := range c.added {
		r := &c.rows[i]
		if !r.Within() || r.Stalled {
			continue
		}
		if !a.goal.Fill && !a.goal.MaxStep.Known() && a.e.meets(a.goal, with, r) {
			v.hits++
			v.near = max(v.near, a.nearness(r))
		}
	}
	all := a.of(c.runnable(), true)
	v.gain = all.gain
	if a.goal.MaxStep.Known() {
		v.hits = all.hits
	}
	if a.goal.Between != nil {
		v.hits = min(v.hits, 1)
	}
	return v
}

// nearness says how near a row that meets the goal comes to it.
func (a *aim) nearness(r *model.Row) float64 {
	w := a.goal
	switch {
	case w.Angle.Known():
		return twentieth(1 - math.Abs(r.Angle-w.Angle.Value())/hitAngle)
	case w.Downforce.Known():
		return twentieth(1 - math.Abs(r.Downforce/w.Downforce.Value()-1)/hitForce)
	case w.Between != nil:
		return twentieth(w.Between.Middle(w.Between.By.of(r)))
	}
	return 0
}

// within reports whether one of the angles valued last parts a step.
func (a *aim) within() bool {
	for _, i := range a.fresh.touched {
		h := &a.steps.heights[i]
		for _, x := range a.fresh.angles[i] {
			if n := len(h.angles); n > 1 && x > h.angles[0] && x < h.angles[n-1] {
				return true
			}
		}
	}
	return false
}

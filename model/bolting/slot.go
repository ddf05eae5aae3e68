package bolting

import (
	"math"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
)

// Reading is where along a slot a bolt sits.
type Reading struct {
	Slot     holes.Slot
	Distance float64 // mm from the slot's first end
	Angle    float64 // rad, of the chord to level ground, there
	PerMM    float64 // rad that the angle changes by, a mm along the slot
}

// inSlot is a setting with one bolt of the wing's joint in a slot.
type inSlot struct {
	table *model.Table
	row   *model.Row
	slot  holes.Slot
	pair  int // of the wing's joint
}

// slotOf finds the slot that a setting has a bolt of the wing's joint in; ok is false where there is
// none or more than one.
func slotOf(t *model.Table, r *model.Row) (s inSlot, ok bool) {
	lower := &t.Car.Parts[len(t.Car.Parts)-2]
	for i, p := range r.Fits[len(r.Fits)-1].Pairs {
		h := lower.Holes[p.Lower]
		if h.Slot == "" {
			continue
		}
		slot, found := lower.Slot(h.Slot)
		if ok || !found {
			return inSlot{}, false
		}
		s, ok = inSlot{t, r, slot, i}, true
	}
	return s, ok
}

// at works out the angle with the bolt at a distance along the slot; ok is false where the bolts do
// not go in.
func (s inSlot) at(distance float64) (angle float64, ok bool) {
	c, last := s.table.Car, len(s.row.Fits)-1
	fit := s.row.Fits[last]
	var lower, upper holes.Part
	for i, p := range fit.Pairs {
		l, u := c.Parts[last].Holes[p.Lower], c.Parts[last+1].Holes[p.Upper]
		if i == s.pair {
			at := s.slot.Along(distance)
			l.X, l.Z = at.X, at.Z
		}
		lower.Holes, upper.Holes = append(lower.Holes, l), append(upper.Holes, u)
	}
	fits, err := holes.Fits(lower, upper, c.Joints[last].Joint)
	if err != nil {
		return 0, false
	}
	for _, f := range fits {
		same := len(f.Pairs) == len(fit.Pairs)
		for _, p := range f.Pairs {
			same = same && p.Lower == p.Upper
		}
		if same {
			turn := s.row.Angle - fit.Pose.Turn + f.Pose.Turn
			return math.Remainder(turn, 2*math.Pi), true
		}
	}
	return 0, false
}

// InSlot reads where along its slot a setting's bolt sits; ok is false for a setting that has no bolt
// of the wing's joint in a slot, or more than one.
func InSlot(t *model.Table, r *model.Row) (Reading, bool) {
	s, ok := slotOf(t, r)
	if !ok {
		return Reading{}, false
	}
	hole := t.Car.Parts[len(t.Car.Parts)-2].Holes[r.Fits[len(r.Fits)-1].Pairs[s.pair].Lower]
	return s.reading(hole.Distance)
}

// reading works out the angle and its change there.
func (s inSlot) reading(distance float64) (Reading, bool) {
	const step = 0.1 // mm
	angle, ok := s.at(distance)
	if !ok {
		return Reading{}, false
	}
	r := Reading{Slot: s.slot, Distance: distance, Angle: angle}
	for _, by := range [2]float64{step, -step} {
		if d := distance + by; d >= 0 && d <= s.slot.Length() {
			if a, ok := s.at(d); ok {
				r.PerMM = (a - angle) / by
				break
			}
		}
	}
	return r, true
}

// SlotFor reads where along the slot of a setting the bolt must sit for an angle in rad; ok is false
// where the slot does not reach it.
func SlotFor(t *model.Table, r *model.Row, angle float64) (Reading, bool) {
	s, ok := slotOf(t, r)
	if !ok {
		return Reading{}, false
	}
	const parts = 64
	length := s.slot.Length()
	var before float64
	known := false
	for i := range parts + 1 {
		d := length * float64(i) / parts
		a, ok := s.at(d)
		if ok && known && (before-angle)*(a-angle) <= 0 {
			return s.between(d-length/parts, d, angle)
		}
		before, known = a, ok
	}
	return Reading{}, false
}

// between halves the way to an angle that lies between two places.
func (s inSlot) between(low, high, angle float64) (Reading, bool) {
	first, ok := s.at(low)
	if !ok {
		return Reading{}, false
	}
	for range 40 {
		middle := (low + high) / 2
		a, ok := s.at(middle)
		if !ok {
			return Reading{}, false
		}
		if (first-angle)*(a-angle) <= 0 {
			high = middle
		} else {
			low = middle
		}
		if math.Abs(a-angle) < 1e-6*plane.Deg {
			break
		}
	}
	return s.reading((low + high) / 2)
}

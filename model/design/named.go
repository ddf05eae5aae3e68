package design

import (
	"cmp"
	"math"
	"slices"

	"stanchion/holes/plane"
)

// named checks named angles, and sets the range to theirs.
func (w *Wish) named() error {
	w.AngleWithin = cmp.Or(w.AngleWithin, UsualAngleWithin)
	w.Angles = slices.Compact(slices.Sorted(slices.Values(w.Angles)))
	low, high := w.Angles[0], w.Angles[len(w.Angles)-1]
	if len(w.Angles) > MostAngles || !(high-low <= math.Pi/3) || !(w.AngleWithin >= LeastAngleWithin && w.AngleWithin <= MostAngleWithin) {
		return &Fault{NamedAngles}
	}
	w.Low, w.High, w.Step, w.EndWithin = low, high, 0, 0
	return nil
}

// nearest is how far a named angle is from an angle where that is least, rad.
func (w *Wish) nearest(angle float64) float64 {
	off := math.Inf(1)
	for _, a := range w.Angles {
		off = min(off, math.Abs(angle-a))
	}
	return off
}

// counts reports whether an angle is one of those that are wanted, or near them: by a step, or for named angles by their tolerance.
func (w *Wish) counts(angle float64) bool {
	if len(w.Angles) > 0 {
		return w.nearest(angle) <= w.AngleWithin+endRounding
	}
	return angle >= w.Low-w.Step && angle <= w.High+w.Step
}

// fewestNamed is how many different angles do for all named ones: those nearer than twice their tolerance can have one for both.
func (w *Wish) fewestNamed() (n int) {
	covered := math.Inf(-1)
	for _, a := range w.Angles {
		if a-w.AngleWithin > covered+1e-12 {
			n, covered = n+1, a+w.AngleWithin
		}
	}
	return n
}

// perArcNamed is how many holes at most go on the arc about one hole, each by so many rad from the next, where each gives a named angle with the plate turned
// by one of the turns.
func (w *Wish) perArcNamed(each float64, turns []float64) (n int) {
	var all []float64
	for _, a := range w.Angles {
		for _, t := range turns {
			all = append(all, a-t)
		}
	}
	slices.Sort(all)
	last := math.Inf(-1)
	for _, a := range all { // the earliest that is far enough from the last
		if next := max(a-w.AngleWithin, last+each); next <= a+w.AngleWithin+1e-9 {
			n, last = n+1, next
		}
	}
	return n
}

// Sets of turns that are tried for named angles.
const (
	mostSingle = 3 // of one turn
	mostDouble = 3 // of two
	candidates = 8 // turns that are looked at for two
)

// turnSets lists by which turns the plate is to be tilted for named angles: by differences between them, those first with which the fewest
// angles are left for the head.
func (w *Wish) turnSets(most float64) (sets [][]float64) {
	var single, double [][]float64
	for i, a := range w.Angles {
		for _, b := range w.Angles[:i] {
			if t := a - b; t > 2*w.AngleWithin && t <= most && !slices.ContainsFunc(single, func(s []float64) bool { return math.Abs(s[0]-t) < w.AngleWithin }) {
				single = append(single, []float64{t})
			}
		}
	}
	sort := func(sets [][]float64) {
		slices.SortStableFunc(sets, func(a, b []float64) int {
			return cmp.Or(cmp.Compare(w.leftForHead(a), w.leftForHead(b)), cmp.Compare(a[len(a)-1], b[len(b)-1]))
		})
	}
	sort(single)
	for i, a := range single[:min(len(single), candidates)] {
		for _, b := range single[:i] {
			double = append(double, []float64{min(a[0], b[0]), max(a[0], b[0])})
		}
	}
	sort(double)
	worth := func(sets [][]float64, than int) [][]float64 {
		return slices.DeleteFunc(sets, func(s []float64) bool { return w.leftForHead(s) >= than })
	}
	double = worth(double, w.leftForHead(nil)-1)
	return append(single[:min(len(single), mostSingle)], double[:min(len(double), mostDouble)]...)
}

// leftForHead is how many angles the head must have itself where the plate can be tilted by some turns: each of the lowest still open, in order.
func (w *Wish) leftForHead(turns []float64) (n int) {
	done := make([]bool, len(w.Angles))
	for i, a := range w.Angles {
		if done[i] {
			continue
		}
		n++
		for k, b := range w.Angles {
			for _, t := range append([]float64{0}, turns...) {
				done[k] = done[k] || math.Abs(b-a-t) <= w.AngleWithin
			}
		}
	}
	return n
}

// moveOnto puts a front hole where it gives a named angle with a rear hole that there is.
func (c *cover) moveOnto(rear plane.Point, angle, turn float64) plane.Point {
	return tenth(rear.Sub(c.rearOf(plane.Point{}, angle-turn)))
}

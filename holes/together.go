package holes

import (
	"math"

	"stanchion/holes/plane"
)

// bolt is one bolt that is to go in: the centres of its two holes, each in its
// own part's frame, and by how much they may be off.
type bolt struct {
	lower, upper plane.Point
	clearance    float64
}

// turns is a range of turns of the upper part, rad.
type turns struct{ lo, hi float64 }

// together returns the range of turns, near the turn about, for which one
// shift of the upper part puts every bolt's centre offset within its
// clearance, and whether there is any.
//
// For two bolts that is the closed form of TwoBoltPlay. For more, each two of
// them bound the range in the same way; inside that bound, whether one shift
// serves all is whether the discs of allowed shifts have a point in common.
// Over the few degrees that clearances allow the constraint set is convex to
// within the sagitta of the turn, so the range is taken to be one interval.
func together(bolts []bolt, about float64) (turns, bool) {
	r, inside, ok := inAtOnce(bolts, about)
	if !ok || len(bolts) == 2 {
		return r, ok
	}
	fits := func(turn float64) bool { return excess(bolts, turn) <= eps }
	return turns{edge(fits, inside, r.lo), edge(fits, inside, r.hi)}, true
}

// inAtOnce reports whether the bolts go in at the same time, at a turn near
// about. It returns one turn at which they do, and the range that every two of
// them allow, in which that turn lies.
func inAtOnce(bolts []bolt, about float64) (r turns, inside float64, ok bool) {
	r, ok = pairwise(bolts, about)
	if !ok {
		return r, 0, false
	}
	inside = min(max(about+plane.Wrap(poseOf(bolts).Turn-about), r.lo), r.hi)
	if len(bolts) == 2 || excess(bolts, inside) <= eps {
		return r, inside, true
	}
	inside = lowest(func(turn float64) float64 { return depth(bolts, turn) }, r.lo, r.hi)
	return r, inside, excess(bolts, inside) <= eps
}

// pairwise returns the range of turns that every two of the bolts allow.
func pairwise(bolts []bolt, about float64) (turns, bool) {
	r := turns{about - math.Pi, about + math.Pi}
	for i, a := range bolts {
		for _, b := range bolts[i+1:] {
			lower, upper := b.lower.Sub(a.lower), b.upper.Sub(a.upper)
			play := TwoBoltPlay(lower.Length(), upper.Length(), a.clearance+b.clearance)
			if math.IsNaN(play) {
				return turns{}, false
			}
			mid := about + plane.Wrap(lower.Angle()-upper.Angle()-about)
			r.lo, r.hi = max(r.lo, mid-play), min(r.hi, mid+play)
		}
	}
	return r, r.lo <= r.hi+1e-12
}

// poseOf returns the least-squares pose of the bolts.
func poseOf(bolts []bolt) plane.Pose {
	lower, upper := make([]plane.Point, len(bolts)), make([]plane.Point, len(bolts))
	for i, b := range bolts {
		lower[i], upper[i] = b.lower, b.upper
	}
	return plane.PoseFromPairs(lower, upper)
}

// shifts returns, for a turn, the shift of the upper part that would centre
// each bolt.
func shifts(bolts []bolt, turn float64) []plane.Point {
	turned := plane.Pose{Turn: turn}
	at := make([]plane.Point, len(bolts))
	for i, b := range bolts {
		at[i] = b.lower.Sub(turned.Apply(b.upper))
	}
	return at
}

// excess returns by how much, in mm, the clearances of all bolts are exceeded
// at least at one of them, whatever the shift; zero or less when a shift
// serves all. The common part of discs, if there is one, has a corner where
// two of them cross, or is one whole disc: so those points need looking at.
func excess(bolts []bolt, turn float64) float64 {
	at := shifts(bolts, turn)
	worst := func(t plane.Point) float64 {
		w := math.Inf(-1)
		for i, b := range bolts {
			w = max(w, t.Distance(at[i])-b.clearance)
		}
		return w
	}
	best := math.Inf(1)
	for i := range bolts {
		best = min(best, worst(at[i]))
		for j := i + 1; j < len(bolts); j++ {
			for _, t := range crossings(at[i], bolts[i].clearance, at[j], bolts[j].clearance) {
				best = min(best, worst(t))
			}
		}
	}
	return best
}

// depth returns the smallest amount, in mm, by which all clearances together
// must grow (or, negative, may shrink) for one shift to serve all bolts at the
// given turn.
func depth(bolts []bolt, turn float64) float64 {
	grown := append([]bolt(nil), bolts...)
	lo, hi := 0.0, 0.0
	at := shifts(bolts, turn)
	for i := range bolts {
		lo = max(lo, bolts[i].clearance)
		hi = max(hi, at[0].Distance(at[i]))
	}
	lo = -lo
	for range 40 {
		mid := (lo + hi) / 2
		for i := range grown {
			grown[i].clearance = max(0, bolts[i].clearance+mid)
		}
		if excess(grown, turn) <= eps {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi
}

// crossings returns the points where two circles cross, or nearly touch.
func crossings(a plane.Point, ra float64, b plane.Point, rb float64) []plane.Point {
	d := a.Distance(b)
	if d < 1e-12 || d > ra+rb+eps || d < math.Abs(ra-rb)-eps {
		return nil
	}
	along := (d*d + ra*ra - rb*rb) / (2 * d)
	across := math.Sqrt(max(0, ra*ra-along*along))
	dir := b.Sub(a).Times(1 / d)
	foot := a.Add(dir.Times(along))
	side := plane.Point{X: -dir.Z, Z: dir.X}.Times(across)
	return []plane.Point{foot.Add(side), foot.Sub(side)}
}

// lowest returns where f is smallest between lo and hi by golden section; f
// has one valley there.
func lowest(f func(float64) float64, lo, hi float64) float64 {
	const ratio = 0.6180339887498949
	a, b := hi-ratio*(hi-lo), lo+ratio*(hi-lo)
	fa, fb := f(a), f(b)
	for range 60 {
		if fa < fb {
			hi, b, fb = b, a, fa
			a = hi - ratio*(hi-lo)
			fa = f(a)
		} else {
			lo, a, fa = a, b, fb
			b = lo + ratio*(hi-lo)
			fb = f(b)
		}
	}
	return (lo + hi) / 2
}

// edge returns the last turn from inside towards end at which fits holds.
func edge(fits func(float64) bool, inside, end float64) float64 {
	if fits(end) {
		return end
	}
	for range 60 {
		mid := (inside + end) / 2
		if fits(mid) {
			inside = mid
		} else {
			end = mid
		}
	}
	return inside
}

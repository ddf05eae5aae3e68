package design

import (
	"math"
	"slices"

	"stanchion/holes/plane"
	"stanchion/model/cutting"
)

// Blank is the piece of sheet that a plate is to be cut from, mm; zero for any.
type Blank struct{ W, H float64 }

// Given reports whether there is one.
func (b Blank) Given() bool { return b.W != 0 || b.H != 0 }

// Bounds of a blank.
const (
	LeastBlank, MostBlank = 20.0, 5000.0 // mm

	Kerf = 6.0 // mm, that a cutter leaves at the rim and between two plates: the usual gap of a list for the cutter
)

// Lie is how a plate lies on a blank, turned so that it goes on it as well as can be.
type Lie struct {
	Turn float64 // rad, of the plate's frame on the blank, whose W runs along x
	W, H float64 // mm, of the plate as it lies
	Over float64 // mm, by which it is larger than the blank where that is most; below zero it has so much to spare
	Pair bool    // two of them were found to go on one blank, side by side and not flipped over
}

// Fits reports whether the plate goes on the blank.
func (l Lie) Fits() bool { return l.Over <= 1e-9 }

// lie returns how an outline goes on a blank best: the turn at which the larger of its two excesses over the blank is least. Between turns at which an edge of
// the hull lies along the blank, width and height each run as D cos(θ-φ), which bends down; so the larger excess is least where an edge
// lies along the blank, or where both excesses are the same.
func (b Blank) lie(ring []plane.Point) Lie {
	hull := plane.Hull(ring)
	best := Lie{Over: math.Inf(1)}
	for _, quarter := range []float64{0, math.Pi / 2} { // the blank's other side along x
		for _, turn := range b.turnsOf(hull, quarter) {
			if l := b.at(hull, turn); l.Over < best.Over-1e-9 {
				best = l
			}
		}
	}
	return best
}

// at is how an outline lies at a turn.
func (b Blank) at(ring []plane.Point, turn float64) Lie {
	lo, hi := plane.Box(plane.Pose{Turn: turn}.ApplyAll(ring))
	w, h := hi.X-lo.X, hi.Z-lo.Z
	return Lie{Turn: turn, W: w, H: h, Over: max(w-b.W, h-b.H)}
}

// turnsOf lists the turns of a hull, from one on by a quarter turn, at which the larger excess can be least.
func (b Blank) turnsOf(hull []plane.Point, from float64) []float64 {
	edges := []float64{0, math.Pi / 2}
	for p, q := range plane.Edges(hull) {
		a := math.Mod(-q.Sub(p).Angle(), math.Pi/2)
		if a < 0 {
			a += math.Pi / 2
		}
		edges = append(edges, a)
	}
	slices.Sort(edges)
	var all []float64
	for i, a := range edges {
		all = append(all, from+a)
		if i+1 == len(edges) || edges[i+1]-a < 1e-12 {
			continue
		}
		across, along := spans(plane.Pose{Turn: from + (a+edges[i+1])/2}, hull)
		// Width less height: p cos θ + q sin θ, to be W - H. A corner difference d lies at d.X cos θ - d.Z sin θ, d.X sin θ + d.Z cos θ.
		p, q := across.X-along.Z, -across.Z-along.X
		far := math.Hypot(p, q)
		if d := (b.W - b.H) / far; far > 0 && math.Abs(d) <= 1 {
			for _, s := range []float64{math.Acos(d), -math.Acos(d)} {
				t := math.Mod(math.Atan2(q, p)+s-from, 2*math.Pi)
				if t < 0 {
					t += 2 * math.Pi
				}
				if t > a && t < edges[i+1] {
					all = append(all, from+t)
				}
			}
		}
	}
	return all
}

// spans returns, in the hull's own frame, from which corner to which its width and its height run at a pose.
func spans(pose plane.Pose, hull []plane.Point) (across, along plane.Point) {
	at := pose.ApplyAll(hull)
	var left, right, low, high int
	for i, p := range at {
		if p.X < at[left].X {
			left = i
		}
		if p.X > at[right].X {
			right = i
		}
		if p.Z < at[low].Z {
			low = i
		}
		if p.Z > at[high].Z {
			high = i
		}
	}
	return hull[right].Sub(hull[left]), hull[high].Sub(hull[low])
}

// pair reports whether two plates of an outline were found to go on the blank. In opposite corners two convex pieces are as far apart as they get without
// being turned; both are turned alike or end for end, by degrees and along each edge. A list for the cutter may nest those that are not convex closer.
func (b Blank) pair(ring []plane.Point) bool {
	if s := cutting.Pair(ring, Kerf); b.holds(s.Width-2*Kerf, s.Height-2*Kerf) {
		return true
	}
	hull := plane.Hull(ring)
	area, _ := plane.Area(hull)
	if 2*area > b.W*b.H {
		return false
	}
	for _, quarter := range []float64{0, math.Pi / 2} {
		turns := b.turnsOf(hull, quarter)
		for i := range 90 {
			turns = append(turns, quarter+float64(i)*plane.Deg)
		}
		for _, turn := range turns {
			if b.at(hull, turn).Fits() && b.corners(plane.Pose{Turn: turn}.ApplyAll(hull)) {
				return true
			}
		}
	}
	return false
}

func (b Blank) holds(w, h float64) bool { return w <= b.W && h <= b.H || w <= b.H && h <= b.W }

// corners reports whether an outline goes into two opposite corners of the blank at the same time, alike or end for end.
func (b Blank) corners(ring []plane.Point) bool {
	put := func(ring []plane.Point, right, top bool) []plane.Point {
		lo, hi := plane.Box(ring)
		by := plane.Pose{X: -lo.X, Z: -lo.Z}
		if right {
			by.X = b.W - hi.X
		}
		if top {
			by.Z = b.H - hi.Z
		}
		return by.ApplyAll(ring)
	}
	round := plane.Pose{Turn: math.Pi}.ApplyAll(ring)
	for _, top := range []bool{false, true} {
		one := put(ring, false, top)
		for _, other := range [][]plane.Point{ring, round} {
			if plane.Distance(one, put(other, true, !top)).Distance >= Kerf {
				return true
			}
		}
	}
	return false
}

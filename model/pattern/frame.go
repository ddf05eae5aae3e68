package pattern

import (
	"math"

	"stanchion/holes/plane"
)

// same reports whether two sets of places are one: alike, but for a turn and a shift where nothing is held.
func (n *net) same(a, b []plane.Point) bool {
	a, b = n.gauged(a), n.gauged(b)
	worst := 0.0
	for i := range a {
		worst = max(worst, a[i].Distance(b[i]))
	}
	return worst < moved
}

// origin returns the two holes that the frame hangs on where none or one is known.
func (n *net) origin() (first, second int) {
	first = 0
	for k := range n.long { // the first distance of the first hole has the direction
		if n.from[k] == first {
			return first, n.to[k]
		}
		if n.to[k] == first {
			return first, n.from[k]
		}
	}
	return first, min(1, len(n.names)-1)
}

// gauged lays places into the plate's frame: the first hole in its place, the second behind or
// above it. What holes are held for is in it already.
func (n *net) gauged(at []plane.Point) []plane.Point {
	if n.known > 0 {
		return at
	}
	first, second := n.origin()
	var base plane.Point
	for _, k := range n.p.Known {
		if k.ID == n.names[first] {
			base = k.At
		}
	}
	d := at[second].Sub(at[first])
	turn := -math.Atan2(d.Z, d.X)
	if n.p.Upwards {
		turn += math.Pi / 2
	}
	sin, cos := math.Sincos(turn)
	all := make([]plane.Point, len(at))
	for i := range at {
		p := at[i].Sub(at[first])
		all[i] = base.Add(plane.Point{X: p.X*cos - p.Z*sin, Z: p.X*sin + p.Z*cos})
	}
	return all
}

// line are the two holes whose line sides are said of.
func (n *net) line() (first, second int) {
	if n.known > 0 {
		return 0, 1
	}
	return n.origin()
}

// side is by how much a hole is above the line of the first two holes, or behind it where that goes up.
func (n *net) side(at []plane.Point, i int) float64 {
	first, second := n.line()
	d, p := at[second].Sub(at[first]), at[i].Sub(at[first])
	l := math.Hypot(d.X, d.Z)
	if l < 1e-9 {
		return 0
	}
	across := (d.X*p.Z - d.Z*p.X) / l // to the left of the way from the first to the second
	if math.Abs(d.X) >= math.Abs(d.Z) {
		return math.Copysign(across, across*d.X) // above
	}
	return math.Copysign(across, -across*d.Z) // behind
}

// keepsSides reports whether each hole is on the side that was said of it. One that is on the line, to within what two
// places may differ by, is on both.
func (n *net) keepsSides(at []plane.Point) bool {
	for _, s := range n.p.Sides {
		if i, ok := n.index[s.Hole]; ok {
			if x := n.side(at, i); s.Plus && x < -moved || !s.Plus && x > moved {
				return false
			}
		}
	}
	return true
}

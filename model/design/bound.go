package design

import (
	"math"

	"stanchion/holes/plane"
)

// fewestAngles is how many different angles a height needs at least, so that no step is wider than wanted.
func (w *Wish) fewestAngles() int {
	span := w.High - w.Low - 2*w.EndWithin
	if span <= 1e-12 {
		return 1
	}
	return int(math.Ceil(span/w.Step-1e-9)) + 1
}

// Bound returns how many holes the head needs at least, with the plate standing on its foot as it is drawn, whatever
// pattern they are in. Each angle takes a pair of a front and a rear hole of its own. On the arc about a front hole, rear
// holes are at least their spacing apart, and so are front holes about a rear hole, so that none has more than m pairs. Where
// the circles about two front holes part faster than the bolts' clearance allows, two front holes have at most one
// rear hole in common: then the pairs of rear holes that front holes have must all differ, Σ d(d-1)/2 ≤ r(r-1)/2 for the numbers d of
// each one's rear holes (Kővári, Sós and Turán, "On a problem of K. Zarankiewicz", Colloq. Math. 3 (1954) 50-57).
func (f *frame) bound(tilts int) int {
	angles := (f.wish.fewestAngles() + tilts - 1) / tilts
	m := f.perArc()
	single := f.oneInCommon()
	for total := 2; ; total++ {
		for k := 1; k < total; k++ {
			if r := total - k; mostPairs(k, r, m, single) >= angles {
				return total
			}
		}
	}
}

// perArc is how many holes at most go on the arc about one hole, over the angles that count.
func (f *frame) perArc() int {
	room := f.headRoom
	outer := f.pitch + 2*f.slack
	if room >= 2*outer {
		return 1
	}
	each := 2 * math.Asin(room/2/outer)
	// Two on the rim of the slack may lie nearer in angle: by how much a difference in radius takes of the spacing.
	if part := 4 * f.slack; part < room {
		each = 2 * math.Asin(math.Sqrt(room*room-part*part)/2/outer)
	}
	return int(math.Floor((f.wish.High-f.wish.Low+2*f.wish.Step)/each+1e-9)) + 1
}

// oneInCommon reports whether two front holes can share at most one rear hole. Two front holes a apart and two rear holes b apart,
// all four pairs as far apart as the wing's bolts are within the slack, make a quadrangle whose diagonals P1Q1 and P2Q2, and sides P1Q2 and P2Q1, are all
// of that length: with vectors a and b of the two spacings, |v|², |v+b|², |v-a|² and |v+b-a|² lie within 4 w s of each other, so that
// |2 a·b| is at most twice that. They can only be square to each other then, and across the chord not both.
func (f *frame) oneInCommon() bool {
	room, w, s := f.headRoom, f.pitch, 2*f.slack
	// |v|² + |v+b-a|² - |v+b|² - |v-a|² = -2 a·b: four squares, each within w² ± 2ws of w² (s² left out makes it larger, so is added).
	most := 2 * (2*w*s + s*s) // of |a·b|
	// a and b lie across the chord within the angles that count: both ends of a are w from one rear hole, so a stands square to a direction that turns
	// by no more than the span of angles; so does b. The angle between them is therefore at most that span.
	span := f.wish.High - f.wish.Low + 2*f.wish.Step + 2*s/room
	if span >= math.Pi/2 {
		return false
	}
	return room*room*math.Cos(span) > most
}

// mostPairs is how many pairs k front and r rear holes can make, none of them with more than m, and no two front holes with more
// than one rear hole in common where single.
func mostPairs(k, r, m int, single bool) int {
	most := min(k*min(m, r), r*min(m, k))
	if !single {
		return most
	}
	for most > 0 {
		each, more := most/k, most%k // as even as can be: then the pairs are fewest
		if k*each*(each-1)/2+more*each <= r*(r-1)/2 {
			break
		}
		most--
	}
	return most
}

// turns reports whether the fixed part's holes take one plate at more than one angle, as those of an arc do: enough of them fall onto others when they are turned by
// an angle that the foot allows. Then fewer holes may do than are counted.
func (f *frame) turns() bool {
	most := f.car.Joints[0].MaxTurn
	for i, a := range f.bracket {
		for k, b := range f.bracket {
			if i == k {
				continue
			}
			for m, p := range f.bracket {
				for n, q := range f.bracket {
					if m == n || i == m && k == n || math.Abs(a.Distance(b)-p.Distance(q)) > 4*f.slack {
						continue
					}
					turn := plane.Wrap(q.Sub(p).Angle() - b.Sub(a).Angle())
					if math.Abs(turn) < alike || math.Abs(turn) > most {
						continue
					}
					pose := plane.PoseFromPairs([]plane.Point{p, q}, []plane.Point{a, b})
					onto := 0
					for _, u := range f.bracket {
						if !apart(pose.Apply(u), f.bracket, 2*f.slack) {
							onto++
						}
					}
					if onto >= f.wish.FootBolts {
						return true
					}
				}
			}
		}
	}
	return false
}

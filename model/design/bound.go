package design

import (
	"math"
	"slices"
)

// fewestAngles is how many different angles a height needs at least, so that no step is wider than wanted.
func (w *Wish) fewestAngles() int {
	if len(w.Angles) > 0 {
		return w.fewestNamed()
	}
	span := w.High - w.Low - 2*w.EndWithin
	if span <= 1e-12 {
		return 1
	}
	return int(math.Ceil(span/w.Step-1e-9)) + 1
}

// bound returns how many holes the head needs at least, with the plate standing on its foot at some turns, whatever
// pattern they are in. Each angle takes a pair of a front and a rear hole, at one of the turns. On the arc about a front hole, rear
// holes are at least their spacing apart, and so are front holes about a rear hole, so that none has more than m pairs. Where
// the circles about two front holes part faster than the bolts' clearance allows, two front holes have at most one
// rear hole in common: then the pairs of rear holes that front holes have must all differ, Σ d(d-1)/2 ≤ r(r-1)/2 for the numbers d of
// each one's rear holes (Kővári, Sós and Turán, "On a problem of K. Zarankiewicz", Colloq. Math. 3 (1954) 50-57).
func (f *frame) bound(turns []float64) int {
	return headOf(f.wish.fewestAngles(), len(turns), f.perArc(turns), f.oneInCommon(turns))
}

// headOf is how many holes have pairs enough for so many angles at so many turns.
func headOf(angles, turns, m int, single bool) int {
	pairs := (angles + turns - 1) / turns
	for total := 2; ; total++ {
		for k := 1; k < total; k++ {
			if mostPairs(k, total-k, m, single) >= pairs {
				return total
			}
		}
	}
}

// fewest returns how many holes foot and head need at least, by counting, whatever the plate is tilted by: at one height, a foot of h holes has a set of as many as it
// has bolts for each turn. Two such sets have at most one hole in common, or else two holes of the fixed part are as far apart as two others at
// another angle; where the fixed part is drilled so, any turns that it gives may come with as many holes in common as it has there. Turns of the
// bracket on what is below it cost no holes.
func (f *frame) fewest() int {
	n, angles := f.wish.FootBolts, f.wish.fewestAngles()
	upright := []float64{0}
	most := f.car.Joints[f.footJoint()].MaxTurn
	tilted := []float64{-most, most}
	m, single := f.perArc(tilted), f.oneInCommon(tilted)
	free := max(f.lowerTurns, 1) // turns that cost no hole
	least := n + f.bound(upright)
	if holes := len(f.car.Parts[f.footJoint()+2].Holes); holes > 2 { // two holes of the plate may do for any two of the wing
		free, m, single = free*holes*(holes-1)/2, manyPairs, false
	}
	if free > 1 {
		least = n + headOf(angles, free, m, single)
	}
	for h := n; h < least; h++ {
		turns := 1
		switch {
		case f.turns(2) == 0:
			for f.setsOf(n, turns+1) <= h && (turns+1)*n*(n-1) <= h*(h-1) {
				turns++
			}
		case h <= 2*n-2:
			turns += f.turns(2*n - h)
		default:
			turns = angles
		}
		if turns > 1 {
			least = min(least, h+headOf(angles, turns*free, m, single))
		}
	}
	if f.fresh {
		least += n
	}
	return least
}

// manyPairs is more than a hole can have.
const manyPairs = 1000

// setsOf is how many holes so many sets of n have at least of which two have at most one in common.
func (f *frame) setsOf(n, sets int) (holes int) {
	for i := range min(sets, n) {
		holes += n - i
	}
	return holes
}

// perArc is how many holes at most go on the arc about one hole, over the angles that count at some turns of the plate.
func (f *frame) perArc(turns []float64) int {
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
	if len(f.wish.Angles) > 0 && len(turns) == 1 {
		return f.wish.perArcNamed(each, turns)
	}
	return int(math.Floor(f.span(turns)/each+1e-9)) + 1
}

// span is over which angles, rad, a pair of holes may give one that counts.
func (f *frame) span(turns []float64) float64 {
	return f.wish.High - f.wish.Low + 2*f.wish.Step + 2*f.wish.AngleWithin + slices.Max(turns) - slices.Min(turns)
}

// oneInCommon reports whether two front holes can share at most one rear hole. Two front holes a apart and two rear holes b apart,
// all four pairs as far apart as the wing's bolts are within the slack, make a quadrangle whose diagonals P1Q1 and P2Q2, and sides P1Q2 and P2Q1, are all
// of that length: with vectors a and b of the two spacings, |v|², |v+b|², |v-a|² and |v+b-a|² lie within 4 w s of each other, so that
// |2 a·b| is at most twice that. They can only be square to each other then, and across the chord not both.
func (f *frame) oneInCommon(turns []float64) bool {
	room, w, s := f.headRoom, f.pitch, 2*f.slack
	// |v|² + |v+b-a|² - |v+b|² - |v-a|² = -2 a·b: four squares, each within w² ± 2ws of w² (s² left out makes it larger, so is added).
	most := 2 * (2*w*s + s*s) // of |a·b|
	// a and b lie across the chord within the angles that count: both ends of a are w from one rear hole, so a stands square to a direction that turns
	// by no more than the span of angles; so does b. The angle between them is therefore at most that span.
	span := f.span(turns) + 2*s/room
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

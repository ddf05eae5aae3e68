package holes

import "math"

// Reason says what keeps bolts out.
type Reason int

// The reasons, in the order in which they are looked for.
const (
	Fine      Reason = iota // nothing: the bolts go in together
	Reserved                // a hole is kept for another joint
	Small                   // the bolt does not pass through a hole
	Shared                  // one hole would take two bolts, or two bolts would overlap
	Spacing                 // the hole spacings differ by more than the clearances allow
	Crowded                 // every two of the bolts go in, but not all at once
	TurnedOff               // they go in, but only turned further than the joint allows
)

// Verdict is the answer to whether bolts go in together, and by how much they
// do or don't.
type Verdict struct {
	Reason Reason
	Pair   int     // for Reserved, Small and Shared: which of the pairs
	Other  int     // for Shared and Spacing: the other one
	Slack  float64 // mm to spare; below zero, mm by which they miss
	Lower  float64 // hole spacing in the lower part, mm, of the pairs Pair and Other
	Upper  float64 // and in the upper part, mm
	Turn   float64 // of the upper part when they are in, rad
	Play   float64 // largest turn either way, rad
}

// Why says whether the given pairs, at least two, take their bolts at the same
// time in joint j, and if not, what is in the way and by how many millimetres.
func Why(lower, upper Part, j Joint, pairs []Pair) Verdict {
	bolts := make([]bolt, len(pairs))
	for i, p := range pairs {
		l, u := lower.Holes[p.Lower], upper.Holes[p.Upper]
		for _, h := range []Hole{l, u} {
			if h.Joint != "" && h.Joint != j.Name {
				return Verdict{Reason: Reserved, Pair: i}
			}
			if !h.Takes(j.Shank) {
				return Verdict{Reason: Small, Pair: i, Slack: h.D - j.Shank}
			}
		}
		for k, q := range pairs[:i] {
			if math.Hypot(l.X-lower.Holes[q.Lower].X, l.Z-lower.Holes[q.Lower].Z) < j.Shank-eps ||
				math.Hypot(u.X-upper.Holes[q.Upper].X, u.Z-upper.Holes[q.Upper].Z) < j.Shank-eps ||
				sameHole(&lower.Holes[p.Lower], &lower.Holes[q.Lower]) || sameHole(&upper.Holes[p.Upper], &upper.Holes[q.Upper]) {
				return Verdict{Reason: Shared, Pair: k, Other: i}
			}
		}
		bolts[i] = bolt{l.At(), u.At(), Clearance(l.D, u.D, j.Shank)}
	}
	v := tightest(bolts)
	if v.Slack < -eps {
		v.Reason = Spacing
		return v
	}
	pose := poseOf(bolts)
	v.Turn = pose.Turn
	r, ok := together(bolts, pose.Turn)
	if !ok {
		v.Reason = Crowded
		v.Slack = -depth(bolts, pose.Turn)
		return v
	}
	v.Play = max(pose.Turn-r.lo, r.hi-pose.Turn, 0)
	if math.Abs(pose.Turn) > j.MaxTurn+1e-9 {
		v.Reason = TurnedOff
	}
	return v
}

// GoIn reports whether bolts that are as thick as joint j's go into the given pairs at the same time, whatever else keeps
// them from being used: Why without its figures, and many times as fast.
func GoIn(lower, upper Part, j Joint, pairs []Pair) bool {
	bolts := make([]bolt, len(pairs))
	for i, p := range pairs {
		l, u := lower.Holes[p.Lower], upper.Holes[p.Upper]
		if !l.Takes(j.Shank) || !u.Takes(j.Shank) {
			return false
		}
		bolts[i] = bolt{l.At(), u.At(), Clearance(l.D, u.D, j.Shank)}
	}
	if tightest(bolts).Slack < -eps {
		return false
	}
	_, _, ok := inAtOnce(bolts, poseOf(bolts).Turn)
	return ok
}

// tightest returns the slack of the two bolts that have the least.
func tightest(bolts []bolt) Verdict {
	v := Verdict{Slack: math.Inf(1)}
	for i, a := range bolts {
		for k := i + 1; k < len(bolts); k++ {
			b := bolts[k]
			lower, upper := a.lower.Distance(b.lower), a.upper.Distance(b.upper)
			if s := Slack(lower, upper, a.clearance+b.clearance); s < v.Slack {
				v = Verdict{Pair: i, Other: k, Slack: s, Lower: lower, Upper: upper}
			}
		}
	}
	return v
}

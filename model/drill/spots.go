package drill

import (
	"math"
	"sort"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/choose"
)

// spot is a place for a hole.
type spot struct {
	at    plane.Point
	joint int
}

// spots lists the places at which a hole would do what is wanted, on the
// drill's grid, each once, those that come up most often first.
func spots(t *model.Table, w Goal) []spot {
	count := map[spot]int{}
	var order []spot
	for j := range t.Car.Joints {
		if w.Part != j && w.Part != j+1 || w.Joint != "" && t.Car.Joints[j].Name != w.Joint || w.Joint == "" &&
			j != min(w.Part, len(t.Car.Joints)-1) {
			continue
		}
		for _, rest := range rests(t, j) {
			pivots(t, w, j, func(pivot, partner holes.Pair) {
				for _, turn := range wantedTurns(t, w, j, rest, pivot) {
					if math.Abs(turn) > t.Car.Joints[j].MaxTurn {
						continue
					}
					at := placeFor(t, w, j, pivot, partner, turn)
					s := spot{plane.Point{X: snap(at.X, w.Grid), Z: snap(at.Z, w.Grid)}, j}
					if count[s]++; count[s] == 1 {
						order = append(order, s)
					}
				}
			})
		}
	}
	sort.SliceStable(order, func(a, b int) bool { return count[order[a]] > count[order[b]] })
	return order[:min(len(order), maxSpots)]
}

// maxSpots bounds the places that are tried.
const maxSpots = 1500

func snap(x, grid float64) float64 {
	if grid <= 0 {
		return x
	}
	return math.Round(x/grid)*grid + 0 // no negative zero
}

// rest is one way of bolting all joints but one: what lies below and above it.
type rest struct{ below, above plane.Pose }

// rests lists the different ways in which the joints other than j are bolted in
// the table's settings.
func rests(t *model.Table, j int) []rest {
	seen := map[[6]int64]bool{}
	var all []rest
	for i := range t.Rows {
		r := rest{below: t.Car.Ground()}
		for k, f := range t.Rows[i].Fits {
			switch {
			case k < j:
				r.below = r.below.Then(f.Pose)
			case k > j:
				r.above = r.above.Then(f.Pose)
			}
		}
		key := [6]int64{}
		for n, x := range []float64{r.below.X * 10, r.below.Z * 10, r.below.Turn * 1e4, r.above.X * 10, r.above.Z * 10, r.above.Turn * 1e4} {
			key[n] = int64(math.Round(x))
		}
		if !seen[key] {
			seen[key] = true
			all = append(all, r)
		}
	}
	return all
}

// pivots visits every existing pair of holes of joint j as the pivot, with every
// hole of the part that is not drilled as the new hole's partner. The pairs are
// lower and upper; in partner the side that is to be drilled is -1.
func pivots(t *model.Table, w Goal, j int, visit func(pivot, partner holes.Pair)) {
	joint := t.Car.Joints[j].Joint
	usable := func(h holes.Hole) bool {
		return h.Takes(joint.Shank) && (h.Joint == "" || h.Joint == joint.Name) && h.Slot == ""
	}
	lower, upper := t.Car.Parts[j].Holes, t.Car.Parts[j+1].Holes
	for l, hl := range lower {
		for u, hu := range upper {
			if !usable(hl) || !usable(hu) {
				continue
			}
			pivot := holes.Pair{Lower: l, Upper: u}
			if w.Part == j {
				for m, hm := range upper {
					if m != u && usable(hm) {
						visit(pivot, holes.Pair{Lower: -1, Upper: m})
					}
				}
				continue
			}
			for m, hm := range lower {
				if m != l && usable(hm) {
					visit(pivot, holes.Pair{Lower: m, Upper: -1})
				}
			}
		}
	}
}

// placeFor returns where the new hole lies in its part for a turn of joint j.
func placeFor(t *model.Table, w Goal, j int, pivot, partner holes.Pair, turn float64) plane.Point {
	lower, upper := t.Car.Parts[j].Holes, t.Car.Parts[j+1].Holes
	l, u := lower[pivot.Lower].At(), upper[pivot.Upper].At()
	pose := poseAbout(l, u, turn)
	if w.Part == j {
		return pose.Apply(upper[partner.Upper].At())
	}
	return pose.Inverse().Apply(lower[partner.Lower].At())
}

// poseAbout is the pose that puts a point of the upper part on one of the lower
// part, turned.
func poseAbout(lower, upper plane.Point, turn float64) plane.Pose {
	at := plane.Pose{Turn: turn}.Apply(upper)
	return plane.Pose{X: lower.X - at.X, Z: lower.Z - at.Z, Turn: turn}
}

// wantedTurns returns the turns of joint j, rad, that do what is wanted with
// the other joints as they are and the given pivot.
func wantedTurns(t *model.Table, w Goal, j int, r rest, pivot holes.Pair) []float64 {
	l := t.Car.Parts[j].Holes[pivot.Lower].At()
	u := t.Car.Parts[j+1].Holes[pivot.Upper].At()
	place := func(turn float64) model.Position {
		pose := r.below.Then(poseAbout(l, u, turn)).Then(r.above)
		at := pose.Apply(t.Car.Wing.QuarterChord())
		return model.Position{Pose: pose, X: at.X, Height: at.Z, Angle: math.Remainder(pose.Turn, 2*math.Pi)}
	}
	rest := r.below.Turn + r.above.Turn
	turnFor := func(angle float64) float64 { return math.Remainder(angle-rest, 2*math.Pi) }
	var turns []float64
	add := func(turn, height float64) {
		if p := place(turn); math.IsNaN(height) || math.Abs(p.Height-height) <= hitHeight {
			turns = append(turns, turn)
		}
	}
	switch {
	case w.Fill:
		for _, g := range gaps(t) {
			add(turnFor(g.angle), g.height)
		}
	case w.Downforce.Known():
		as := func(angle float64) model.Position {
			p := place(turnFor(angle))
			if len(t.Rows) > 0 {
				t.Around(&p, &t.Rows[0])
			}
			return p
		}
		if turn, ok := turnForForce(t, w.Downforce.Value(), as, turnFor); ok {
			add(turn, w.Height.Value())
		}
	default:
		add(turnFor(w.Angle.Value()), w.Height.Value())
	}
	return turns
}

// gap is the middle of a wide step between neighbouring angles at a height.
type gap struct{ angle, height float64 }

// minGap is the smallest step that is worth a hole, rad: two standard
// uncertainties of the angle. Common practice, no source.
const minGap = 1 * plane.Deg

// gaps lists places within the wide steps between neighbouring angles at every
// height.
func gaps(t *model.Table) []gap {
	var all []gap
	for _, l := range choose.Levels(t) {
		for i := 1; i < len(l.Angles); i++ {
			a, b := l.Angles[i-1], l.Angles[i]
			if b-a < minGap {
				continue
			}
			parts := max(2, int(math.Ceil((b-a)/(4*plane.Deg))))
			for k := 1; k < parts; k++ {
				all = append(all, gap{a + (b-a)*float64(k)/float64(parts), l.Height})
			}
		}
	}
	return all
}

// turnForForce finds by bisection the turn with a downforce in N, below the
// stall, where downforce grows with the angle.
func turnForForce(t *model.Table, want float64, place func(angle float64) model.Position, turnFor func(float64) float64) (float64, bool) {
	force := func(angle float64) float64 {
		p := place(angle)
		return t.RowAt(&p).Downforce
	}
	lo, hi := math.NaN(), math.NaN()
	for a := -15 * plane.Deg; a <= 30*plane.Deg; a += plane.Deg / 2 {
		p := place(a)
		r := t.RowAt(&p)
		f := r.Downforce
		if math.IsNaN(f) || r.Stalled {
			continue
		}
		if f <= want {
			lo = a
		} else if !math.IsNaN(lo) {
			hi = a
			break
		}
	}
	if math.IsNaN(lo) || math.IsNaN(hi) {
		return 0, false
	}
	for range 40 {
		if mid := (lo + hi) / 2; force(mid) <= want {
			lo = mid
		} else {
			hi = mid
		}
	}
	return turnFor((lo + hi) / 2), true
}

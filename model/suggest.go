package model

import (
	"fmt"
	"math"
	"sort"

	"stanchion/holes"
)

// Wish says what a new hole is wanted for. Angle, Downforce or Fill is given;
// NaN stands for not given.
type Wish struct {
	Angle     float64 // rad, to the ground
	Height    float64 // mm, of the quarter-chord point; NaN for any
	Downforce float64 // N at the table's speed
	Fill      bool    // narrow the widest steps between neighbouring angles
	Count     int     // holes together: 1 or 2
	Grid      float64 // mm, of the drill
	Part      int
	Joint     string // that the hole is kept for; "" for any, and then the one nearest to the wing is searched
	D         float64
	Name      func(taken int) string // the mark of the n-th new hole
}

// What counts as a hit.
const (
	hitAngle  = 0.4 * Deg // rad
	hitHeight = 12.0      // mm
	hitForce  = 0.03      // of the downforce, as a fraction
)

// Suggestion is one hole, or several together, and what they would change.
type Suggestion struct {
	Trial
	Hits  int     // settings within limits that are what was wished for
	Gain  float64 // rad: by how much the widest steps of all heights shrink together
	Short string  // why it cannot be drilled; "" when it can
}

// spot is a place for a hole.
type spot struct {
	at    holes.Point
	joint int
}

// Suggest works out the best places for a new hole: exact places with every
// existing pair of holes as the pivot and every partner in the other part, for
// every way of bolting the other joints, then rounded to the drill's grid,
// tried, and ranked. near are places that would serve but cannot be drilled,
// with what forbids them. progress is told now and then how far it is, 0 to 1;
// it may be nil.
func (t *Table) Suggest(w Wish, progress func(float64)) (best, near []Suggestion, err error) {
	if progress == nil {
		progress = func(float64) {}
	}
	spots := t.spots(w)
	var good, forbidden []Suggestion
	for i, s := range spots {
		progress(float64(i) / float64(len(spots)) / float64(w.Count))
		h := NewHole{w.Part, holes.Hole{ID: w.Name(0), X: s.at.X, Z: s.at.Z, D: w.D, Joint: w.Joint}}
		if short := Broken(t.Car.Parts[w.Part].HoleRules(h.Hole)); short != "" {
			if len(forbidden) < mostForbidden {
				forbidden = append(forbidden, Suggestion{Trial: Trial{Holes: []NewHole{h}}, Short: short})
			}
			continue
		}
		one, err := t.rate(w, h)
		if err != nil {
			return nil, nil, err
		}
		if len(one.Useful) > 0 && (one.Hits > 0 || w.Fill && one.Gain > 0) {
			good = append(good, one)
		}
	}
	rank(good)
	if w.Count > 1 {
		two, err := t.pairs(w, good, progress)
		if err != nil {
			return nil, nil, err
		}
		if len(two) > 0 { // else one hole is all that serves
			good = two
		}
	}
	for _, f := range forbidden {
		one, err := t.rate(w, f.Holes[0])
		if err != nil {
			return nil, nil, err
		}
		if one.Short = f.Short; one.Hits > 0 || w.Fill && one.Gain > 0 {
			near = append(near, one)
		}
	}
	rank(near)
	return good[:min(len(good), mostShown)], near[:min(len(near), 3)], nil
}

const (
	mostForbidden = 60 // places that break a rule and are tried all the same
	mostShown     = 5
	mostPaired    = 16 // single holes that pairs are made of
)

// rate tries holes and counts what they are good for.
func (t *Table) rate(w Wish, hs ...NewHole) (Suggestion, error) {
	tr, err := t.Try(hs...)
	if err != nil {
		return Suggestion{}, err
	}
	s := Suggestion{Trial: tr}
	for _, i := range tr.Added {
		if !w.Fill && t.wished(w, &tr.Table.Rows[i]) {
			s.Hits++
		}
	}
	s.Gain = t.shrink(tr)
	return s, nil
}

// shrink returns by how much the widest angle steps at all heights shrink
// together, rad; a height that only comes up with the trial does not count.
func (t *Table) shrink(tr Trial) float64 {
	gain := 0.0
	for _, b := range tr.Before {
		for _, a := range tr.After {
			if math.Abs(a.Height-b.Height) <= levelGap && a.Low <= b.Low && a.High >= b.High {
				gain += max(0, b.AngleStep-a.AngleStep)
				break
			}
		}
	}
	return gain
}

// rank sorts suggestions, the best first: by settings as wished, then by how much
// the widest steps shrink, then by how many settings can be told from what
// exists, then by how well the holes keep off the edge.
func rank(all []Suggestion) {
	margin := func(s *Suggestion) float64 {
		m := math.Inf(1)
		for _, r := range s.Rules {
			if r.Must {
				m = min(m, r.Have-r.Need)
			}
		}
		return m
	}
	sort.SliceStable(all, func(i, j int) bool {
		a, b := &all[i], &all[j]
		if a.Hits != b.Hits {
			return a.Hits > b.Hits
		}
		if d := math.Round(a.Gain/Deg*20) - math.Round(b.Gain/Deg*20); d != 0 {
			return d > 0
		}
		if len(a.Useful) != len(b.Useful) {
			return len(a.Useful) > len(b.Useful)
		}
		return margin(a) > margin(b)
	})
}

// pairs tries the best single holes two at a time.
func (t *Table) pairs(w Wish, singles []Suggestion, progress func(float64)) ([]Suggestion, error) {
	singles = singles[:min(len(singles), mostPaired)]
	var all []Suggestion
	for i := range singles {
		progress(0.5 + float64(i)/float64(len(singles))/2)
		for k := i + 1; k < len(singles); k++ {
			a, b := singles[i].Holes[0], singles[k].Holes[0]
			b.ID = w.Name(1)
			part := t.Car.With(a).Parts[w.Part]
			if Broken(part.HoleRules(b.Hole)) != "" {
				continue
			}
			one, err := t.rate(w, a, b)
			if err != nil {
				return nil, err
			}
			all = append(all, one)
		}
	}
	rank(all)
	return all, nil
}

// spots lists the places at which a hole would do what is wished for, on the
// drill's grid, each once, those that come up most often first.
func (t *Table) spots(w Wish) []spot {
	count := map[spot]int{}
	var order []spot
	for j := range t.Car.Joints {
		if w.Part != j && w.Part != j+1 || w.Joint != "" && t.Car.Joints[j].Name != w.Joint || w.Joint == "" && j != min(w.Part, len(t.Car.Joints)-1) {
			continue
		}
		for _, rest := range t.rests(j) {
			t.pivots(w, j, func(pivot, partner holes.Pair) {
				for _, turn := range t.wantedTurns(w, j, rest, pivot) {
					if math.Abs(turn) > t.Car.Joints[j].MaxTurn {
						continue
					}
					at := t.placeFor(w, j, pivot, partner, turn)
					s := spot{holes.Point{X: snap(at.X, w.Grid), Z: snap(at.Z, w.Grid)}, j}
					if count[s]++; count[s] == 1 {
						order = append(order, s)
					}
				}
			})
		}
	}
	sort.SliceStable(order, func(a, b int) bool { return count[order[a]] > count[order[b]] })
	return order[:min(len(order), mostSpots)]
}

// mostSpots bounds the places that are tried.
const mostSpots = 1500

func snap(x, grid float64) float64 {
	if grid <= 0 {
		return x
	}
	return math.Round(x/grid)*grid + 0 // no negative zero
}

// rest is one way of bolting all joints but one: what lies below and above it.
type rest struct{ below, above holes.Pose }

// rests lists the different ways in which the joints other than j are bolted in
// the table's settings.
func (t *Table) rests(j int) []rest {
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
func (t *Table) pivots(w Wish, j int, visit func(pivot, partner holes.Pair)) {
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
func (t *Table) placeFor(w Wish, j int, pivot, partner holes.Pair, turn float64) holes.Point {
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
func poseAbout(lower, upper holes.Point, turn float64) holes.Pose {
	at := holes.Pose{Turn: turn}.Apply(upper)
	return holes.Pose{X: lower.X - at.X, Z: lower.Z - at.Z, Turn: turn}
}

// wantedTurns returns the turns of joint j, rad, that do what is wished for with
// the other joints as they are and the given pivot.
func (t *Table) wantedTurns(w Wish, j int, r rest, pivot holes.Pair) []float64 {
	l := t.Car.Parts[j].Holes[pivot.Lower].At()
	u := t.Car.Parts[j+1].Holes[pivot.Upper].At()
	place := func(turn float64) Place {
		pose := r.below.Then(poseAbout(l, u, turn)).Then(r.above)
		at := pose.Apply(t.Car.Wing.quarterChord())
		return Place{Pose: pose, X: at.X, Height: at.Z, Angle: math.Remainder(pose.Turn, 2*math.Pi)}
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
		for _, g := range t.gaps() {
			add(turnFor(g.angle), g.height)
		}
	case !math.IsNaN(w.Downforce):
		if turn, ok := t.turnForForce(w.Downforce, func(angle float64) Place { return place(turnFor(angle)) }, turnFor); ok {
			add(turn, w.Height)
		}
	default:
		add(turnFor(w.Angle), w.Height)
	}
	return turns
}

// gap is the middle of a wide step between neighbouring angles at a height.
type gap struct{ angle, height float64 }

// leastGap is the smallest step that is worth a hole, rad: two standard
// uncertainties of the angle. Common practice, no source.
const leastGap = 1 * Deg

// gaps lists the steps at every height, and a step's width below the lowest and
// above the highest angle.
func (t *Table) gaps() []gap {
	var all []gap
	for _, l := range t.Levels() {
		for i := 1; i < len(l.angles); i++ {
			a, b := l.angles[i-1], l.angles[i]
			if b-a < leastGap {
				continue
			}
			parts := max(2, int(math.Ceil((b-a)/(4*Deg))))
			for k := 1; k < parts; k++ {
				all = append(all, gap{a + (b-a)*float64(k)/float64(parts), l.Height})
			}
		}
	}
	return all
}

// turnForForce finds by bisection the turn with a downforce in N, below the
// stall, where downforce grows with the angle.
func (t *Table) turnForForce(want float64, place func(angle float64) Place, turnFor func(float64) float64) (float64, bool) {
	force := func(angle float64) float64 {
		p := place(angle)
		return t.outcome(&p, deviation{}).down
	}
	lo, hi := math.NaN(), math.NaN()
	for a := -15 * Deg; a <= 30*Deg; a += Deg / 2 {
		f := force(a)
		p := place(a)
		if o := t.outcome(&p, deviation{}); math.IsNaN(f) || o.attack > t.Wing.Stall {
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

// Served returns a setting that is within limits and does what is wished for
// already, if there is one.
func (t *Table) Served(w Wish) (*Row, bool) {
	for i := range t.Rows {
		if r := &t.Rows[i]; !w.Fill && t.wished(w, r) {
			return r, true
		}
	}
	return nil, false
}

// wished reports whether a row is what is wished for.
func (t *Table) wished(w Wish, r *Row) bool {
	height := math.IsNaN(w.Height) || math.Abs(r.Height-w.Height) <= hitHeight
	angle := math.IsNaN(w.Angle) || math.Abs(r.Angle-w.Angle) <= hitAngle
	force := math.IsNaN(w.Downforce) || math.Abs(r.Downforce-w.Downforce) <= hitForce*math.Abs(w.Downforce)
	return r.Within() && !r.Stalled && height && angle && force
}

// Words says in a line what a suggestion gives.
func (s *Suggestion) Words(w Wish) string {
	switch {
	case s.Short != "":
		return "cannot be drilled: " + s.Short
	case w.Fill && s.Gain > 0:
		return fmt.Sprintf("%d new settings that can be felt; the widest steps shrink by %.1f° in all", len(s.Useful), s.Gain/Deg)
	case w.Fill:
		return fmt.Sprintf("%d new settings that can be felt", len(s.Useful))
	}
	return fmt.Sprintf("%d settings as wished, %d that can be told from what exists", s.Hits, len(s.Useful))
}

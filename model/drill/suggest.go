package drill

import (
	"context"
	"math"
	"sort"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/choose"
	"stanchion/model/given"
)

// Goal says what a new hole is wanted for. Angle, Downforce or Fill is given.
type Goal struct {
	Angle     given.Number // rad, to the ground
	Height    given.Number // mm, of the quarter-chord point; not given for any
	Downforce given.Number // N at the table's speed
	Fill      bool         // narrow the widest steps between neighbouring angles
	Count     int          // holes together: 1 or 2
	Grid      float64      // mm, of the drill
	Part      int
	Joint     string // that the hole is kept for; "" for any, and then the one nearest to the wing is searched
	D         float64
	Name      func(taken int) string // the mark of the n-th new hole
}

// What counts as a hit.
const (
	hitAngle  = 0.4 * plane.Deg // rad
	hitHeight = 12.0            // mm
	hitForce  = 0.03            // of the downforce, as a fraction
)

// Suggestion is one hole, or several together, and what they would change.
type Suggestion struct {
	Trial
	Hits  int        // settings within limits that are what was wanted
	Gain  float64    // rad: by how much the widest steps of all heights shrink together
	Short *RuleCheck // the rule that forbids it; nil when it can be drilled
}

// Suggest works out the best places for a new hole: exact places with every
// existing pair of holes as the pivot and every partner in the other part, for
// every way of bolting the other joints, then rounded to the drill's grid,
// tried, and ranked. near are places that would serve but cannot be drilled,
// with what forbids them. progress is told now and then how far it is, 0 to 1;
// it may be nil. It ends with the context's error when that is cancelled.
func Suggest(ctx context.Context, t *model.Table, w Goal, progress func(float64)) (best, near []Suggestion, err error) {
	if progress == nil {
		progress = func(float64) {}
	}
	spots := spots(t, w)
	var good, forbidden []Suggestion
	for i, s := range spots {
		progress(float64(i) / float64(len(spots)) / float64(w.Count))
		h := NewHole{w.Part, holes.Hole{ID: w.Name(0), X: s.at.X, Z: s.at.Z, D: w.D, Joint: w.Joint}}
		if short, broken := Broken(HoleRules(&t.Car.Parts[w.Part], h.Hole)); broken {
			if len(forbidden) < maxForbidden {
				forbidden = append(forbidden, Suggestion{Trial: Trial{Holes: []NewHole{h}}, Short: &short})
			}
			continue
		}
		one, err := rate(ctx, t, w, h)
		if err != nil {
			return nil, nil, err
		}
		if len(one.Useful) > 0 && (one.Hits > 0 || w.Fill && one.Gain > 0) {
			good = append(good, one)
		}
	}
	rank(good)
	if w.Count > 1 {
		two, err := pairs(ctx, t, w, good, progress)
		if err != nil {
			return nil, nil, err
		}
		if len(two) > 0 { // else one hole is all that serves
			good = two
		}
	}
	for _, f := range forbidden {
		one, err := rate(ctx, t, w, f.Holes[0])
		if err != nil {
			return nil, nil, err
		}
		if one.Short = f.Short; one.Hits > 0 || w.Fill && one.Gain > 0 {
			near = append(near, one)
		}
	}
	rank(near)
	return good[:min(len(good), maxShown)], near[:min(len(near), 3)], nil
}

const (
	maxForbidden = 60 // places that break a rule and are tried all the same
	maxShown     = 5
	maxPaired    = 16 // single holes that pairs are made of
)

// rate tries holes and counts what they are good for.
func rate(ctx context.Context, t *model.Table, w Goal, hs ...NewHole) (Suggestion, error) {
	tr, err := Try(ctx, t, hs...)
	if err != nil {
		return Suggestion{}, err
	}
	s := Suggestion{Trial: tr}
	for _, i := range tr.Added {
		if !w.Fill && meets(t, w, &tr.Table.Rows[i]) {
			s.Hits++
		}
	}
	s.Gain = shrink(t, tr)
	return s, nil
}

// shrink returns by how much the widest angle steps at all heights shrink
// together, rad; a height that only comes up with the trial does not count.
func shrink(t *model.Table, tr Trial) float64 {
	gain := 0.0
	for _, b := range tr.Before {
		if a := choose.LevelAt(tr.After, b.Height); a != nil && a.Low <= b.Low && a.High >= b.High {
			gain += max(0, b.AngleStep-a.AngleStep)
		}
	}
	return gain
}

// rank sorts suggestions, the best first: by settings as wanted, then by how much
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
		if d := math.Round(a.Gain/plane.Deg*20) - math.Round(b.Gain/plane.Deg*20); d != 0 {
			return d > 0
		}
		if len(a.Useful) != len(b.Useful) {
			return len(a.Useful) > len(b.Useful)
		}
		return margin(a) > margin(b)
	})
}

// pairs tries the best single holes two at a time.
func pairs(ctx context.Context, t *model.Table, w Goal, singles []Suggestion, progress func(float64)) ([]Suggestion, error) {
	singles = singles[:min(len(singles), maxPaired)]
	var all []Suggestion
	for i := range singles {
		progress(0.5 + float64(i)/float64(len(singles))/2)
		for k := i + 1; k < len(singles); k++ {
			a, b := singles[i].Holes[0], singles[k].Holes[0]
			b.ID = w.Name(1)
			part := With(t.Car, a).Parts[w.Part]
			if _, broken := Broken(HoleRules(&part, b.Hole)); broken {
				continue
			}
			one, err := rate(ctx, t, w, a, b)
			if err != nil {
				return nil, err
			}
			all = append(all, one)
		}
	}
	rank(all)
	return all, nil
}

// Served returns a setting that is within limits and does what is wanted
// already, if there is one.
func Served(t *model.Table, w Goal) (*model.Row, bool) {
	for i := range t.Rows {
		if r := &t.Rows[i]; !w.Fill && meets(t, w, r) {
			return r, true
		}
	}
	return nil, false
}

// meets reports whether a row is what is wanted.
func meets(t *model.Table, w Goal, r *model.Row) bool {
	height := math.Abs(r.Height-w.Height.Or(r.Height)) <= hitHeight
	angle := math.Abs(r.Angle-w.Angle.Or(r.Angle)) <= hitAngle
	down := math.Abs(r.Downforce-w.Downforce.Or(r.Downforce)) <= hitForce*math.Abs(w.Downforce.Or(r.Downforce))
	return r.Within() && !r.Stalled && height && angle && down
}

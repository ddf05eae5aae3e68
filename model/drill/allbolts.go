package drill

import (
	"cmp"
	"context"
	"math"
	"slices"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/given"
)

// BoltsGoal asks for the holes with which a setting gets every bolt that its joints can take: one setting, or any
// at a height, also where so few bolts go in that it is none yet.
type BoltsGoal struct {
	Setting *model.Row
	Height  given.Number // mm, of the quarter-chord point
	Most    int          // holes; 0 for as many as it takes
	D, Grid float64      // mm; D is 0 for the diameter that most holes of the part have
	Name    func(part, taken int) string
}

// AllBolts is a place that gets every bolt with some holes.
type AllBolts struct {
	Suggestion
	Setting string // the id that it has now; "" where it is no setting yet
	Name    string // what it is called now
	Joint   int    // that lacks most bolts
	Have    int    // bolts that go in there now
	Takes   int    // bolts that it can take
	Height  float64
	Angle   float64 // rad
}

// FoundBolts is the answer to where holes give a setting every bolt.
type FoundBolts struct {
	Best   []AllBolts // the fewest holes first
	Near   []AllBolts // that cannot be drilled
	Looked int        // places of the wing at which bolts go in, of those asked about
	Full   int        // of these, that have every bolt already
}

// SuggestBolts works out which holes give every bolt, in the lower part of each joint that lacks some.
func SuggestBolts(ctx context.Context, e *Existing, w BoltsGoal) (FoundBolts, error) {
	var found FoundBolts
	loose, err := loosely(e.Table)
	if err != nil {
		return found, err
	}
	takes := capacities(loose)
	for i := range loose.Rows {
		if err := ctx.Err(); err != nil {
			return found, err
		}
		r := &loose.Rows[i]
		if w.Setting != nil && !has(r, w.Setting.ID) || w.Setting == nil && math.Abs(r.Height-w.Height.Or(r.Height)) > hitHeight {
			continue
		}
		way := r.Setting
		if w.Setting != nil {
			s, _ := r.As(w.Setting.ID)
			way = &s
		}
		found.Looked++
		one := AllBolts{Height: r.Height, Angle: r.Angle, Have: math.MaxInt}
		hs := missing(loose.Car, way, takes, w, &one)
		switch {
		case len(hs) == 0:
			found.Full++
			continue
		case w.Most > 0 && len(hs) > w.Most:
			continue
		}
		if e.ids()[way.ID] {
			one.Setting, one.Name = way.ID, e.Table.NameOf(way.ID)
		}
		one.Holes = hs
		found.add(e, one)
	}
	order := func(a, b AllBolts) int {
		return cmp.Or(cmp.Compare(len(a.Holes), len(b.Holes)), cmp.Compare(b.Takes-b.Have, a.Takes-a.Have))
	}
	slices.SortStableFunc(found.Best, order)
	slices.SortStableFunc(found.Near, order)
	found.Best, found.Near = found.Best[:min(len(found.Best), maxShown)], found.Near[:min(len(found.Near), 3)]
	for i := range found.Best {
		b := &found.Best[i]
		tr, err := e.Try(ctx, b.Holes...)
		if err != nil {
			return found, err
		}
		b.Trial = tr
	}
	found.Best = slices.DeleteFunc(found.Best, func(b AllBolts) bool { return len(b.Further)+len(b.Added) == 0 })
	return found, nil
}

// add files a place under those that can be drilled or those that cannot; of places that the same holes serve, the
// first stays.
func (f *FoundBolts) add(e *Existing, one AllBolts) {
	same := func(o AllBolts) bool {
		return slices.EqualFunc(o.Holes, one.Holes, func(a, b NewHole) bool { return a.Part == b.Part && a.At().Distance(b.At()) < 1 })
	}
	for i, h := range one.Holes {
		car := With(e.Table.Car, one.Holes[:i]...)
		if short, broken := Broken(HoleRules(&car.Parts[h.Part], h.Hole)); broken {
			if one.Short = &short; !slices.ContainsFunc(f.Near, same) {
				f.Near = append(f.Near, one)
			}
			return
		}
	}
	if !slices.ContainsFunc(f.Best, same) {
		f.Best = append(f.Best, one)
	}
}

// has reports whether a row has a way of bolting with an id.
func has(r *model.Row, id string) bool {
	_, ok := r.As(id)
	return ok
}

// loosely is the table of the car with every place at which two bolts of each joint go in.
func loosely(t *model.Table) (*model.Table, error) {
	loose := *t.Car
	loose.Joints = slices.Clone(t.Car.Joints)
	for j := range loose.Joints {
		loose.Joints[j].MinBolts = 2
	}
	places, err := loose.Positions()
	if err != nil {
		return nil, err
	}
	return model.NewTable(&loose, places, t.Wing, t.Speed), nil
}

// capacity is how many bolts a joint can take, and in which holes of its upper part.
type capacity struct {
	bolts int
	upper []int
}

// capacities finds what joints can take: the holes of the upper part that are for it alone, or those that the fit
// with the most bolts takes, where these are more.
func capacities(t *model.Table) []capacity {
	all := make([]capacity, len(t.Car.Joints))
	for j, joint := range t.Car.Joints {
		for u, h := range t.Car.Parts[j+1].Holes {
			kept := h.Joint == joint.Name || h.Joint == "" && j == len(t.Car.Joints)-1 // the wing has no other joint
			if kept && h.Takes(joint.Shank) && h.Slot == "" {
				all[j].upper = append(all[j].upper, u)
			}
		}
		all[j].bolts = len(all[j].upper)
	}
	for i := range t.Rows {
		for j, f := range t.Rows[i].Fits {
			if len(f.Pairs) <= all[j].bolts {
				continue
			}
			all[j] = capacity{bolts: len(f.Pairs)}
			for _, p := range f.Pairs {
				all[j].upper = append(all[j].upper, p.Upper)
			}
		}
	}
	return all
}

// missing lists the holes that a way of bolting lacks, each in the lower part of its joint, and notes of which
// joint most are lacking.
func missing(c *model.Car, way *holes.Setting, takes []capacity, w BoltsGoal, one *AllBolts) []NewHole {
	var hs []NewHole
	taken := make([]int, len(c.Parts))
	lacking := 0
	for j, f := range way.Fits {
		if n := takes[j].bolts - len(f.Pairs); n > lacking {
			lacking, one.Joint, one.Have, one.Takes = n, j, len(f.Pairs), takes[j].bolts
		}
		for _, u := range takes[j].upper {
			if len(f.Pairs) >= takes[j].bolts || slices.ContainsFunc(f.Pairs, func(p holes.Pair) bool { return p.Upper == u }) {
				continue
			}
			h := NewHole{Part: j}
			h.D = w.D
			if h.D == 0 {
				h.D = CommonDiameter(c.Parts[j])
			}
			h.Joint, h.ID = keptFor(c, j), w.Name(j, taken[j])
			taken[j]++
			h.X, h.Z = 0, 0
			h.Hole = fitting(c, j, h, c.Parts[j+1].Holes[u], f.Pose, w.Grid, hs)
			hs = append(hs, h)
		}
	}
	return hs
}

// keptFor is the joint that a new hole for joint j is kept for in its lower part: that joint, where the part keeps its
// other holes for one joint or another.
func keptFor(c *model.Car, j int) string {
	for _, h := range c.Parts[j].Holes {
		if h.Joint == "" {
			return ""
		}
	}
	return c.Joints[j].Name
}

// fitting puts a hole where a bolt through a hole of the upper part goes in: on the drill's grid as near as can be to
// the middle, or, where a rule is broken there, as near as clearances let it be and the rules are kept.
func fitting(c *model.Car, j int, h NewHole, upper holes.Hole, pose plane.Pose, grid float64, with []NewHole) holes.Hole {
	at := pose.Apply(upper.At())
	part := With(c, with...).Parts[j]
	reach := holes.Clearance(h.D, upper.D, c.Joints[j].Shank) * 0.75 // leaves a quarter for the other bolts
	h.X, h.Z = at.X, at.Z
	best, off := h.Hole, math.Inf(1)
	step := max(grid, 0.1)
	n := int(reach/step) + 1
	for i := -n; i <= n; i++ {
		for k := -n; k <= n; k++ {
			p := plane.Point{X: (math.Round(at.X/step) + float64(i)) * step, Z: (math.Round(at.Z/step) + float64(k)) * step}
			d := p.Distance(at)
			if d > reach || d >= off {
				continue
			}
			try := h.Hole
			try.X, try.Z = p.X+0, p.Z+0
			if _, broken := Broken(HoleRules(&part, try)); !broken {
				best, off = try, d
			}
		}
	}
	if math.IsInf(off, 1) { // nowhere: where it would be, with the rule that forbids it
		best.X, best.Z = math.Round(at.X*10)/10+0, math.Round(at.Z*10)/10+0
	}
	return best
}

// CommonDiameter is the diameter that most holes of a part have, mm; NaN without holes.
func CommonDiameter(p model.Part) float64 {
	count := map[float64]int{}
	best := math.NaN()
	for _, h := range p.Holes {
		if count[h.D]++; math.IsNaN(best) || count[h.D] > count[best] {
			best = h.D
		}
	}
	return best
}

// TooSmall returns a joint whose bolt does not pass through a hole of a part, where it passes none of the joints
// that the hole is for.
func TooSmall(c *model.Car, part int, joint string, d float64) (model.Joint, bool) {
	var small model.Joint
	for j := max(0, part-1); j <= part && j < len(c.Joints); j++ {
		if joint != "" && c.Joints[j].Name != joint {
			continue
		}
		if (holes.Hole{D: d}).Takes(c.Joints[j].Shank) {
			return model.Joint{}, false
		}
		small = c.Joints[j]
	}
	return small, small.Name != ""
}

package model

import (
	"math"
	"sort"

	"stanchion/holes"
	"stanchion/model/units"
)

// NewHole is a hole that is not drilled yet, in a part by its index.
type NewHole struct {
	Part int
	holes.Hole
}

// With returns the car with further holes, each the last of its part.
func (c *Car) With(hs ...NewHole) *Car {
	next := *c
	next.Parts = append([]Part(nil), c.Parts...)
	for _, h := range hs {
		p := &next.Parts[h.Part]
		p.Holes = append(p.Holes[:len(p.Holes):len(p.Holes)], h.Hole)
	}
	return &next
}

// DefaultJoint returns the joint that a new hole of a part is kept for when
// nobody says: the one nearest to the wing, if the part keeps all of its other
// holes for one joint or another; else "", for any.
func (c *Car) DefaultJoint(part int) string {
	for _, h := range c.Parts[part].Holes {
		if h.Joint == "" {
			return ""
		}
	}
	return c.Joints[min(part, len(c.Joints)-1)].Name
}

// Trial is what further holes would change.
type Trial struct {
	Holes   []NewHole
	Table   *Table
	Added   []int    // rows of Table that use a new hole and were not to be had before
	Further []string // ids of settings that get a further bolt
	Useful  []int    // those of Added within limits, not stalled, and unlike any that exists
	Rules   []RuleCheck
	Before  []Level
	After   []Level
	Worth   bool
	Verdict units.Phrase
	unlike  map[int]units.Phrase // why one of Added is not useful
}

// Try works out what further holes would change. The wing's curve stays what it
// is in the table.
func (t *Table) Try(hs ...NewHole) (Trial, error) {
	tr := Trial{Holes: hs, Before: t.Levels(), unlike: map[int]units.Phrase{}}
	car := t.Car.With(hs...)
	for _, h := range hs {
		tr.Rules = append(tr.Rules, car.Parts[h.Part].HoleRules(h.Hole)...)
	}
	places, err := car.Places()
	if err != nil {
		return tr, err
	}
	tr.Table = NewTable(car, places, t.Wing, t.Speed)
	old := map[string]bool{}
	for i := range t.Rows {
		old[t.Rows[i].ID] = true
		for _, a := range t.Rows[i].Alternatives {
			old[a.ID] = true
		}
	}
	for i := range tr.Table.Rows {
		r := &tr.Table.Rows[i]
		if !t.uses(r, hs) {
			continue
		}
		if id := t.withoutNew(car, r, hs); old[id] {
			tr.Further = append(tr.Further, id)
			continue
		}
		tr.Added = append(tr.Added, i)
	}
	tr.After = tr.Table.Levels()
	tr.judge(t)
	return tr, nil
}

// uses reports whether a row of a car with further holes takes one of them.
func (t *Table) uses(r *Row, hs []NewHole) bool {
	for j, f := range r.Fits {
		for _, p := range f.Pairs {
			if t.isNew(j, p.Lower) || t.isNew(j+1, p.Upper) {
				return true
			}
		}
	}
	return false
}

func (t *Table) isNew(part, hole int) bool { return hole >= len(t.Car.Parts[part].Holes) }

// withoutNew returns the id that a row would have without the new holes' bolts.
func (t *Table) withoutNew(car *Car, r *Row, hs []NewHole) string {
	id := ""
	for j, f := range r.Fits {
		var kept []holes.Pair
		for _, p := range f.Pairs {
			if !t.isNew(j, p.Lower) && !t.isNew(j+1, p.Upper) {
				kept = append(kept, p)
			}
		}
		if j > 0 {
			id += "/"
		}
		id += holes.FitID(car.Parts[j].Part, car.Parts[j+1].Part, holes.Fit{Pairs: kept})
	}
	return id
}

// sameHeightBand is by how much heights must differ to count as different, mm:
// what a bolt in its hole and a tape leave open. Common practice, no source.
const sameHeightBand = 2.0

// judge finds the added settings that are of use, and the verdict.
func (tr *Trial) judge(before *Table) {
	bands := make([]Bands, len(before.Rows))
	for i := range before.Rows {
		bands[i] = before.Bands(&before.Rows[i])
	}
	for _, i := range tr.Added {
		r := &tr.Table.Rows[i]
		switch {
		case r.Stalled:
			tr.unlike[i] = units.Say("it is stalled")
		case r.Lifts():
			tr.unlike[i] = units.Say("it lifts")
		case !r.Within():
			tr.unlike[i] = r.Outside[0]
		default:
			tr.unlike[i] = tr.like(before, bands, r)
		}
		if tr.unlike[i].Empty() {
			tr.Useful = append(tr.Useful, i)
		}
	}
	if why := Broken(tr.Rules); !why.Empty() {
		tr.Verdict = units.Say("cannot be drilled there: %s", why)
		return
	}
	switch {
	case len(tr.Useful) > 0:
		tr.Worth = true
		tr.Verdict = units.Say("worth drilling: %s", tr.gain(before))
		if part := tr.unseen(); part != "" {
			tr.Verdict = units.Say("NOT CHECKED whether part %s has metal there, since it has no outline; else it %s", part, tr.gain(before))
		}
		if n := len(tr.Useful) - 1; n > 0 {
			tr.Verdict = units.Say("%s, and gives %d more", tr.Verdict, n)
		}
	case len(tr.Added) == 0 && len(tr.Further) > 0:
		tr.Verdict = units.Say("adds no setting, but a further bolt to %d", len(tr.Further))
	case len(tr.Added) == 0:
		tr.Verdict = units.Say("adds nothing: no bolts go in with it that give a new place%s", tr.miss(before))
	default:
		i := tr.Added[0]
		tr.Verdict = units.Say("adds nothing you can feel: at %s and %s %s", degrees(tr.Table.Rows[i].Angle), units.MM(tr.Table.Rows[i].Height), tr.unlike[i])
	}
}

// unseen returns the name of a part that a new hole is in and that has no outline, so that
// nothing says whether there is metal; "" when there is none.
func (tr *Trial) unseen() string {
	for _, h := range tr.Holes {
		if p := &tr.Table.Car.Parts[h.Part]; p.Outline == nil {
			return p.Name
		}
	}
	return ""
}

// like says which existing setting a row makes no clear difference to; an empty phrase
// when there is none.
// Settings differ when their downforce does by more than the difference's band,
// and their angle or their height does by more than the play in the holes.
func (tr *Trial) like(before *Table, bands []Bands, r *Row) units.Phrase {
	own := tr.Table.Bands(r)
	for i := range before.Rows {
		o := &before.Rows[i]
		if !o.Within() || o.Stalled {
			continue
		}
		difference := DifferenceBand(own, bands[i])
		force := math.Abs(r.Downforce-o.Downforce) <= difference.Downforce
		place := math.Abs(r.Angle-o.Angle) <= math.Hypot(r.Play, o.Play)/math.Sqrt(3) && math.Abs(r.Height-o.Height) <= sameHeightBand
		if force || place {
			return units.Say("there is no clear difference to %s (%s against %s, the difference is known to ±%s)", o.ID, units.Newtons(r.Downforce), units.Newtons(o.Downforce), units.Newtons(difference.Downforce))
		}
	}
	return units.Phrase{}
}

// gain says in words what the most useful added setting does for its height.
func (tr *Trial) gain(before *Table) units.Phrase {
	best, words := -1.0, units.Phrase{}
	for _, i := range tr.Useful {
		r := &tr.Table.Rows[i]
		var level *Level
		for k := range tr.Before {
			if l := &tr.Before[k]; math.Abs(l.Height-r.Height) <= levelGap {
				level = l
			}
		}
		height := units.MM(r.Height)
		switch {
		case level == nil:
			if best < 0 {
				best, words = 0, units.Say("opens %s, at %s", height, degrees(r.Angle))
			}
		case r.Angle > level.High && r.Angle-level.High > best:
			best, words = r.Angle-level.High, units.Say("extends the range at %s from %s up to %s", height, degrees(level.High), degrees(r.Angle))
		case r.Angle < level.Low && level.Low-r.Angle > best:
			best, words = level.Low-r.Angle, units.Say("extends the range at %s from %s down to %s", height, degrees(level.Low), degrees(r.Angle))
		default:
			at := sort.SearchFloat64s(level.angles, r.Angle)
			if at == 0 || at == len(level.angles) {
				continue
			}
			if gap := level.angles[at] - level.angles[at-1]; gap > best {
				best, words = gap, units.Say("fills the gap between %s and %s at %s", degrees(level.angles[at-1]), degrees(level.angles[at]), height)
			}
		}
	}
	return words
}

// degrees spells an angle in rad.
func degrees(a float64) string { return units.Fixed(a/Deg, 1) + "°" }

// miss says by how much the nearest pair misses, when no bolts go in with a new
// hole.
func (tr *Trial) miss(before *Table) units.Phrase {
	car, best := tr.Table.Car, WhyLine{}
	least := math.Inf(1)
	for _, h := range tr.Holes {
		new := len(before.Car.Parts[h.Part].Holes)
		for o := range before.Car.Parts[h.Part].Holes {
			for j := max(h.Part-1, 0); j <= h.Part && j < len(car.Joints); j++ {
				upper := j < h.Part
				for _, l := range car.WhyAll(j, []int{new, o}, upper) {
					if l.Reason == holes.Spacing && -l.Slack < least {
						least, best = -l.Slack, l
					}
					if l.Reason != holes.Fine {
						break // the rest misses by more
					}
				}
			}
		}
	}
	if best.Text.Empty() {
		return units.Say("")
	}
	return units.Say("; nearest is %s", best.Text)
}

package design

import (
	"math"
	"slices"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/clearance"
	"stanchion/model/fastener"
	"stanchion/model/outline"
)

// Shape is what family a plate's outline is of.
type Shape int

// Shapes of plates.
const (
	Convex   Shape = iota
	Cranked        // convex but for where it bends round body or lid
	Slim           // bands between the holes of foot and head
	SwanNeck       // holds the wing from above, its neck ahead of the leading edge
)

// Key is what a shape is called in machine-readable output.
func (s Shape) Key() string { return [...]string{"convex", "cranked", "slim", "swan_neck"}[s] }

// Widths of a plate.
const (
	cutter    = 5.0  // mm, inside radius: a router bit of 10 mm goes round it, Common practice, no source
	SlimBand  = 60.0 // mm, of a slim plate's bands where none is given. Common practice, no source
	LeastBand = 20.0 // mm
	MostBand  = 400.0
)

// around lists a plate's holes as its outline goes around them.
func around(hs []holes.Hole) []outline.Hole {
	all := make([]outline.Hole, len(hs))
	for i, h := range hs {
		e := fastener.Edge(h.D)
		all[i] = outline.Hole{At: h.At(), Usual: e.Usual, Least: e.Min}
	}
	return all
}

// barred is what a plate must keep out of, in its own frame, by whether it is the lid's.
type barred struct {
	body, lid, shut []outline.KeepOut // shut is the lid's, shut
}

// choices lists what an outline may be drawn around, all of it first. Where there is no way around the body, the plate may pass through it
// by a slot; where it stops the lid whatever its shape, it can keep its distance from the shut one.
func (b barred) choices() [][]outline.KeepOut {
	all := [][]outline.KeepOut{slices.Concat(b.body, b.lid)}
	if len(b.body) > 0 {
		all = append(all, b.lid)
	}
	if len(b.lid) > len(b.shut) {
		all = append(all, slices.Concat(b.body, b.shut))
	}
	return all
}

// Keep-outs are drawn so much larger than the gap, mm, for the chords of arcs and the play between settings that count as one; the lid is looked
// at each so many rad on its way.
const (
	spare   = 0.25
	sameFor = 0.1
	lidStep = 2 * plane.Deg
)

// barredBy returns what the plate must keep out of at some settings, by the rules of package clearance: the body where the plate
// does not pass through it, and a lid that is not slotted, on its way to the opening that is asked for.
func barredBy(t *model.Table, rows []int) (b barred) {
	c := t.Car
	place := c.Surroundings()
	gap := c.Limits.Gap.Or(0) + spare
	plate := &c.Parts[1]
	lo, hi := plane.Box(plate.Outline)
	var poses []plane.Pose
	for _, n := range rows {
		pose := c.PartPoses(t.Rows[n].Setting)[1]
		same := func(o plane.Pose) bool {
			return o.Apply(lo).Distance(pose.Apply(lo)) < sameFor && o.Apply(hi).Distance(pose.Apply(hi)) < sameFor
		}
		if !slices.ContainsFunc(poses, same) {
			poses = append(poses, pose)
		}
	}
	for _, pose := range poses {
		back := pose.Inverse()
		if place.Body != nil && !passes(plate, pose, place.Body) {
			b.body = append(b.body, outline.KeepOut{Polygon: back.ApplyAll(place.Body), Away: gap})
		}
		if place.Lid.Outline == nil || place.Lid.Slotted {
			continue
		}
		for _, l := range onItsWay(place.Lid, c.Limits.LidOpening.Or(0)) {
			b.lid = append(b.lid, outline.KeepOut{Polygon: back.ApplyAll(l), Away: gap})
		}
		b.shut = append(b.shut, outline.KeepOut{Polygon: back.ApplyAll(place.Lid.Outline), Away: gap})
	}
	return b
}

// passes reports whether a plate passes through the body wherever its edge runs: some hole's least distance from the edge does.
func passes(plate *model.Part, pose plane.Pose, body []plane.Point) bool {
	return slices.ContainsFunc(plate.Holes, func(h holes.Hole) bool {
		mm, inside := plane.EdgeDistance(body, pose.Apply(h.At()))
		return inside || mm <= fastener.Edge(h.D).Min
	})
}

// onItsWay lists the lid's outlines from shut to an opening, rad, or as far as it goes.
func onItsWay(l clearance.Lid, opening float64) (all [][]plane.Point) {
	most := min(opening, math.Abs(l.Open))
	n := int(math.Ceil(most / lidStep))
	for i := range n + 1 {
		all = append(all, l.Opened(math.Copysign(most*float64(i)/float64(max(n, 1)), l.Open)))
	}
	return all
}

// shaped gives the plate of a proposal another outline where that is wanted, or where the hull breaks a limit that another does not.
func (w *Wish) shaped(one *Proposal) error {
	if w.SwanNeck {
		return w.neck(one)
	}
	rows := one.wanted()
	broken := one.inTheWay()
	if !w.Slim && broken == 0 {
		return nil
	}
	b := barredBy(one.Table, rows)
	hs := around(one.Plate().Holes)
	rules := outline.Rules{Radius: cutter}
	for _, h := range hs {
		rules.Band = max(rules.Band, 2*h.Usual)
	}
	slim := rules
	slim.Band = max(w.Band, LeastBand)
	try := func(s Shape, outs []outline.KeepOut) (bool, error) {
		var ring []plane.Point
		var ok bool
		if s == Slim {
			ring, ok = outline.Slim([][]outline.Hole{hs[:one.Foot], hs[one.Foot:]}, outs, slim)
		} else {
			ring, ok = outline.Cranked(hs, outs, rules)
		}
		if !ok {
			return false, nil
		}
		next := *one
		if err := next.take(w, ring); err != nil {
			return false, err
		}
		if left := next.inTheWay(); left > broken || s == Cranked && left == broken {
			return false, nil
		}
		next.Shape, next.Around = s, b.touched(ring)
		*one = next
		return true, nil
	}
	shapes := []Shape{Cranked}
	if w.Slim {
		shapes = []Shape{Slim, Cranked}
	}
	for _, s := range shapes {
		for _, outs := range b.choices() {
			if done, err := try(s, outs); done || err != nil {
				return err
			}
		}
		if broken == 0 {
			return nil
		}
	}
	return nil
}

// take gives the plate an outline, and lists its settings anew.
func (p *Proposal) take(w *Wish, ring []plane.Point) (err error) {
	car := *p.Car
	car.Parts = slices.Clone(car.Parts)
	car.Parts[1].Outline = ring
	p.Car = &car
	if p.Table, err = car.Map(car.Speed); err != nil {
		return err
	}
	p.Levels = w.levels(p.Table)
	return nil
}

// wanted lists the rows of the settings that are wanted.
func (p *Proposal) wanted() (rows []int) {
	for _, l := range p.Levels {
		rows = append(rows, l.Rows...)
	}
	return rows
}

// inTheWay counts how often the plate itself is too near to body or lid, or stops the lid, at the settings wanted.
func (p *Proposal) inTheWay() (n int) {
	for _, i := range p.wanted() {
		for _, b := range p.Table.Rows[i].Breaches {
			if (b.Limit == model.LimitGap || b.Limit == model.LimitLid) && b.From == p.Plate().Name {
				n++
			}
		}
	}
	return n
}

// touched says whether an outline bends round lid or body: those that it is as near to as it may be.
func (b barred) touched(ring []plane.Point) (all []string) {
	for _, of := range []struct {
		name string
		outs []outline.KeepOut
	}{{"lid", b.lid}, {"body", b.body}} {
		if slices.ContainsFunc(of.outs, func(o outline.KeepOut) bool { return plane.Distance(ring, o.Polygon).Distance < o.Away+1 }) {
			all = append(all, of.name)
		}
	}
	return all
}

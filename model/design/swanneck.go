package design

import (
	"errors"
	"math"
	"slices"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/outline"
)

// Neck is what a swan neck is like: a plate that holds the wing from above and reaches its bolts round the leading edge.
type Neck struct {
	Gap     float64 // mm, that the plate keeps from the wing's section
	Nearest float64 // mm, that its outline comes to it at the settings wanted
	Below   float64 // mm below the wing's lower side that the plate leaves free, from leading to trailing edge
	Width   float64 // mm, least of the neck
	Behind  bool    // it reaches round the trailing edge: the foot is behind the wing, or there is no way in front
	Drawn   bool    // the section is the wing's own; else an assumed one

	Front, Rear float64 // mm, of the wing's bolts above its chord line
	Ordered     bool    // they were chosen by Wish.Above
	Fouls       []int   // rows of the table: settings that come with it, at which the wing would be nearer to the plate than Gap

	LostKnown bool    // what follows is worked out
	Lost      float64 // of the wing's lift, as a fraction, by the uprights' wake at its most, as if all of it passed over the upper side
	LostUnder float64 // as if it passed under the lower side
}

// Rules for swan necks, mm.
const (
	NeckGap               = 10.0 // where neither wish nor limits say. Common practice, no source
	LeastGap, MostGap     = 3.0, 100.0
	LeastAbove, MostAbove = 1.0, 400.0 // of the wing's bolts above the chord line
	drawnAway             = 1.0        // that drawing takes beside a keep-out, for chords of arcs
)

// cleanParts are depths below the wing that are kept free where there is room, in chords: those of the suction peak's field first.
// Common practice, no source.
var cleanParts = []float64{0.5, 0.4, 0.3, 0.25, 0.2, 0.15, 0.1}

// noNeck says that a plate is no swan neck; above is how high above the chord line the wing's bolts would have to be, mm, 0 where that is not the reason.
type noNeck struct{ above float64 }

func (*noNeck) Error() string { return "no swan neck" }

// withMounts is the frame with both bolts of the wing at a height above its chord line.
func (f *frame) withMounts(above float64) *frame {
	g := *f
	g.front.Z, g.along = above, plane.Point{X: 1}
	g.quarter = plane.Point{X: f.car.Wing.Chord / 4}.Sub(g.front)
	return &g
}

// mounted lists the frames to search: with the wing's mounts as they are, or at each height that they can be ordered with.
func (f *frame) mounted() (all []*frame) {
	if len(f.wish.Above) == 0 {
		return f.brackets()
	}
	for _, above := range f.wish.Above {
		all = append(all, f.withMounts(above).brackets()...)
	}
	return all
}

// gap is what a swan neck keeps from the wing.
func (w *Wish) gap(c *model.Car) float64 {
	if w.NeckGap > 0 {
		return w.NeckGap
	}
	return c.Limits.Gap.Or(NeckGap)
}

// neck gives the plate of a proposal the outline of a swan neck; the error is a *noNeck where there is none.
func (w *Wish) neck(one *Proposal) error {
	c := one.Car
	section, drawn := withFlap(c.Wing)
	wanted := one.posesOfWing(one.wanted())
	every := make([]int, len(one.Table.Rows))
	for i := range every {
		every[i] = i
	}
	gap := w.gap(c)
	hs := around(one.Plate().Holes)
	if err := one.standsAbove(hs[one.Foot:], section, wanted, gap); err != nil {
		return err
	}
	rules := outline.Rules{Band: max(w.Band, LeastBand), Radius: cutter}
	b := barredBy(one.Table, one.wanted())
	wall := outline.Wall(tail(section, wanted))
	fits := func(poses []plane.Pose, behind bool, part float64) (best *Proposal, broken int, err error) {
		outs := outline.Swept(section, poses, gap+spare)
		outs = append(outs, outline.Below(section, wanted, part*c.Wing.Chord, gap+spare)...)
		if !behind {
			outs = append(outs, wall)
		}
		for _, around := range b.choices() {
			ring, ok := outline.Cranked(hs, slices.Concat(outs, around), rules)
			if !ok {
				continue
			}
			next := *one
			if err := next.take(w, ring); err != nil {
				return nil, 0, err
			}
			if n := next.inTheWay(); best == nil || n < broken {
				next.Shape, next.Around = SwanNeck, b.touched(ring)
				next.Neck = &Neck{Gap: gap, Below: max(part*c.Wing.Chord, gap), Width: rules.Band, Behind: plane.Overlap(ring, wall.Polygon), Drawn: drawn}
				best, broken = &next, n
			}
			if broken == 0 {
				break
			}
		}
		return best, broken, nil
	}
	// Round the leading edge, or else as there is a way; where the whole foot is behind the wing the shortest way first.
	ways := []bool{false, true}
	if !slices.ContainsFunc(hs[:one.Foot], func(h outline.Hole) bool { return h.At.X < wall.Polygon[0].X }) {
		ways = []bool{true}
	}
	for _, behind := range ways {
		for _, poses := range [][]plane.Pose{one.posesOfWing(every), wanted} {
			best, broken, err := fits(poses, behind, 0)
			if err != nil {
				return err
			}
			if best == nil {
				continue
			}
			for lo, hi := 0, len(cleanParts); lo < hi; { // what is free below one depth is free below a smaller one
				mid := (lo + hi) / 2
				next, n, err := fits(poses, behind, cleanParts[mid])
				if err != nil {
					return err
				}
				if next != nil && n <= broken {
					best, broken, hi = next, n, mid
				} else {
					lo = mid + 1
				}
			}
			*one = *best
			one.measure(w, section, wanted)
			return nil
		}
	}
	return &noNeck{}
}

// withFlap is the wing's section in its own frame with its Gurney flap, which stands up at the trailing edge; drawn as of Wing.Outline.
func withFlap(w model.Wing) (section []plane.Point, drawn bool) {
	section, drawn = w.Outline()
	high := w.Gurney.Or(0)
	if high <= 0 {
		return section, drawn
	}
	section = plane.Corners(section)
	n := len(section)
	at := 0
	for i, p := range section {
		if p.X > section[at].X {
			at = i
		}
	}
	top := plane.Point{X: section[at].X, Z: section[at].Z + high}
	if section[(at+1)%n].Z > section[(at+n-1)%n].Z { // the upper side comes next
		at++
	}
	return slices.Insert(section, at, top), drawn
}

// posesOfWing lists where the wing is in the plate's frame at some settings; where it has twist, as its middle stands there, its tips, and half-way.
func (p *Proposal) posesOfWing(rows []int) (all []plane.Pose) {
	chord := p.Car.Wing.QuarterChord().Times(4)
	for _, n := range rows {
		poses := p.Car.PartPoses(p.Table.Rows[n].Setting)
		for _, part := range []float64{0, 0.5, 1} {
			pose := poses[1].Inverse().Then(poses[2]).Then(plane.About(p.Car.Wing.QuarterChord(), part*p.Car.Wing.Twist))
			same := func(o plane.Pose) bool {
				return o.Apply(plane.Point{}).Distance(pose.Apply(plane.Point{})) < sameFor && o.Apply(chord).Distance(pose.Apply(chord)) < sameFor
			}
			if !slices.ContainsFunc(all, same) {
				all = append(all, pose)
			}
		}
	}
	return all
}

// tail is the wing's trailing edge where it reaches furthest to the rear in the plate's frame.
func tail(section []plane.Point, poses []plane.Pose) plane.Point {
	end := slices.MaxFunc(section, byX)
	var all []plane.Point
	for _, pose := range poses {
		all = append(all, pose.Apply(end))
	}
	return slices.MaxFunc(all, byX)
}

func byX(a, b plane.Point) int {
	switch {
	case a.X < b.X:
		return -1
	case a.X > b.X:
		return 1
	}
	return 0
}

// standsAbove reports as an error that the head's holes are not far enough above the wing at every setting wanted, and how high mounts would do, with
// the usual distance of holes from the edge.
func (p *Proposal) standsAbove(head []outline.Hole, section []plane.Point, poses []plane.Pose, gap float64) error {
	var at []plane.Point
	var least, usual []float64
	for _, h := range head {
		at = append(at, h.At)
		least = append(least, h.Least+gap+drawnAway)
		usual = append(usual, h.Usual+gap+drawnAway)
	}
	if mm, _ := outline.Raise(at, least, section, poses, MostAbove); mm == 0 {
		return nil
	}
	mm, ok := outline.Raise(at, usual, section, poses, MostAbove)
	if !ok {
		return &noNeck{}
	}
	front, rear := p.bolts()
	const whole = 5.0
	return &noNeck{above: whole * math.Ceil((max(front, rear)+mm)/whole)}
}

// bolts are the heights of the wing's bolts above its chord line, mm.
func (p *Proposal) bolts() (front, rear float64) {
	hs := slices.Clone(p.Car.Parts[2].Holes)
	if hs[0].X > hs[1].X {
		hs[0], hs[1] = hs[1], hs[0]
	}
	return hs[0].Z, hs[1].Z
}

// measure takes what is said of a swan neck off its outline and its settings.
func (p *Proposal) measure(w *Wish, section []plane.Point, wanted []plane.Pose) {
	n := p.Neck
	ring := p.Plate().Outline
	n.Front, n.Rear = p.bolts()
	n.Ordered = len(w.Above) > 0
	n.Nearest = math.Inf(1)
	for _, pose := range wanted {
		n.Nearest = min(n.Nearest, plane.Distance(ring, pose.ApplyAll(section)).Distance)
	}
	for i := range p.Table.Rows {
		near := func(pose plane.Pose) bool { return plane.Distance(ring, pose.ApplyAll(section)).Distance < n.Gap-0.05 }
		if slices.ContainsFunc(p.posesOfWing([]int{i}), near) {
			n.Fouls = append(n.Fouls, i)
		}
	}
	n.LostKnown = p.Car.Wing.Table == nil
	for _, i := range p.wanted() {
		s := p.Table.Rows[i].Struts
		n.LostKnown = n.LostKnown && s.Known
		over, under := s.EitherSide()
		n.Lost, n.LostUnder = max(n.Lost, over), max(n.LostUnder, under)
	}
}

// tooLow takes note of why a plate is no swan neck, where that is the error.
func (d *Designed) tooLow(err error) bool {
	var no *noNeck
	if !errors.As(err, &no) {
		return false
	}
	switch {
	case no.above == 0 && d.Why != LowMounts:
		d.Why = NoWay
	case no.above > 0 && (d.Why != LowMounts || no.above < d.Mounts):
		d.Why, d.Mounts = LowMounts, no.above
	}
	return true
}

// checkNeck checks what a wish says of swan necks; the error is a *Fault.
func (w *Wish) checkNeck() error {
	if w.NeckGap != 0 && !(w.NeckGap >= LeastGap && w.NeckGap <= MostGap) {
		return &Fault{BadNeckGap}
	}
	for _, a := range w.Above {
		if !(a >= LeastAbove && a <= MostAbove) {
			return &Fault{BadAbove}
		}
	}
	return nil
}

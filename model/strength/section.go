package strength

import (
	"math"
	"slices"
	"sort"

	"stanchion/holes/plane"
	"stanchion/model"
)

// section is a cut square through a plate.
type section struct {
	at     float64 // mm along the plate
	middle float64 // mm across it, of what is left
	width  float64 // mm of metal
	inertia,
	far float64 // mm³ about the middle, in the plane and over the thickness; mm from the middle to the outermost metal
	gross  float64 // mm of width without regard to holes; cut-outs are not part of it
	pieces int     // that the cut meets the outline in
}

// stations are how many cuts there are beside those at holes and corners.
const stations = 32

// cut prepares the sections of a plate between two joints, square to the way from
// the middle of the holes that its lower bolts can be in to that of its upper ones.
func (p *plate) cut(c *model.Car) {
	lower, upper := c.Joints[p.index-1].Name, c.Joints[p.index].Name
	middle := func(joint, other string) plane.Point {
		var kept, all []plane.Point
		for _, h := range p.part.Holes {
			if h.Joint == joint {
				kept = append(kept, h.At())
			}
			if h.Joint != other {
				all = append(all, h.At())
			}
		}
		if len(kept) > 0 {
			return plane.Centroid(kept)
		}
		return plane.Centroid(all)
	}
	p.frame = plane.Frame{Origin: middle(lower, upper), Normal: plane.Level.Normal} // holes that any joint may use give no direction
	way := middle(upper, lower).Sub(p.frame.Origin)
	if length := way.Length(); length >= 1 {
		p.frame.Normal = way.Times(1 / length)
	}
	p.slice()
}

// slice cuts the plate at its holes, its corners and in between.
func (p *plate) slice() {
	p.bores = p.allBores()
	var marks []float64
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, r := range p.part.Rings() {
		for _, u := range r {
			s, _ := p.frame.In(u)
			marks = append(marks, s-1e-6, s+1e-6)
			lo, hi = min(lo, s), max(hi, s)
		}
	}
	for _, h := range p.part.Holes {
		s, _ := p.frame.In(h.At())
		marks = append(marks, s)
	}
	for i := range stations + 1 {
		marks = append(marks, lo+(hi-lo)*float64(i)/stations)
	}
	sort.Float64s(marks)
	marks = slices.CompactFunc(marks, func(a, b float64) bool { return math.Abs(b-a) < 1e-7 })
	for _, s := range marks {
		whole, ok := p.section(s, false)
		if !ok {
			continue
		}
		net, ok := p.section(s, true)
		if !ok {
			net = section{at: s} // nothing left
		}
		net.gross, net.pieces = whole.width, whole.pieces
		p.sections = append(p.sections, net)
	}
}

// bore is a round opening in a plate, in its directions.
type bore struct{ at, off, radius float64 }

// slotStep is how finely a slot is taken as round openings, mm: its edge is then
// true to 0.01 mm.
const slotStep = 0.5

// allBores lists the round holes of a plate, and slots as rows of round ones.
func (p *plate) allBores() []bore {
	var all []bore
	add := func(u plane.Point, d float64) {
		s, v := p.frame.In(u)
		all = append(all, bore{s, v, d / 2})
	}
	for _, h := range p.part.Holes {
		if h.Slot == "" {
			add(h.At(), h.D)
		}
	}
	for _, slot := range p.part.Slots {
		n := int(math.Ceil(slot.Length() / slotStep))
		for i := range n + 1 {
			add(slot.Along(slot.Length()*float64(i)/float64(n)), slot.D)
		}
	}
	return all
}

// section cuts the plate at a station, with its holes out or without regard to
// them; cut-outs are never metal. ok is false where there is no metal.
func (p *plate) section(at float64, drilled bool) (section, bool) {
	metal := plane.Cut(p.part.Outline, p.frame, at)
	for _, c := range p.part.Cutouts {
		for _, out := range plane.Cut(c, p.frame, at) {
			metal = plane.Without(metal, out)
		}
	}
	if drilled {
		for _, h := range p.bores {
			if half := h.radius*h.radius - (h.at-at)*(h.at-at); half > 0 {
				metal = plane.Without(metal, plane.Span{From: h.off - math.Sqrt(half), To: h.off + math.Sqrt(half)})
			}
		}
	}
	sec := section{at: at, pieces: len(metal)}
	for _, m := range metal {
		sec.width += m.To - m.From
		sec.middle += (m.To - m.From) * (m.From + m.To) / 2
	}
	if sec.width < 1e-6 {
		return sec, false
	}
	sec.middle /= sec.width
	for _, m := range metal {
		l, d := m.To-m.From, (m.From+m.To)/2-sec.middle
		sec.inertia += l*l*l/12 + l*d*d
		sec.far = max(sec.far, math.Abs(m.From-sec.middle), math.Abs(m.To-sec.middle))
	}
	return sec, true
}

// internal is what a section bears, in the plate's directions.
type internal struct{ along, across, turn, side, tilt, twist float64 }

// acting is a force on a plate, in its own directions.
type acting struct{ at, off, along, across, side float64 }

// push adds what a joint's bolts do to a plate in its plane.
func (p *plate) push(all []acting, bolts []BoltLoad, frame plane.Pose, sign float64) []acting {
	inverse := frame.Inverse()
	turned := plane.Pose{Turn: inverse.Turn}
	for _, k := range bolts {
		at, off := p.frame.In(inverse.Apply(k.At))
		along, across := p.frame.Resolve(turned.Apply(plane.Point{X: sign * k.Rear, Z: sign * k.Up}))
		all = append(all, acting{at: at, off: off, along: along, across: across})
	}
	return all
}

// own adds the loads on the plate itself, which the joint below carries.
func (p *plate) own(all []acting, below *Body) []acting {
	inverse := below.Upper.Inverse()
	turned := plane.Pose{Turn: inverse.Turn}
	for _, l := range below.Own {
		at, off := p.frame.In(inverse.Apply(plane.Point{X: l.At.X, Z: l.At.Z}))
		along, across := p.frame.Resolve(turned.Apply(plane.Point{X: l.Rear, Z: l.Up}))
		all = append(all, acting{at: at, off: off, along: along, across: across, side: l.Side})
	}
	return all
}

// internal adds up what acts on the plate beyond a section, towards its head; own
// says whether bolts in the section's own row count as beyond. ok is false where
// nothing acts. Across the plane the joint at the head acts at the middle of its
// bolts, and the foot holds in the middle of its own.
func (s *section) internal(e *ends, own bool) (in internal, ok bool) {
	edge := s.at + 1e-6
	if own {
		edge = s.at - 1e-6
	}
	between := s.at < e.head && s.at >= e.foot-1e-6
	for _, f := range e.forces {
		if f.at < edge {
			continue
		}
		in.along += f.along
		in.across += f.across
		in.turn += (f.off-s.middle)*f.along - (f.at-s.at)*f.across
		if between {
			in.side += f.side
			in.tilt -= f.side * (f.at - s.at)
			in.twist += f.side * (f.off - s.middle)
		}
		ok = true
	}
	if between {
		in.side += e.load.side
		in.tilt += e.load.tilt - e.load.side*(e.head-s.at)
		in.twist += e.load.twist + e.load.side*(e.load.offset-s.middle)
	}
	return in, ok
}

// stress returns the largest stress in a section of a plate t mm thick, MPa: force
// along it, bending in the plane and sideways, with shear and twist as one
// comparative stress √(σ² + 3τ²), as if the largest of all were in one place.
// unstable is the part of the load that would buckle the plate, which makes its
// sideways bending larger by 1/(1 - part).
//
// Source: S. P. Timoshenko and J. M. Gere, "Theory of Elastic Stability" (1961),
// art. 1.9, for the enlargement; beam theory for the rest.
func (s *section) stress(in internal, t, unstable float64) float64 {
	if s.width <= 0 {
		return math.Inf(1)
	}
	more := math.Inf(1)
	if unstable < 1 {
		more = 1 / (1 - unstable)
	}
	side := 0.0
	if in.tilt != 0 {
		side = math.Abs(in.tilt) * more / (s.width * t * t / 6)
	}
	sigma := math.Abs(in.along)/(s.width*t) + math.Abs(in.turn)*s.far/(s.inertia*t) + side
	tau := 1.5*math.Hypot(in.across, in.side)/(s.width*t) + math.Abs(in.twist)*t/(s.width*t*t*t/3)
	return math.Sqrt(sigma*sigma + 3*tau*tau)
}

package strength

import (
	"math"
	"slices"
	"sort"

	"stanchion/holes"
	"stanchion/model"
)

// section is a cut square through a plate.
type section struct {
	at     float64 // mm along the plate
	middle float64 // mm across it, of what is left
	width  float64 // mm of metal
	inertia,
	far float64 // mm³ about the middle, in the plane and over the thickness; mm from the middle to the outermost metal
	gross float64 // mm of width without regard to holes
}

// stations are how many cuts there are beside those at holes and corners.
const stations = 48

// cut prepares the sections of a plate between two joints: from the middle of the
// holes that its lower bolts can be in to that of its upper ones.
func (p *plate) cut(c *model.Car) {
	lower, upper := c.Joints[p.index-1].Name, c.Joints[p.index].Name
	middle := func(joint, other string) holes.Point {
		var kept, all []holes.Point
		for _, h := range p.part.Holes {
			if h.Joint == joint {
				kept = append(kept, h.At())
			}
			if h.Joint != other {
				all = append(all, h.At())
			}
		}
		if len(kept) > 0 {
			return centroid(kept)
		}
		return centroid(all)
	}
	p.origin = middle(lower, upper)
	end := middle(upper, lower)
	p.length = math.Hypot(end.X-p.origin.X, end.Z-p.origin.Z)
	if p.length < 1 || math.IsNaN(p.length) {
		return // holes that any joint may use: the plate has no direction of its own
	}
	p.along = holes.Point{X: (end.X - p.origin.X) / p.length, Z: (end.Z - p.origin.Z) / p.length}
	var marks []float64
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, h := range p.part.Holes {
		s, _ := p.station(h.At())
		marks = append(marks, s)
		lo, hi = min(lo, s), max(hi, s)
	}
	for _, u := range p.part.Outline {
		if s, _ := p.station(u); s > lo && s < hi {
			marks = append(marks, s-1e-6, s+1e-6)
		}
	}
	for i := range stations + 1 {
		marks = append(marks, lo+(hi-lo)*float64(i)/stations)
	}
	sort.Float64s(marks)
	marks = slices.CompactFunc(marks, func(a, b float64) bool { return math.Abs(b-a) < 1e-7 })
	p.least = section{width: math.Inf(1)}
	for _, s := range marks {
		whole, ok := p.section(s, false)
		if !ok {
			continue
		}
		if s >= 0 && s <= p.length && whole.width < p.least.width {
			p.least = whole
		}
		net, ok := p.section(s, true)
		if !ok {
			net = section{at: s} // nothing left
		}
		net.gross = whole.width
		p.sections = append(p.sections, net)
	}
	if math.IsInf(p.least.width, 1) {
		p.sections = nil
	}
}

// span is a length of metal across the plate.
type span struct{ from, to float64 }

// section cuts the plate at a station, with its holes out or without regard to
// them; ok is false where there is no metal.
func (p *plate) section(at float64, drilled bool) (section, bool) {
	var crossings []float64
	n := len(p.part.Outline)
	for i, a := range p.part.Outline {
		sa, va := p.station(a)
		sb, vb := p.station(p.part.Outline[(i+1)%n])
		if (sa > at) != (sb > at) {
			crossings = append(crossings, va+(at-sa)/(sb-sa)*(vb-va))
		}
	}
	sort.Float64s(crossings)
	var metal []span
	for i := 0; i+1 < len(crossings); i += 2 {
		metal = append(metal, span{crossings[i], crossings[i+1]})
	}
	if drilled {
		for _, h := range p.part.Holes {
			s, v := p.station(h.At())
			if half := h.D*h.D/4 - (s-at)*(s-at); half > 0 {
				metal = without(metal, v-math.Sqrt(half), v+math.Sqrt(half))
			}
		}
	}
	sec := section{at: at}
	for _, m := range metal {
		sec.width += m.to - m.from
		sec.middle += (m.to - m.from) * (m.from + m.to) / 2
	}
	if sec.width < 1e-6 {
		return sec, false
	}
	sec.middle /= sec.width
	for _, m := range metal {
		l, d := m.to-m.from, (m.from+m.to)/2-sec.middle
		sec.inertia += l*l*l/12 + l*d*d
		sec.far = max(sec.far, math.Abs(m.from-sec.middle), math.Abs(m.to-sec.middle))
	}
	return sec, true
}

// without takes a hole out of lengths of metal.
func without(metal []span, from, to float64) []span {
	var left []span
	for _, m := range metal {
		if to <= m.from || from >= m.to {
			left = append(left, m)
			continue
		}
		if from > m.from {
			left = append(left, span{m.from, from})
		}
		if to < m.to {
			left = append(left, span{to, m.to})
		}
	}
	return left
}

// internal is what a section bears, in the plate's directions.
type internal struct{ along, across, turn, side, tilt, twist float64 }

// acting is a force on a plate, in its own directions.
type acting struct{ at, off, along, across float64 }

// forces lists what the bolts of both joints do to a plate.
func (p *plate) forces(below, above *Body) []acting {
	all := make([]acting, 0, len(below.Bolts)+len(above.Bolts))
	add := func(b *Body, frame holes.Pose, sign float64) {
		inverse := frame.Inverse()
		turned := holes.Pose{Turn: inverse.Turn}
		for _, k := range b.Bolts {
			at, off := p.station(inverse.Apply(k.At))
			f := turned.Apply(holes.Point{X: sign * k.Rear, Z: sign * k.Up})
			all = append(all, acting{at, off, f.X*p.along.X + f.Z*p.along.Z, f.X*p.along.Z - f.Z*p.along.X})
		}
	}
	add(above, above.Lower, 1)
	add(below, below.Upper, -1)
	return all
}

// internal adds up what acts on the plate beyond a section, towards its head; own
// says whether bolts in the section's own row count as beyond. ok is false where
// nothing acts.
func (s *section) internal(forces []acting, head headLoad, own bool) (in internal, ok bool) {
	edge := s.at + 1e-6
	if own {
		edge = s.at - 1e-6
	}
	for _, f := range forces {
		if f.at < edge {
			continue
		}
		in.along += f.along
		in.across += f.across
		in.turn += (f.off-s.middle)*f.along - (f.at-s.at)*f.across
		ok = true
	}
	if s.at < head.station && s.at > 0 && ok {
		in.side = head.side
		in.tilt = head.tilt - head.side*(head.station-s.at)
		in.twist = head.twist + head.side*(head.offset-s.middle)
	}
	return in, ok
}

// stress returns the largest stress along the plate and the largest across it,
// MPa, of a plate t mm thick: force, bending in the plane and sideways, shear and
// twist. unstable is the part of the load that would buckle the plate, which
// makes its sideways bending larger by 1/(1 - part).
//
// Source: S. P. Timoshenko and J. M. Gere, "Theory of Elastic Stability" (1961),
// art. 1.9, for the enlargement; beam theory for the rest.
func (s *section) stress(in internal, t, unstable float64) (along, across float64) {
	if s.width <= 0 {
		return math.Inf(1), math.Inf(1)
	}
	more := math.Inf(1)
	if unstable < 1 {
		more = 1 / (1 - unstable)
	}
	side := 0.0
	if in.tilt != 0 {
		side = math.Abs(in.tilt) * more / (s.width * t * t / 6)
	}
	along = math.Abs(in.along)/(s.width*t) + math.Abs(in.turn)*s.far/(s.inertia*t) + side
	across = 1.5*math.Hypot(in.across, in.side)/(s.width*t) + math.Abs(in.twist)*t/(s.width*t*t*t/3)
	return along, across
}

// bending returns the turn of the wing, rad, and its way sideways, mm, by the
// bending of all plates whose sections are known; NaN when none are. The load
// factor is not in it.
func (f *Frame) bending(bodies []Body) (turn, side float64) {
	turn, side = math.NaN(), math.NaN()
	for part := 1; part < len(f.Car.Parts)-1; part++ {
		p := &f.plates[part]
		if !p.sound() || len(p.sections) == 0 {
			continue
		}
		above, below := &bodies[len(bodies)-part-1], &bodies[len(bodies)-part]
		head := p.local(above)
		forces := p.forces(below, above)
		var theta, way, last float64
		for i := range p.sections {
			s := &p.sections[i]
			if s.at < 0 || s.at > head.station || s.width <= 0 {
				continue
			}
			in, _ := s.internal(forces, head, false)
			step := s.at - last
			last = s.at
			theta += in.turn / (p.material.elastic * p.t * s.inertia) * step
			way += -in.tilt / (p.material.elastic * s.width * p.t * p.t * p.t / 12) * step * (head.station - s.at)
		}
		if math.IsNaN(turn) {
			turn, side = 0, 0
		}
		turn += theta / f.factor
		side += way / f.factor
	}
	return turn, side
}

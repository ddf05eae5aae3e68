package strength

import (
	"math"

	"stanchion/holes/plane"
	"stanchion/model/fastener"
)

// crossSlot is what is left of bearing in a slot that lies across the force.
// Source: EN 1993-1-8:2005 Table 3.4, footnote 1.
const crossSlot = 0.6

// oversize is what is left of bearing in a hole with more than normal clearance,
// which is 1 mm for these sizes. Source: EN 1993-1-8:2005 Table 3.4, footnote 1; EN
// 1090-2 Table 11.
const (
	oversize        = 0.8
	normalClearance = 1.0 // mm
)

const bearingSource = "EN 1993-1-8 Table 3.4, EN 1999-1-1 Table 8.5"

// holeChecks reports what the plate around one bolt's hole bears.
func (f *Analysis) holeChecks(b *Body, i, part, hole int, report func(Check)) {
	p := &f.plates[part]
	h := p.part.Holes[hole]
	if part == len(f.plates)-1 && !p.sound() {
		return // the wing's own inserts are its maker's
	}
	name, k := f.joint(b.Joint)
	check := func(what string, demand, capacity float64, unit, source string) {
		report(Check{What: what, Joint: name, Part: p.part.Name, At: h.ID, Station: math.NaN(), Demand: demand, Capacity: capacity,
			Unit: unit, Layout: unit == "mm", Source: source})
	}
	frame, sign := b.Lower, 1.0
	if part == b.Joint+1 {
		frame, sign = b.Upper, -1
	}
	load := b.Bolts[i]
	shear := load.Shear()
	push := plane.Pose{Turn: frame.Inverse().Turn}.Apply(plane.Point{X: sign * load.Rear, Z: sign * load.Up})
	if shear > 0 {
		push.X, push.Z = push.X/shear, push.Z/shear
	}
	d := f.around(p, hole, push)
	covered := true // by the rule of bearing, which asks for the least distances
	if p.part.Outline != nil {
		edge, metal := p.part.EdgeDistance(h.At())
		if !metal {
			edge = -edge
		}
		least := fastener.Edge(h.D).Min
		covered = edge >= least
		check("edge distance", least, edge, "mm", "EN 1993-1-8 Table 3.3: 1.2 d0")
	}
	if !math.IsInf(d.nearest, 1) {
		covered = covered && d.nearest >= d.needed
		check("spacing of holes", d.needed, d.nearest, "mm", "EN 1993-1-8 Table 3.3: 2.2 d0 along the force, 2.4 d0 across it")
	}
	if !p.sound() {
		return
	}
	m := p.at(h.At(), h.At())
	fu := m.inBearing()
	fub := math.Inf(1)
	if k.classed {
		fub = k.Ultimate
	}
	alpha, k1 := d.factors(h.D, fub, fu)
	less := 1.0
	switch {
	case h.Slot != "":
		less = crossSlot
	case h.D-k.D > normalClearance+1e-9:
		less = oversize
	}
	if covered {
		check("bearing", shear, less*bearing(alpha, k1, fu, k.D, p.t), "N", bearingSource)
	}
	if d.end < farFromEdge*h.D {
		check("tear-out", shear, 2*p.t*max(0, d.end-h.D/2)*m.Proof/math.Sqrt(3)/m.factor, "N",
			"EN 1993-1-8 3.10.2, EN 1999-1-1 8.5.2.2: two planes in shear")
	}
	f.slipCheck(b, i, part, hole, check)
	f.pryingCheck(b, i, part, hole, load.Tension, check)
	if k.sized {
		check("bolt head through the plate", load.Tension, k.punching(p.t, m.Ultimate), "N", "EN 1993-1-8 Table 3.4: Bp,Rd")
	}
}

// surroundings are the distances from a hole that its bearing hangs on, mm;
// infinite where there is nothing.
type surroundings struct {
	end, side     float64 // to the edge, along the force and the nearer one across it
	ahead, beside float64 // to the nearest other hole, along the force and across it
	nearest       float64 // to the hole that is nearest for what it needs
	needed        float64 // what it needs
}

// factors returns αb and k1 of a hole of diameter d0: the least of those of edges
// and of other holes; 0 where nothing is left. fub and fu are the bolt's and the
// plate's ultimate strengths, MPa.
// Source: EN 1993-1-8:2005 Table 3.4, EN 1999-1-1:2007 Table 8.5.
func (s surroundings) factors(d0, fub, fu float64) (alpha, k1 float64) {
	alpha = min(1, fub/fu, s.end/(3*d0), s.ahead/(3*d0)-0.25)
	k1 = min(2.5, 2.8*s.side/d0-1.7, 1.4*s.beside/d0-1.7)
	return max(0, alpha), max(0, k1)
}

// bearing returns what a plate bears beside a bolt, N: k1 αb fu d t / γM2.
// Source: as factors.
func bearing(alpha, k1, fu, d, t float64) float64 { return k1 * alpha * fu * d * t / boltFactor }

// farFromEdge is how many diameters a hole is from the edge that its bolt pushes
// towards, beyond which tearing out is no question.
const farFromEdge = 6

// around measures from a hole along the direction that its bolt pushes in.
func (f *Analysis) around(p *plate, hole int, push plane.Point) surroundings {
	inf := math.Inf(1)
	s := surroundings{inf, inf, inf, inf, inf, 0}
	h := p.part.Holes[hole]
	if rings := p.part.Rings(); rings != nil {
		s.end = toEdge(rings, h.At(), push)
		across := plane.Point{X: -push.Z, Z: push.X}
		s.side = min(toEdge(rings, h.At(), across), toEdge(rings, h.At(), plane.Point{X: -across.X, Z: -across.Z}))
	}
	tightest := inf
	for _, i := range p.near[hole] {
		o := p.part.Holes[i]
		dx, dz := o.X-h.X, o.Z-h.Z
		apart := math.Hypot(dx, dz)
		along := dx*push.X + dz*push.Z
		beside := math.Abs(dz*push.X-dx*push.Z) > math.Abs(along)
		force := fastener.Along
		if beside {
			force = fastener.Across
		}
		if need := fastener.Spacing(max(o.D, h.D), force).Min; apart-need < tightest {
			tightest, s.nearest, s.needed = apart-need, apart, need
		}
		switch {
		case beside:
			s.beside = min(s.beside, apart)
		case along > 0:
			s.ahead = min(s.ahead, apart)
		}
	}
	return s
}

// toEdge returns how far it is from a point to the nearest edge in a direction, mm: of the
// outline and the cut-outs that are the rings of a part; 0 where there is no metal.
func toEdge(rings [][]plane.Point, from, way plane.Point) float64 {
	least, crossings := math.Inf(1), 0
	for _, r := range rings {
		for a, b := range plane.Edges(r) {
			// In the direction's own axes: where the edge crosses the ray.
			sa, va := way.X*(a.X-from.X)+way.Z*(a.Z-from.Z), way.X*(a.Z-from.Z)-way.Z*(a.X-from.X)
			sb, vb := way.X*(b.X-from.X)+way.Z*(b.Z-from.Z), way.X*(b.Z-from.Z)-way.Z*(b.X-from.X)
			if (va > 0) == (vb > 0) {
				continue
			}
			if s := sa + va/(va-vb)*(sb-sa); s > 0 {
				least = min(least, s)
				crossings++
			}
		}
	}
	if crossings%2 == 0 {
		return 0
	}
	return least
}

// Slip of a bolt along its slot, held by friction alone: ks μ (Fp - 0.8 Ft) / γM3 with the least preload Fp that
// a torque wrench makes.
// Source: EN 1993-1-8:2005 3.9.1 and 3.9.2, Tables 3.6 and 3.7: a long slot along the force, a
// surface as rolled.
const (
	longSlot   = 0.63
	slipFactor = 1.25
)

// slipCheck reports what keeps a bolt from sliding along its slot.
func (f *Analysis) slipCheck(b *Body, i, part, hole int, check func(what string, demand, capacity float64, unit, source string)) {
	h := f.plates[part].part.Holes[hole]
	slot, ok := f.plates[part].part.Slot(h.Slot)
	_, k := f.joint(b.Joint)
	if h.Slot == "" || !ok || !k.sized || !k.Preloads || f.gripUnknown(b.Joint) {
		return // slots says so
	}
	frame := b.Lower
	if part == b.Joint+1 {
		frame = b.Upper
	}
	p, q := frame.Apply(slot.Along(max(0, h.Distance-0.5))), frame.Apply(slot.Along(min(slot.Length(), h.Distance+0.5)))
	l := q.Distance(p)
	if l == 0 {
		return
	}
	along := math.Abs(b.Bolts[i].Rear*(q.X-p.X)+b.Bolts[i].Up*(q.Z-p.Z)) / l
	grip := fastener.Grip(f.clamps(b.Joint), b.Bolts[i].Tension, fastener.ClassD, 1)
	check("slip along the slot", along, longSlot*grip/slipFactor, "N", "EN 1993-1-8 3.9.1, 3.9.2, with the least preload of VDI 2230")
}

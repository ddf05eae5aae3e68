package strength

import (
	"math"

	"stanchion/holes/plane"
)

// ends are what holds a plate and what loads it.
type ends struct {
	head, foot float64 // stations of the middles of the bolts at both ends, mm
	length     float64 // mm that counts for buckling: from the car's bolts to the wing's
	least      float64 // mm of the narrowest width between the ends, without regard to holes
	load       headLoad
	forces     []acting
}

// hasRow reports whether something acts on the plate right at a station.
func (e *ends) hasRow(at float64) bool {
	for _, f := range e.forces {
		if math.Abs(f.at-at) <= 1e-6 {
			return true
		}
	}
	return false
}

// headLoad is what a plate's head bears, in the directions of the plate: positive
// along is pulled.
type headLoad struct {
	along, across, turn float64 // N, N, N·mm, in the plane
	side                float64 // N across the plane
	tilt, twist         float64 // N·mm, about the direction across the plate, and along it
	station, offset     float64 // mm, of the place along the plate and across it
}

// local turns the load of the joint at a plate's head into the plate's
// directions.
func (p *plate) local(l *Body) headLoad {
	inverse := l.Lower.Inverse()
	at := inverse.Apply(plane.Point{X: l.At.X, Z: l.At.Z})
	turned := plane.Pose{Turn: inverse.Turn}
	force := turned.Apply(plane.Point{X: l.Rear, Z: l.Up})
	moment := turned.Apply(plane.Point{X: l.Roll, Z: l.Yaw})
	s, v := p.frame.In(at)
	along, across := p.frame.Resolve(force)
	twist, tilt := p.frame.Resolve(moment)
	return headLoad{along: along, across: across, turn: l.Turn, side: l.Side, twist: twist, tilt: tilt, station: s, offset: v}
}

// ends prepares a part for its checks; ok is false where there is nothing to check.
func (f *Analysis) ends(part int, bodies []Body) (e ends, ok bool) {
	p := &f.plates[part]
	if !p.sound() || len(p.sections) == 0 {
		return e, false
	}
	above := &bodies[len(bodies)-part-1]
	e.load = p.local(above)
	e.head, e.foot = e.load.station, p.held
	e.forces = p.push(e.forces, above.Bolts, above.Lower, 1)
	e.length = e.head - e.foot
	if part > 0 {
		below := &bodies[len(bodies)-part]
		c := below.Upper.Inverse().Apply(plane.Point{X: below.At.X, Z: below.At.Z})
		e.foot, _ = p.frame.In(c)
		e.forces = p.push(e.forces, below.Bolts, below.Upper, -1)
		e.forces = p.own(e.forces, below)
		low, high := bodies[len(bodies)-1].At, bodies[0].At
		e.length = max(e.head-e.foot, math.Hypot(high.X-low.X, high.Z-low.Z))
	}
	e.least = math.Inf(1)
	for i := range p.sections {
		if s := &p.sections[i]; s.at >= e.foot && s.at <= e.head {
			e.least = min(e.least, s.gross)
		}
	}
	return e, e.head > e.foot+1 && !math.IsInf(e.least, 1)
}

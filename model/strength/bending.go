package strength

import "math"

// bending returns the turn of the wing, rad, and its way sideways, mm, by the
// bending of all plates whose sections are known; NaN when none are. The slope of
// each carries what is above it along. The load factor is not in it.
func (f *Analysis) bending(st stance, bodies []Body) (turn, side float64) {
	turn, side = math.NaN(), math.NaN()
	lean := 0.0 // sideways, of the plates so far
	for part := range len(f.Car.Parts) - 1 {
		if st.unlike[part] != "" {
			return math.NaN(), math.NaN()
		}
		e, ok := f.ends(part, bodies)
		if !ok {
			continue
		}
		b := f.plates[part].bend(&e)
		if math.IsNaN(turn) {
			turn, side = 0, 0
		}
		turn += b.theta / f.LoadFactor
		side += (b.way + lean*(e.head-e.foot)) / f.LoadFactor
		lean += b.slope
	}
	return turn, side
}

// bend bends a plate from its foot to the middle of its upper bolts.
func (p *plate) bend(e *ends) bent {
	b := bent{at: e.foot, head: e.head}
	for i := range p.sections {
		s := &p.sections[i]
		if s.at < e.foot || s.at > e.head-1e-6 || s.width <= 0 {
			continue
		}
		in, _ := s.internal(e, false)
		b.to(s.at, in.turn, in.tilt, p, s)
	}
	if b.section != nil { // at the middle of its upper bolts all that they bring in acts
		b.to(e.head, e.load.turn, e.load.tilt, p, b.section)
	}
	return b
}

// bent is a plate bent up to a station, by the curvatures at its sections with the mean of
// two between them.
type bent struct {
	at, head     float64  // mm along the plate
	turned, tilt float64  // curvatures there, 1/mm, in its plane and sideways
	section      *section // there; nil at the foot
	theta, slope float64  // rad that the head turns by, in its plane and sideways
	way          float64  // mm that it moves sideways
}

// to goes on to a station with the moments there, N·mm, and the metal that bears them.
func (b *bent) to(at, turn, tilt float64, p *plate, s *section) {
	e, t := p.material.elastic, p.t
	u, v := turn/(e*t*s.inertia), -tilt/(e*s.width*t*t*t/12)
	if b.section == nil {
		b.turned, b.tilt = u, v
	}
	step := at - b.at
	b.theta += (u + b.turned) / 2 * step
	b.slope += (v + b.tilt) / 2 * step
	b.way += (v + b.tilt) / 2 * step * (b.head - at + step/2)
	b.at, b.turned, b.tilt, b.section = at, u, v, s
}

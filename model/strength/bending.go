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
		p := &f.plates[part]
		var theta, slope, way float64
		last := e.foot
		var turned, bent float64 // curvatures at the section before
		first := true
		for i := range p.sections {
			s := &p.sections[i]
			if s.at < e.foot || s.at > e.head || s.width <= 0 {
				continue
			}
			in, _ := s.internal(&e, false)
			step := s.at - last
			last = s.at
			u, v := in.turn/(p.material.elastic*p.t*s.inertia), -in.tilt/(p.material.elastic*s.width*p.t*p.t*p.t/12)
			if first {
				turned, bent, first = u, v, false
			}
			theta += (u + turned) / 2 * step
			slope += (v + bent) / 2 * step
			way += (v + bent) / 2 * step * (e.head - s.at + step/2)
			turned, bent = u, v
		}
		if math.IsNaN(turn) {
			turn, side = 0, 0
		}
		turn += theta / f.LoadFactor
		side += (way + lean*(e.head-e.foot)) / f.LoadFactor
		lean += slope
	}
	return turn, side
}

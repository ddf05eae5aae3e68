package strength

import "math"

// springs raises what bolts bear across to what the plate above them brings in as it is solved, on springs of
// the bolts' own give, where that is more than their rigid group's share.
func (s *solving) springs(checks []Check) {
	type bolt struct{ joint, hole string }
	more := map[bolt]float64{}
	for i := range s.out.Plates {
		p := &s.out.Plates[i]
		if p.Part == 0 || !p.Resolved() || len(p.Bolts) != len(cases) {
			continue
		}
		joint := p.Part - 1
		name := s.f.Car.Joints[joint].Name
		for n, pair := range s.st.row.Fits[joint].Pairs {
			group, spring := 0.0, 0.0
			for k := range cases {
				b := &s.bodies[k][len(s.bodies[k])-1-joint]
				group = max(group, b.Bolts[n].Shear())
				spring = max(spring, math.Hypot(p.Bolts[k][n].X, p.Bolts[k][n].Z))
			}
			if group > 0 && spring > group {
				more[bolt{name, s.f.Car.Parts[joint].Holes[pair.Lower].ID}] = spring / group
				more[bolt{name, s.f.Car.Parts[joint+1].Holes[pair.Upper].ID}] = spring / group
			}
		}
	}
	for i := range checks {
		c := &checks[i]
		switch c.What {
		case boltShear, "bearing", "tear-out":
			if times, ok := more[bolt{c.Joint, c.At}]; ok {
				c.Demand *= times
			}
		}
	}
}

// boltShear is what the check of a bolt across is called.
const boltShear = "bolt shear"

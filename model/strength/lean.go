package strength

import (
	"math"

	"stanchion/holes/plane"
	"stanchion/model/fem"
)

// How long the plates' leaning is followed: until it changes by less than a thousandth, or for so many
// rounds, in which what is nearer to buckling than 1.05 does not settle and counts as buckled.
const (
	leanSettled = 1e-3
	leanRounds  = 200
)

// lean works out the loads on each plate in each case as the mounting lies under them: a plate on one
// that leans is loaded across its plane by what acts in it, and one below plates that bend away is
// bent by loads that have moved out with them.
func (s *solving) lean() {
	for k := range cases {
		s.loads = append(s.loads, s.leaning(k))
	}
}

func (s *solving) leaning(k int) map[int]fem.Load {
	upright := map[int]fem.Load{}
	moves := map[int]fem.Motion{}
	for _, part := range s.order {
		upright[part] = s.f.onPlate(s.st, cases[k], part, s.bodies[k])
	}
	loads := map[int]fem.Load{}
	for range leanRounds {
		change, most := 0.0, 0.0
		for _, part := range s.order {
			l := s.moved(k, part, upright[part], moves)
			m, err := s.responses[part].Sideways(l)
			if err != nil {
				return nil
			}
			change = max(change, math.Abs(m.Side-moves[part].Side))
			most = max(most, math.Abs(m.Side))
			loads[part], moves[part] = l, m
		}
		if change <= leanSettled*most {
			return loads
		}
	}
	return nil
}

// moved is the load on a plate with the others where they are.
func (s *solving) moved(k, part int, l fem.Load, moves map[int]fem.Motion) fem.Load {
	// The slopes of the plates below, as this one's frame has them.
	var lean plane.Point
	for _, below := range s.order {
		if m := moves[below]; below < part {
			car := plane.Pose{Turn: s.st.poses[below].Turn}.Apply(plane.Point{X: m.SX, Z: m.SZ})
			lean = lean.Add(plane.Pose{Turn: -s.st.poses[part].Turn}.Apply(car))
		}
	}
	l.Side -= lean.X*l.X + lean.Z*l.Z
	l.OwnSide -= lean.X*l.OwnX + lean.Z*l.OwnZ
	l.MX += lean.X*l.Lever[0][1] + lean.Z*l.Lever[1][1]
	l.MZ -= lean.X*l.Lever[0][0] + lean.Z*l.Lever[1][0]
	// What stands above has moved out further than this plate's head by the bending of the plates between.
	turned := plane.Pose{Turn: -s.st.poses[part].Turn}
	out := func(a Applied, upto int) {
		way := 0.0
		for _, above := range s.order {
			if m := moves[above]; above > part && above <= upto {
				at := s.st.poses[above].Inverse().Apply(plane.Point{X: a.At.X, Z: a.At.Z}).Sub(s.responses[above].Head)
				way += m.Side + m.SX*at.X + m.SZ*at.Z
			}
		}
		f := turned.Apply(plane.Point{X: a.Rear, Z: a.Up})
		l.MX += f.Z * way
		l.MZ -= f.X * way
	}
	for _, a := range s.f.wingLoads(s.st.row, cases[k], 0) {
		out(a, len(s.f.Car.Parts))
	}
	for i := range s.bodies[k] {
		if b := &s.bodies[k][i]; b.Joint >= part {
			for _, a := range b.Own { // on the plate above the joint
				out(a, b.Joint+1)
			}
		}
	}
	return l
}

// under is a plate in a load case, as the mounting lies.
func (s *solving) under(part, k int) (fem.Load, fem.State, error) {
	if s.loads[k] == nil {
		return fem.Load{}, fem.State{}, fem.ErrBuckled
	}
	l := s.loads[k][part]
	state, err := s.responses[part].Under(l, true)
	return l, state, err
}

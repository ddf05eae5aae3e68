package strength

import (
	"math"

	"stanchion/holes/plane"
	"stanchion/model/fem"
)

// motion adds up how the wing moves with the plates.
func (s *solving) motion() {
	wing := s.bodies[0][0].At // where it is bolted
	turn := 0.0
	for _, part := range s.order {
		_, state, err := s.under(part, aloneCase)
		if err != nil {
			return
		}
		turn += state.Turn
	}
	s.out.Turn = turn / s.f.LoadFactor
	for k := range cases {
		way, twist := 0.0, 0.0
		for _, part := range s.order {
			r := s.responses[part]
			_, state, err := s.under(part, k)
			if err != nil {
				s.out.Side = math.NaN() // it has buckled
				return
			}
			at := s.st.poses[part].Inverse().Apply(plane.Point{X: wing.X, Z: wing.Z}).Sub(r.Head)
			way += state.Side + state.SX*at.X + state.SZ*at.Z
			// The slopes as a turn about x and z: of it the part about the car's upright line.
			turned := plane.Pose{Turn: s.st.poses[part].Turn}.Apply(plane.Point{X: -state.SZ, Z: state.SX})
			twist += turned.Z
		}
		if math.Abs(way)/s.f.LoadFactor > s.out.Side || math.IsNaN(s.out.Side) {
			s.out.Side, s.out.Twist = math.Abs(way)/s.f.LoadFactor, math.Abs(twist)/s.f.LoadFactor
		}
	}
}

// swing works out the mounting's natural frequencies with the wing on it. Parts that could not be
// solved are rigid in it.
func (s *solving) swing() {
	mass, ok := s.f.Car.Wing.Mass.Get()
	if !ok || len(s.responses) == 0 {
		return
	}
	var side, plan []fem.Link
	for part := range len(s.f.Car.Parts) - 1 {
		r := s.responses[part]
		if r == nil {
			continue
		}
		across, in := r.Field()
		head, turn := s.st.poses[part].Apply(r.Head), s.st.poses[part].Turn
		side = append(side, fem.Link{Field: across, Head: head, Turn: turn})
		plan = append(plan, fem.Link{Field: in, Head: head, Turn: turn})
	}
	c := s.f.Car.Wing.Chord
	m := mass * s.f.Share * 1e-3
	w := fem.Rider{Mass: m, At: s.st.row.Pose.Apply(plane.Point{X: c / 2})}
	s.out.Sideways = fem.Swing(side, w, true)
	w.About[2] = m * c * c / 12 // as if spread evenly over the chord
	s.out.ForeAft = fem.Swing(plan, w, false)
}

// Driver is something that shakes the car at a frequency of its own.
type Driver struct {
	What  string
	Speed float64 // m/s at which it meets the frequency; NaN where it does not hang on the speed
	Note  string  // source
}

// What shakes a car, and how. Sources: T. D. Gillespie, "Fundamentals of Vehicle Dynamics" (1992),
// ch. 5: wheels turn at v/(2πr) and hop at 10 to 15 Hz, the body bounces at 1 to 2 Hz; A. Fage and F.
// C. Johansen, Proc. R. Soc. A 116 (1927): a stalled flat plate sheds at 0.15 of the speed over its
// width across the flow. Recalled and not read again.
const (
	rollingRadius = 0.31 // m, common practice, no source
	hopLow        = 10.0 // Hz
	hopHigh       = 15.0
	shedding      = 0.15
	engineLow     = 25.0 // Hz: second order of four cylinders at 750 rpm, four strokes
	engineHigh    = 250.0
)

// nearTo is how near a frequency may come to what drives it, as a part of it.
// Common practice, no source.
const nearTo = 0.2

// Drivers lists what drives a frequency in Hz, at speeds up to the fastest in m/s; stalled is the
// height that the wing shows to the air past the stall, mm.
func Drivers(f, fastest, stalled float64) []Driver {
	var all []Driver
	if f >= hopLow*(1-nearTo) && f <= hopHigh*(1+nearTo) {
		all = append(all, Driver{"wheel hop at 10 to 15 Hz", math.NaN(), "Gillespie (1992), ch. 5"})
	}
	if v := 2 * math.Pi * rollingRadius * f; v <= fastest {
		all = append(all, Driver{"a wheel out of balance", v, "a tyre of 0.31 m rolling radius"})
	}
	if v := f * stalled / 1000 / shedding; stalled > 0 && v <= fastest {
		all = append(all, Driver{"vortices off a stalled wing", v, "Fage and Johansen (1927), 0.15 of the speed over its height"})
	}
	if f >= engineLow && f <= engineHigh {
		all = append(all, Driver{"the engine", math.NaN(), "firing of four cylinders, 750 to 7500 rpm"})
	}
	return all
}

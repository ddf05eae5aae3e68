package aero

import "math"

// reshape is how something on a section (dirt, a strip at its trailing edge) changes its
// curve. Angles in rad.
type reshape struct {
	lift     float64                  // added at every angle with the flow attached
	topLift  float64                  // added to the maximum
	topAngle float64                  // added to the angle of the maximum
	moment   float64                  // added with the flow attached
	below    float64                  // angle of the negative stall, below which it is lost as past the stall
	drag     func(cd float64) float64 // what becomes of the drag with the flow attached
}

// Where the top of a curve begins, as a part of its maximum: lift below is moved as the
// straight part is. A stalled section no longer knows what it has at its edges this far
// past its stall, rad.
const (
	topBegins = 0.3
	forgotten = 20 * deg
)

// of returns the changed curve: without a change of its top where it has no stall, as nobody knows
// its top. The error says that the change is larger than the top.
func (r reshape) of(c Curve) (Curve, error) {
	peak, most, ok := c.Stall()
	if !ok {
		peak, most = math.Inf(1), math.Inf(1)
	}
	begin := math.NaN() // of the top
	n := len(c.alpha)
	alpha, cl, cd, cm := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	for i, a := range c.alpha {
		k := c.at(a)
		if math.IsNaN(begin) && k.CL >= topBegins*most {
			begin = a
		}
		top, kept := 0.0, 1.0 // how far up to the top, and what is kept past it
		switch {
		case a > peak:
			top, kept = 1, max(0, 1-(a-peak)/forgotten)
		case a < r.below:
			kept = max(0, 1-(r.below-a)/forgotten)
		case a > begin:
			u := (a - begin) / (peak - begin)
			top = u * u * (3 - 2*u)
		}
		alpha[i] = a + r.topAngle*top*kept
		cl[i] = k.CL + (r.lift+(r.topLift-r.lift)*top)*kept
		cd[i] = k.CD + (r.drag(k.CD)-k.CD)*kept
		cm[i] = k.CM + r.moment*kept
	}
	return NewCurve(alpha, cl, cd, cm) // an error where an angle overtook its neighbour
}

// summary returns what becomes of the few values.
func (r reshape) summary(s Summary) Summary {
	s.ZeroLift -= r.lift / s.Slope
	s.MaxLift += r.topLift
	s.MaxAngle += r.topAngle
	s.LeastLift += r.lift
	s.MinDrag = r.drag(s.MinDrag)
	s.Moment += r.moment
	return s
}

// applied returns the section with its curve changed.
func (s Section) applied(r reshape) Section {
	if math.IsNaN(s.MaxLift) {
		r.topLift, r.topAngle = r.lift, 0
	}
	changed, err := r.of(s.Curve)
	if err != nil {
		s.Notes = append(s.Notes[:len(s.Notes):len(s.Notes)], "its curve is too sharp at the top to be changed, and is taken as it is")
		return s
	}
	s.Curve = changed
	s.Summary = r.summary(s.Summary)
	if s.Beside != nil {
		beside := r.summary(*s.Beside)
		s.Beside = &beside
	}
	return s
}

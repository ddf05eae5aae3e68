package aero

import (
	"fmt"
	"math"
)

// The Reynolds numbers between which a published measurement is carried.
const (
	minReynolds = 2e5
	maxReynolds = 1.2e7
)

// highLiftTrend is that of sections made for high lift at low Reynolds numbers, whose shape
// is not known.
var highLiftTrend = trend{power: liftPower - lowPower, turn: noseTurn / 3}

// At returns the section at another Reynolds number. computed is its behaviour from its shape
// at that Reynolds number, for what the publication does not have: the trend of the stall, the
// negative stall, drag, moment. It may be nil: a NACA section is then computed here, and others
// take what is usual.
func (p Published) At(reynolds float64, computed *Section) (Section, error) {
	if reynolds < minReynolds || reynolds > maxReynolds {
		return Section{}, fmt.Errorf("section %s at a Reynolds number of %.2g: published data cover %.0e to %.0e; give a polar of the section at that Reynolds number", p.Name, reynolds, minReynolds, maxReynolds)
	}
	if computed == nil {
		computed = p.fromDigits(reynolds)
	}
	s := Section{Name: p.Name, Reynolds: reynolds, Origin: FromTable, Summary: p.Summary, Transition: "free, on a clean surface",
		thickness: usualThickness, Source: fmt.Sprintf("%s, Re %.1e, %s", p.Source, p.Reynolds, p.Sureness)}
	if p.tripped != "" {
		s.Transition, s.Tripped = p.tripped, true
	}
	s.trend = usualTrend
	switch {
	case computed != nil:
		s.trend, s.thickness = computed.trend, computed.thickness
	case p.highLift:
		s.trend = highLiftTrend
	}
	s.carry(p, computed)
	s.doubt(p)
	drag, err := s.drag(p, computed)
	if err != nil {
		return Section{}, err
	}
	s.Curve, err = curveFrom(s.Summary, s.thickness, drag)
	return s, err
}

// usualThickness is that of a section whose shape is not known, in chords.
const usualThickness = 0.12

// fromDigits is the section computed from its shape, where the name says it.
func (p Published) fromDigits(reynolds float64) *Section {
	n, err := ParseNaca(p.Name)
	if err != nil {
		return nil
	}
	s, err := SectionFromShape(p.Name, n.Outline(80), reynolds)
	if err != nil {
		return nil
	}
	return &s
}

// carried is the lift alone at another Reynolds number: zero lift, slope, and the maximum.
func (p Published) carried(reynolds float64, t trend) Summary {
	s := p.Summary
	s.Slope *= 1 + slopePerDecade*math.Log10(reynolds/p.Reynolds)
	s.MaxLift *= t.lift(p.Reynolds, reynolds)
	s.MaxAngle = stallWithin(s.MaxAngle+t.angle(p.Reynolds, reynolds), s.ZeroLift, s.Slope, s.MaxLift)
	return s
}

// across returns the nearest publication of the section on the other side of a Reynolds number,
// and how much of the way to it that is, in logarithms.
func (p Published) across(reynolds float64) (q Published, part float64, ok bool) {
	way := math.Log(reynolds / p.Reynolds)
	for _, o := range publishedSections {
		there := math.Log(o.Reynolds / p.Reynolds)
		if plainName(o.Name) == plainName(p.Name) && way*(there-way) > 0 && (!ok || math.Abs(there) < math.Abs(way/part)) {
			q, part, ok = o, way/there, true
		}
	}
	return q, part, ok
}

// carry moves the values from the publication's Reynolds number to the section's, between two
// publications in proportion, and fills in the negative stall and the moment.
func (s *Section) carry(p Published, computed *Section) {
	c := p.carried(s.Reynolds, s.trend)
	if q, part, ok := p.across(s.Reynolds); ok {
		o := q.carried(s.Reynolds, s.trend)
		mix := func(a, b float64) float64 { return a + part*(b-a) }
		c.ZeroLift, c.Slope = mix(c.ZeroLift, o.ZeroLift), mix(c.Slope, o.Slope)
		c.MaxLift, c.MaxAngle = mix(c.MaxLift, o.MaxLift), mix(c.MaxAngle, o.MaxAngle)
		s.Source += fmt.Sprintf(", and %s, Re %.1e", q.Source, q.Reynolds)
	}
	s.ZeroLift, s.Slope, s.MaxLift, s.MaxAngle = c.ZeroLift, c.Slope, c.MaxLift, c.MaxAngle
	// The negative stall: the computed one, as much larger or smaller as the maximum is, and as
	// much later than the straight line.
	least, excess := usualLeastLift(p), 1.0
	own := s.MaxAngle - s.ZeroLift - s.MaxLift/s.Slope
	if computed != nil {
		least = computed.LeastLift * s.MaxLift / computed.MaxLift
		up := computed.MaxAngle - computed.ZeroLift - computed.MaxLift/computed.Slope
		down := computed.ZeroLift - computed.LeastAngle + computed.LeastLift/computed.Slope
		excess = down / max(up, 0.5*deg)
	}
	s.LeastLift = least
	s.LeastAngle = -stallWithin(-s.ZeroLift-least/s.Slope+own*excess, -s.ZeroLift, s.Slope, -least)
	if math.IsNaN(s.Moment) {
		s.Moment = 0
		if computed != nil {
			s.Moment = computed.Moment
			s.Notes = append(s.Notes, "moment computed from the shape, the publication has none")
		}
	}
	if math.Abs(s.MaxLift/p.MaxLift-1) > 0.005 {
		s.Notes = append(s.Notes, fmt.Sprintf("maximum cl %.2f at Re %.1e is carried to %.2f ± %.2f at Re %.1e", p.MaxLift, p.Reynolds, s.MaxLift,
			s.MaxLift*p.liftStdUnc(s.Reynolds), s.Reynolds))
	}
}

// usualLeastLift is the least lift of a section whose shape is not known.
// Source: what is computed for NACA 0012, 2412, 4412 and 6412 and for S1223, within 0.2.
func usualLeastLift(p Published) float64 { return min(-1.3-0.1*p.ZeroLift/deg, -0.3) }

// Transition fixed in the tunnel makes a section stall later than it does by itself, or earlier:
// that much less sure are maximum lift, as a fraction, and its angle, rad.
// Source: the NACA 0012 of TM 4074, tripped, against TN 3361 and Report 824, free.
const (
	trippedLiftStdUnc  = 0.05
	trippedAngleStdUnc = 2 * deg
)

// liftStdUnc is the standard uncertainty of the maximum lift, carried, as a fraction.
func (p Published) liftStdUnc(reynolds float64) float64 {
	way := math.Abs(math.Log(reynolds / p.Reynolds))
	if _, part, ok := p.across(reynolds); ok {
		way *= 1 - part // known at both ends
	}
	u := math.Hypot([...]float64{0.03, 0.035, 0.045}[p.Sureness], powerStdUnc*way)
	if p.tripped != "" {
		u = math.Hypot(u, trippedLiftStdUnc)
	}
	return u
}

// doubt sets the standard uncertainties: those of the publication, more the further it is carried.
func (s *Section) doubt(p Published) {
	decades := math.Abs(math.Log10(s.Reynolds / p.Reynolds))
	s.ZeroLiftStdUnc = [...]float64{0.2, 0.25, 0.25}[p.Sureness] * deg
	s.SlopeStdUnc = math.Hypot([...]float64{0.02, 0.025, 0.03}[p.Sureness], 0.03*decades)
	s.MaxLiftStdUnc = p.liftStdUnc(s.Reynolds)
	s.MaxAngleStdUnc = math.Hypot([...]float64{0.7, 0.8, 1.0}[p.Sureness]*deg, turnStdUnc*decades)
	if p.tripped != "" {
		s.MaxAngleStdUnc = math.Hypot(s.MaxAngleStdUnc, trippedAngleStdUnc)
	}
	s.DragStdUnc = computedDragStdUnc
	if p.drag != nil {
		s.DragStdUnc = math.Hypot(0.05, 0.12*decades)
	}
}

// drag returns the profile drag over lift: published, computed from the shape, or a parabola about
// the least drag. All are stretched to the section's maximum.
func (s *Section) drag(p Published, computed *Section) (func(cl float64) float64, error) {
	scale := math.Pow(s.Reynolds/p.Reynolds, dragPower)
	var fromShape func(float64) float64
	if computed != nil {
		fromShape = computed.dragUpTo(s.MaxLift)
		s.MinDrag = computed.MinDrag
	}
	if !math.IsNaN(p.MinDrag) {
		s.MinDrag = p.MinDrag * scale
	}
	switch {
	case p.drag != nil:
		stretch := s.MaxLift / p.MaxLift
		cl, cd := make([]float64, len(p.drag)), make([]float64, len(p.drag))
		for i, d := range p.drag {
			cl[i], cd[i] = d[0]*stretch, d[1]*scale
		}
		along := dragAlong(cl, cd)
		return func(l float64) float64 {
			switch {
			case l >= cl[0]:
				return along(l)
			case fromShape != nil:
				return cd[0] * fromShape(l) / fromShape(cl[0])
			}
			return cd[0] + parabolaRise*square(cl[0]-l)
		}, nil
	case computed != nil:
		s.Notes = append(s.Notes, "profile drag computed from the shape")
		part := s.MinDrag / computed.MinDrag
		return func(l float64) float64 { return part * fromShape(l) }, nil
	case math.IsNaN(p.MinDrag):
		return nil, fmt.Errorf("section %s: no drag is published with it: its coordinates or a polar are needed", p.Name)
	}
	return parabola(s.MinDrag, 0.3*s.MaxLift, parabolaRise), nil
}

// parabolaRise is by how much profile drag grows with the square of lift, away from its least.
const parabolaRise = 0.006

// dragUpTo returns the section's profile drag over lift, stretched so that it ends at
// another maximum.
func (s Section) dragUpTo(maxLift float64) func(cl float64) float64 {
	var cl, cd []float64
	for a, k := range s.Curve.Points() {
		if a < s.LeastAngle-rounding || a > s.MaxAngle+rounding {
			continue
		}
		if len(cl) == 0 || k.CL > cl[len(cl)-1]+1e-6 {
			cl, cd = append(cl, k.CL), append(cd, k.CD)
		}
	}
	drag, stretch := Straight(cl, cd), s.MaxLift/maxLift
	return func(l float64) float64 { return drag(l * stretch) }
}

package aero

import (
	"fmt"
	"math"
)

// SectionFromShape works out a section's curve from its outline at a Reynolds
// number: inviscid flow by panels on a spline through the points, boundary layers
// by integral methods on its pressures, and from those zero lift, slope, drag and
// the maximum lift of both sides. The points are taken as exact; how many there are
// does not matter. The standard uncertainties are the spread of published values about it.
func SectionFromShape(name string, outline []Vec, reynolds float64) (Section, error) {
	s := Section{Name: name, Reynolds: reynolds, Origin: Computed, Transition: "free, on a clean surface in air with 0.1 % of turbulence",
		Source: "panel method and integral boundary layer", ZeroLiftStdUnc: computedZeroStdUnc, SlopeStdUnc: computedSlopeStdUnc(reynolds),
		MaxLiftStdUnc: computedLiftStdUnc, MaxAngleStdUnc: computedAngleStdUnc, DragStdUnc: computedDragStdUnc}
	if reynolds < 1e5 || reynolds > 5e7 {
		return s, fmt.Errorf("section %s at a Reynolds number of %.2g: computed from 1e5 to 5e7; a polar is needed", name, reynolds)
	}
	p, err := panelsOf(outline)
	if err != nil {
		return s, err
	}
	f := formOf(p.nodes)
	if f.thickness < 0.02 || f.thickness > 0.4 {
		return s, fmt.Errorf("section %s is %.0f %% thick: sections of 2 to 40 %% can be computed", name, 100*f.thickness)
	}
	s.ZeroLift = zeroLiftPart * p.ZeroLift()
	if s.ZeroLift > 1*deg {
		return s, fmt.Errorf("section %s has its zero lift at %.1f°: it lifts the other way up; its lifting side comes first", name,
			s.ZeroLift/deg)
	}
	s.Slope = f.efficiency(reynolds) * slopeOf(p)
	s.Moment = p.moment(f.efficiency(reynolds))
	s.thickness = f.thickness
	s.MaxLift, s.MaxAngle, s.trend = p.top(f, s.ZeroLift, s.Slope, reynolds)
	m := p.mirrored()
	below := f
	below.rear = -f.rear
	lift, angle, _ := m.top(below, -s.ZeroLift, s.Slope, reynolds)
	if lift < leastLower {
		lift, angle = leastLower, stallWithin(angle, -s.ZeroLift, s.Slope, leastLower)
	}
	s.LeastLift, s.LeastAngle = -lift, -angle
	drag := p.dragOver(s.Summary, reynolds)
	s.MinDrag = math.Inf(1)
	for cl := s.LeastLift; cl < s.MaxLift; cl += 0.02 {
		s.MinDrag = min(s.MinDrag, drag(cl))
	}
	s.Curve, err = curveFrom(s.Summary, s.thickness, drag)
	return s, err
}

// The standard uncertainties of what is computed from a shape, as fractions, and rad for angles.
// Source: the spread of the published values of TestAgainstPublished about it; between 60 and
// 82 % of them lie within one, and more than 92 % within two.
const (
	computedZeroStdUnc  = 0.25 * deg
	computedLiftStdUnc  = 0.06
	computedAngleStdUnc = 1.4 * deg
	computedDragStdUnc  = 0.16
)

// computedSlopeStdUnc is that of the slope: larger at low Reynolds numbers, where laminar
// bubbles bend the straight part.
func computedSlopeStdUnc(reynolds float64) float64 {
	return math.Hypot(0.02, 0.025*max(math.Log10(9e6/reynolds), 0))
}

// leastLower is the least that the lower side lifts: with much camber its nose has stalled
// before zero lift, and it then lifts like a plate.
const leastLower = 0.3

// zeroLiftPart is the part of the inviscid zero-lift angle that sections have: the layers'
// unequal thickness takes a little camber away.
// Source: fitted by us to forty published values, mean error 0.2°.
const zeroLiftPart = 0.91

// panelsOf solves the flow about an outline with points anywhere on it.
func panelsOf(outline []Vec) (*Panels, error) {
	nodes, err := closed(outline)
	if err != nil {
		return nil, err
	}
	if nodes, err = repanel(nodes, panelsOfShape); err != nil {
		return nil, err
	}
	return NewPanels(nodes)
}

// top returns the maximum lift of the upper side, its angle of attack in rad, and how they
// move with the Reynolds number.
func (p *Panels) top(f form, zero, slope, reynolds float64) (lift, angle float64, t trend) {
	st := p.stall(f)
	lift = st.maxLift(f, reynolds)
	angle = st.angle(f, zero, f.efficiency(stallReynolds)*slopeOf(p), reynolds)
	return lift, stallWithin(angle, zero, slope, lift), f.trend(st.share)
}

// mirrored is the flow about the section turned upside down.
func (p *Panels) mirrored() *Panels {
	n := len(p.nodes)
	m := &Panels{nodes: make([]Vec, n), along: make([]float64, n), basis0: make([]float64, n), basis1: make([]float64, n)}
	for i := range n {
		k := n - 1 - i
		m.nodes[i] = Vec{p.nodes[k].X, -p.nodes[k].Y}
		m.along[i] = p.along[n-1] - p.along[k]
		m.basis0[i], m.basis1[i] = -p.basis0[k], p.basis1[k]
	}
	return m
}

// dragOver returns the profile drag over lift between the least and the maximum lift: of both
// layers at the inviscid angle of attack that has the lift, so that its pressures are about
// those of the real flow.
//
// Towards the stall more is added, up to half as much again at the maximum: the layers do not
// know of the wake that grows. Source: fitted by us to NASA TM 4074 (0012) and the low-speed
// measurements of the NACA 2414 and FX 63-137.
func (p *Panels) dragOver(s Summary, reynolds float64) func(cl float64) float64 {
	const steps = 24
	cl, cd := make([]float64, steps+1), make([]float64, steps+1)
	OnAll(steps+1, func(i int) {
		cl[i] = s.LeastLift + (s.MaxLift-s.LeastLift)*float64(i)/steps
		cd[i] = p.dragAt(cl[i], s, reynolds, 1)
	})
	return dragAlong(cl, cd)
}

// dragAt is dragOver at one lift, for layers that are turbulent from trip on at the latest.
func (p *Panels) dragAt(cl float64, s Summary, reynolds float64, trip Trip) float64 {
	upper, lower := p.Layers(p.angleOfLift(cl), reynolds, trip)
	near := max(cl/s.MaxLift, cl/s.LeastLift)
	return (upper.drag() + lower.drag()) * (1 + stallDrag*square(max(near-0.6, 0)/0.4))
}

const stallDrag = 0.5

func square(x float64) float64 { return x * x }

// angleOfLift returns the inviscid angle of attack of a lift, rad.
func (p *Panels) angleOfLift(cl float64) float64 {
	// Lift is A cos α + B sin α exactly.
	a, _ := p.Lift(0)
	b, _ := p.Lift(math.Pi / 2)
	return math.Asin(min(max(cl/math.Hypot(a, b), -1), 1)) + p.ZeroLift()
}

// moment returns the moment about the quarter chord near zero lift, which the
// layers reduce as they do the lift.
func (p *Panels) moment(efficiency float64) float64 {
	_, cm := p.Lift(p.ZeroLift())
	return efficiency * cm
}

// slopeOf returns the inviscid lift slope about zero lift, per rad.
func slopeOf(p *Panels) float64 {
	z := p.ZeroLift()
	up, _ := p.Lift(z + deg)
	return up / deg
}

// form is what a section's outline comes down to for the losses.
type form struct {
	thickness float64 // largest, in chords
	wedge     float64 // tangent of half the angle of the trailing edge, from 90 to 99 % of the chord
	rear      float64 // slope of the mean line over the last tenth, downwards positive
}

// formOf measures an outline.
func formOf(nodes []Vec) form {
	upper, lower := sides(nodes)
	var f form
	for i := range 100 {
		x := float64(i) / 100
		f.thickness = max(f.thickness, upper(x)-lower(x))
	}
	mean := func(x float64) float64 { return (upper(x) + lower(x)) / 2 }
	f.rear = (mean(0.9) - mean(0.999)) / 0.099
	f.wedge = (upper(0.9) - lower(0.9) - upper(0.99) + lower(0.99)) / (2 * 0.09)
	return f
}

// efficiency is the part of the inviscid lift slope that the section reaches: less with a
// thick trailing edge, whose layers are thick, and with a mean line that falls off steeply.
//
// Source: the quantities are those of USAF DATCOM sec. 4.1.1.2; fitted by us to 42 published
// slopes, 2e5 to 9e6, mean error 1.8 %, standard deviation 2.5 %.
func (f form) efficiency(reynolds float64) float64 {
	return 1.01 - 0.91*f.wedge - 0.73*square(max(f.rear, 0)) - slopePerDecade*math.Log10(9e6/reynolds)
}

// sides returns the height of the upper and the lower side over x, by straight
// lines between nodes.
func sides(nodes []Vec) (upper, lower func(float64) float64) {
	lead := 0
	for i, v := range nodes {
		if v.X < nodes[lead].X {
			lead = i
		}
	}
	side := func(from, step int) func(float64) float64 {
		return func(x float64) float64 {
			for i := from; i+step >= 0 && i+step < len(nodes); i += step {
				a, b := nodes[i], nodes[i+step]
				if b.X >= x {
					if b.X == a.X {
						return a.Y
					}
					return a.Y + (x-a.X)/(b.X-a.X)*(b.Y-a.Y)
				}
			}
			return 0
		}
	}
	return side(lead, -1), side(lead, 1)
}

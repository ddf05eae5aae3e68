package aero

import (
	"fmt"
	"math"
)

// SectionFromShape works out a section's curve from its outline at a Reynolds
// number: inviscid flow by panels, boundary layers by integral methods on its
// pressures, and from those drag, loss of lift and separation.
//
// Against measurements of four- and five-digit sections at 1e6 to 9e6: lift
// slope within 3 %, drag below the stall within 15 %, largest lift within 0.1.
// Below 5e5 laminar separation bubbles, which it treats as points, count more
// and it is less sure.
func SectionFromShape(name string, outline []Vec, reynolds float64) (Section, error) {
	s := Section{Name: name, Reynolds: reynolds, Origin: Computed,
		Source:         "panel method and integral boundary layer",
		ZeroLiftStdUnc: 0.4 * deg, SlopeStdUnc: 0.04, MaxLiftStdUnc: 0.11}
	if reynolds < 1e5 || reynolds > 5e7 {
		return s, fmt.Errorf("section %s at a Reynolds number of %.2g: computed from 1e5 to 5e7; a polar is needed", name, reynolds)
	}
	panels, err := NewPanels(outline)
	if err != nil {
		return s, err
	}
	form := formOf(panels.nodes)
	v := viscous{panels, reynolds, efficiency(form.thickness, reynolds), form.exponent()}
	s.ZeroLift = panels.ZeroLift() + v.layerShift()
	s.Slope = v.factor * slopeOf(panels)
	s.Moment = v.moment()
	var alpha, cl, cd, cm []float64
	s.MinDrag, s.MaxLift = math.Inf(1), math.Inf(-1)
	if form.thickness < 0.02 || form.thickness > 0.4 {
		return s, fmt.Errorf("section %s is %.0f %% thick: sections of 2 to 40 %% can be computed", name, 100*form.thickness)
	}
	if s.ZeroLift > 1*deg {
		return s, fmt.Errorf("section %s has its zero lift at %.1f°: it lifts the other way up; its lifting side comes first", name,
			s.ZeroLift/deg)
	}
	var angles []float64
	for a := s.ZeroLift - belowZeroLift; a < 28*deg; a += sectionStep {
		angles = append(angles, a)
	}
	for i, k := range v.all(angles, s.ZeroLift) {
		a := angles[i]
		alpha, cl, cd, cm = append(alpha, a), append(cl, k.CL), append(cd, k.CD), append(cm, s.Moment)
		if s.MinDrag > k.CD {
			s.MinDrag = k.CD
		}
		if k.CL > s.MaxLift {
			s.MaxLift, s.MaxAngle = k.CL, a
		}
		if s.MaxLift > 0 && k.CL < 0.97*s.MaxLift {
			break
		}
	}
	// From the top on, Viterna's curve.
	top := len(alpha) - 1
	for top > 0 && alpha[top] > s.MaxAngle {
		top--
	}
	post := Viterna(alpha[top], cl[top], cd[top], stalledAspect)
	alpha, cl, cd, cm = alpha[:top+1], cl[:top+1], cd[:top+1], cm[:top+1]
	for a := alpha[top] + sectionStep; a <= lastAngle; a += sectionStep {
		l, d := post(a)
		alpha, cl, cd, cm = append(alpha, a), append(cl, l), append(cd, d), append(cm, s.Moment)
	}
	s.Curve, err = NewCurve(alpha, cl, cd, cm)
	return s, err
}

// viscous is the inviscid flow with what its boundary layers take away.
type viscous struct {
	*Panels
	reynolds float64
	factor   float64 // part of the inviscid slope that is reached
	exponent float64 // of the loss by separation
}

// all is at for many angles, on all processors: each is on its own.
func (v viscous) all(angles []float64, zero float64) []Coefficients {
	ks := make([]Coefficients, len(angles))
	onAll(len(angles), func(i int) { ks[i] = v.at(angles[i], zero) })
	return ks
}

// at returns the coefficients at an angle of attack: the inviscid lift, less
// the general loss of slope, less what separation at the rear takes.
//
// Source: Kirchhoff's flow past a plate that separates at f chords keeps
// ((1+√f)/2)² of its lift (B. Thwaites, "Incompressible Aerodynamics" (1960);
// J. G. Leishman and T. S. Beddoes, J. Amer. Helicopter Soc. 34 (1989)).
// Sections whose mean line bends down at the rear lose more, since the part of
// the line that is lost carries the most lift: the factor is raised to a power
// that grows with the mean line's slope at the trailing edge, fitted by us to
// the largest lifts of NACA 2412, 4412, 4418, 23012 at 9e6 and 4415 at 1e6.
func (v viscous) at(alpha, zero float64) Coefficients {
	upper, lower := v.Layers(alpha, v.reynolds, 1)
	inviscid, _ := v.Lift(v.ZeroLift() + alpha - zero)
	f := upper.Separation
	if alpha < zero {
		f = lower.Separation
	}
	kept := math.Pow((1+math.Sqrt(f))/2, 2*v.exponent)
	return Coefficients{CL: v.factor * inviscid * kept, CD: upper.drag() + lower.drag()}
}

// layerShift returns by how much the layers' unequal thickness moves the angle
// of zero lift, rad: they take a little camber away.
// Source: fitted by us to DATCOM's rows and NREL's 4415: zero lift lies at 0.955
// of the inviscid angle for cambered sections, within 0.3°.
func (v viscous) layerShift() float64 { return -0.045 * v.ZeroLift() }

// moment returns the moment about the quarter chord near zero lift, which the
// layers reduce as they do the lift.
func (v viscous) moment() float64 {
	_, cm := v.Lift(v.ZeroLift())
	return v.factor * cm
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
	rear      float64 // slope of the mean line over the last tenth, downwards positive
}

// exponent returns the power of Kirchhoff's factor.
func (f form) exponent() float64 { return 1 + min(max(18*f.rear, 0), 2.5) }

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
	return f
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

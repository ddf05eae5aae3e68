package strength

import (
	"fmt"
	"math"

	"stanchion/holes"
	"stanchion/model"
)

// plate is a part as strength sees it.
type plate struct {
	index    int
	part     *model.Part
	t        float64 // mm; NaN when not given
	known    bool    // its material is
	material material
	area     float64     // mm², of its outline; 0 without one
	middle   holes.Point // of its area, mm, in its own frame
	sections []section   // along it, of a plate between two joints; nil when they cannot be had
	least    section     // the narrowest of them, without holes
	along    holes.Point // the unit vector from its lower bolts to its upper ones
	origin   holes.Point // the middle of the holes for its lower bolts
	length   float64     // mm between the middles of its lower and upper bolts
}

func (p plate) thick() float64 {
	if math.IsNaN(p.t) {
		return 0
	}
	return p.t
}

// sound reports whether the plate's strength is known.
func (p plate) sound() bool { return p.known && !math.IsNaN(p.t) }

// newPlate takes a part and notes what is missing for it.
func (f *Frame) newPlate(i int) (plate, error) {
	part := &f.Car.Parts[i]
	p := plate{index: i, part: part, t: part.Thickness}
	if why := template(part.Material); why != "" {
		return p, errRefused{part.Name, why}
	}
	wing := i == len(f.Car.Parts)-1
	note := func(what, without string) {
		if !wing {
			f.missing(fmt.Sprintf("part %q: %s", part.Name, what), without)
		}
	}
	var why string
	switch {
	case part.Material == "":
		note("material", "its strength is not checked")
	default:
		if p.material, why = lookup(part.Material, part.Thickness); why != "" {
			note(why, "its strength is not checked")
		}
		p.known = why == ""
	}
	if p.known && part.Welded {
		if p.material, p.known = p.material.beside(); !p.known {
			note(p.material.Name+" must not be welded", "its strength is not checked")
		}
	}
	if math.IsNaN(part.Thickness) {
		note("thickness", "its strength is not checked")
	}
	if part.Outline == nil {
		note("outline", "edge distances, tear-out and its sections are not checked")
		return p, nil
	}
	p.area, p.middle = areaOf(part.Outline)
	if i > 0 && !wing {
		p.cut(f.Car)
	}
	return p, nil
}

// areaOf returns a polygon's area, mm², and its middle.
func areaOf(outline []holes.Point) (float64, holes.Point) {
	var twice float64
	var c holes.Point
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		cross := a.X*b.Z - b.X*a.Z
		twice += cross
		c.X += (a.X + b.X) * cross
		c.Z += (a.Z + b.Z) * cross
	}
	if twice == 0 {
		return 0, outline[0]
	}
	return math.Abs(twice) / 2, holes.Point{X: c.X / (3 * twice), Z: c.Z / (3 * twice)}
}

// plateChecks reports what a part between two joints bears: above is the joint at
// its head, below the one at its foot.
func (f *Frame) plateChecks(part int, below, above *Body, report func(Check)) {
	p := &f.plates[part]
	if !p.sound() || len(p.sections) == 0 {
		return
	}
	m := p.material
	check := func(what string, at, demand, capacity float64, unit, source string) {
		report(Check{What: what, Part: p.part.Name, Station: at, Demand: demand, Capacity: capacity, Unit: unit, Source: source})
	}
	head := p.local(above)
	column, lateral := max(0, -head.along)/p.columnCapacity(), p.lateralLoad(head)
	unstable := column + lateral
	check("column buckling", math.NaN(), max(0, -head.along), p.columnCapacity()/m.factor, "N", "Timoshenko and Gere 2.1: π²EI/(2L)², foot fixed, head free")
	check("lateral-torsional buckling", math.NaN(), lateral, 1/m.factor, "", "Timoshenko and Gere 6.2, 6.3: 4.013 √(EI·GJ)/L² and π √(EI·GJ)/(2L), foot fixed, head free")
	forces := p.forces(below, above)
	var bend, slide Check
	for i := range p.sections {
		s := &p.sections[i]
		for _, own := range [2]bool{true, false} { // with and without the bolts of this row
			in, ok := s.internal(forces, head, own)
			if !ok {
				continue
			}
			sigma, tau := s.stress(in, p.t, unstable)
			limit := m.proof / m.factor
			if s.width < s.gross {
				limit = min(limit, m.ultimate/boltFactor)
			}
			worse(&bend, Check{What: "net-section bending", Part: p.part.Name, Station: s.at, Demand: sigma, Capacity: limit, Unit: "MPa", Source: bendingSource})
			worse(&slide, Check{What: "net-section shear and twist", Part: p.part.Name, Station: s.at, Demand: tau, Capacity: m.proof / m.factor / math.Sqrt(3), Unit: "MPa", Source: shearSource})
		}
	}
	for _, c := range [2]Check{bend, slide} {
		if c.What != "" {
			report(c)
		}
	}
}

const (
	bendingSource = "EN 1999-1-1 6.2.5, EN 1993-1-1 6.2.5: elastic, both ways and along"
	shearSource   = "EN 1999-1-1 6.2.6, EN 1993-1-1 6.2.6"
)

// worse keeps the worse of two checks.
func worse(worst *Check, c Check) {
	if worst.What == "" || c.Utilisation() > worst.Utilisation() {
		*worst = c
	}
}

// slender is what a plate's buckling hangs on.
func (p *plate) slender() (ei, gj float64) {
	b, t := p.least.width, p.t
	return p.material.elastic * b * t * t * t / 12, p.material.shear * torsion(b, t)
}

// torsion returns Saint-Venant's torsion constant of a flat bar, mm⁴: b t³/3
// (1 - 0.63 t/b), for t below half of b. Source: S. P. Timoshenko and J. N.
// Goodier, "Theory of Elasticity" (1951), art. 94.
func torsion(b, t float64) float64 {
	if t > b {
		b, t = t, b
	}
	return b * t * t * t / 3 * max(1-0.63*t/b, 0.4217)
}

// columnCapacity is the load along the plate, N, that buckles it sideways as a
// column whose foot is fixed and whose head is free, π²EI/(2L)².
// Source: S. P. Timoshenko and J. M. Gere, "Theory of Elastic Stability" (1961),
// art. 2.1.
func (p *plate) columnCapacity() float64 {
	ei, _ := p.slender()
	return math.Pi * math.Pi * ei / (4 * p.length * p.length)
}

// lateralLoad is the load across the plate over what turns it over sideways: a
// force at the tip of a narrow cantilever, 4.013 √(EI·GJ)/L², and a moment there,
// π √(EI·GJ)/(2L), added up. The narrowest width counts all along.
// Source: as columnCapacity, art. 6.2 and 6.3.
func (p *plate) lateralLoad(head headLoad) float64 {
	ei, gj := p.slender()
	root := math.Sqrt(ei * gj)
	return math.Abs(head.across)/(tipCoefficient*root/(p.length*p.length)) + math.Abs(head.turn)/(math.Pi*root/(2*p.length))
}

// tipCoefficient is twice the first zero of the Bessel function J(-1/4).
// Source: Timoshenko and Gere (1961), art. 6.3: 4.013.
const tipCoefficient = 4.0126

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
	at := inverse.Apply(holes.Point{X: l.At.X, Z: l.At.Z})
	turned := holes.Pose{Turn: inverse.Turn}
	force := turned.Apply(holes.Point{X: l.Rear, Z: l.Up})
	moment := turned.Apply(holes.Point{X: l.Roll, Z: l.Yaw})
	s, v := p.station(at)
	return headLoad{
		along: force.X*p.along.X + force.Z*p.along.Z, across: force.X*p.along.Z - force.Z*p.along.X, turn: l.Turn, side: l.Side,
		twist: moment.X*p.along.X + moment.Z*p.along.Z, tilt: moment.X*p.along.Z - moment.Z*p.along.X,
		station: s, offset: v,
	}
}

// station returns where a point of a part lies along the plate and across it, to
// the right of its direction.
func (p *plate) station(u holes.Point) (s, v float64) {
	d := holes.Point{X: u.X - p.origin.X, Z: u.Z - p.origin.Z}
	return d.X*p.along.X + d.Z*p.along.Z, d.X*p.along.Z - d.Z*p.along.X
}

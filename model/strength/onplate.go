package strength

import (
	"math"

	"stanchion/holes/plane"
	"stanchion/model/fem"
	"stanchion/model/sheet"
)

// outOfPlumb is how far a plate leans to start with: its load across the plane is more by this
// part of its load in it. Source: EN 1993-1-1:2005 5.3.2, 1/200.
const outOfPlumb = 1.0 / 200

// onPlate is what a part bears in a load case, in its own frame: at its head what the joint there
// brings in, on the arms on which it stands, and its own weight and side air.
func (f *Analysis) onPlate(st stance, k loadCase, part int, bodies []Body) fem.Load {
	above := &bodies[len(bodies)-part-1]
	inverse := st.poses[part].Inverse()
	turned := plane.Pose{Turn: inverse.Turn}
	force := turned.Apply(plane.Point{X: above.Rear, Z: above.Up})
	moment := turned.Apply(plane.Point{X: above.Roll, Z: above.Yaw})
	head := inverse.Apply(plane.Point{X: above.At.X, Z: above.At.Z})
	l := fem.Load{Load: sheet.Load{At: head, X: force.X, Z: force.Z, Turn: above.Turn, Side: above.Side, MX: moment.X, MZ: moment.Z}}
	lean := math.Hypot(force.X, force.Z) * outOfPlumb
	if l.Side < 0 {
		lean = -lean
	}
	l.Side += lean
	stands := func(a Applied) {
		at := inverse.Apply(plane.Point{X: a.At.X, Z: a.At.Z})
		l.Stands(turned.Apply(plane.Point{X: a.Rear, Z: a.Up}), at.Sub(head))
	}
	for _, a := range f.wingLoads(st.row, k, 0) {
		stands(a)
	}
	for i := range bodies {
		if bodies[i].Joint >= part {
			for _, a := range bodies[i].Own {
				stands(a)
			}
		}
	}
	for _, a := range f.ownLoads(st, k, part) {
		own := turned.Apply(plane.Point{X: a.Rear, Z: a.Up})
		l.OwnX += own.X
		l.OwnZ += own.Z
		l.OwnSide += a.Side
	}
	return l
}

// boltPlaces are where the bolts of a part's two ends sit in its own frame: of its foot, none for a
// fixed part that is held along a line, and of its head.
func (st stance) boltPlaces(f *Analysis, part int) (foot, head []plane.Point) {
	holes := f.Car.Parts[part].Holes
	if part > 0 {
		for _, p := range st.row.Fits[part-1].Pairs {
			foot = append(foot, holes[p.Upper].At())
		}
	} else {
		foot = f.chassisPlaces()
	}
	for _, p := range st.row.Fits[part].Pairs {
		head = append(head, holes[p.Lower].At())
	}
	return foot, head
}

// parts are the chords that separate a plate's head from what holds it, in a setting.
func (f *Analysis) parts(st stance, part int) []sheet.Parted {
	p := &f.plates[part]
	foot, head := st.boltPlaces(f, part)
	if len(foot) > 0 {
		return p.metal.parted(foot, head)
	}
	// What the line up to which the car holds the plate cuts off is its support.
	const above = 1e-3 // mm
	line := p.metal.shape.Level(p.held + above)
	for i := range line {
		foot = append(foot, line[i].At(above), line[i].Centre(), line[i].At(line[i].Length()-above))
	}
	all := p.metal.parted(foot, head)
	root := p.metal.shape.Level(p.held + 2*above)
	for i := range root {
		if c, ok := p.metal.shape.Part(&root[i], foot, head); ok {
			all = append(all, c)
		}
	}
	return all
}

// equilibrium reports the largest stress that a plate bears for equilibrium alone, on the straight
// lines from edge to edge that separate its head from its foot: no solution can have less.
func (f *Analysis) equilibrium(st stance, k loadCase, part int, bodies []Body, report func(Check)) {
	p := &f.plates[part]
	if !p.sound() || p.metal == nil {
		return
	}
	if st.chords[part] == nil {
		st.chords[part] = f.parts(st, part)
	}
	load := f.onPlate(st, k, part, bodies)
	var worst Check
	for i := range st.chords[part] {
		c := &st.chords[part][i]
		check := p.onChord(c.Chord, borneOn(c, c.Bear(load.Load, p.area), p.t))
		if worst.What == "" || check.Utilisation() > worst.Utilisation() {
			worst = check
		}
	}
	if worst.What != "" {
		worst.What = equilibriumStress
		report(worst)
	}
}

// borneOn is the stress on a chord of what it has to bear. Legs on both sides of a wide opening bear twist by
// bending against one another too, which equilibrium does not tell: of such chords the twist is the solver's.
func borneOn(c *sheet.Parted, cut sheet.Cut, t float64) sheet.Stress {
	if c.Length()-c.Width > c.Width/2 {
		cut.Twist = 0
	}
	return c.Stress(cut, t)
}

// What the stresses of a plate are called.
const (
	equilibriumStress = "stress by equilibrium"
	plateStress       = "plate stress"
	PlateBuckling     = "plate buckling"
)

// localFactor is how much more of a bolt hole's ligament may bear with its own bending in the
// plane, which gives way without harm: the shape factor of a rectangle.
const localFactor = 1.5

// onChord compares the stress on a chord with what the metal along it may bear.
func (p *plate) onChord(c *sheet.Chord, s sheet.Stress) Check {
	m := p.at(c.A, c.B)
	limit := m.Proof / m.factor
	demand := s.Equivalent()
	if p.metal.shape.BesideRound(c) {
		without := s
		without.Turn = 0
		demand = max(demand/localFactor, without.Equivalent())
	}
	if net := netShare * m.Ultimate / boltFactor; !c.Gross() && math.Abs(s.Mean)/net > demand/limit {
		demand, limit = math.Abs(s.Mean), net
	}
	return Check{What: plateStress, Part: p.part.Name, Station: math.NaN(), Line: [2]plane.Point{c.A, c.B}, Demand: demand, Capacity: limit,
		Unit: "MPa", Source: linearised}
}

const linearised = "EN 1999-1-1 6.2.1(5) and 6.2.3, EN 1993-1-1 6.2.1(5), stress linearised across the section as in EN 13445-3 Annex C"

// Drawn returns the metal of a part below the wing in its own frame, and where the bolts of a setting
// sit in it; the shape is nil where the part's outline is not known.
func (f *Analysis) Drawn(r Result, part int) (shape *sheet.Shape, bolts []plane.Point) {
	if f.plates[part].metal == nil {
		return nil, nil
	}
	foot, head := f.stance(r.Row).boltPlaces(f, part)
	return f.plates[part].metal.shape, append(foot, head...)
}

package strength

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/sheet"
)

// plate is a part as strength sees it.
type plate struct {
	index    int
	part     *model.Part
	t        float64 // mm; NaN when not given
	known    bool    // its material is
	material Material
	area     float64     // mm², of its outline less its cut-outs; 0 without one
	middle   plane.Point // of its area, mm, in its own frame
	bores    []bore      // its holes and slots as openings
	near     [][]int     // of each hole, the others that count for it
	sections []section   // along it, from below up; nil when they cannot be had
	frame    plane.Frame // its stations count along it, from its lower bolts to its upper ones
	held     float64     // of the fixed part: the station up to which the car holds it
	metal    *metal      // as drawn; nil without an outline, and of the wing
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
func (f *Analysis) newPlate(i int) (plate, error) {
	part := &f.Car.Parts[i]
	p := plate{index: i, part: part, t: part.Thickness.Value(), near: neighbours(part.Holes)}
	if why := template(part.Material); why != "" {
		return p, errRefused{part.Name, why}
	}
	wing := i == len(f.Car.Parts)-1
	note := func(what, without, short string) {
		if !wing {
			f.missing(fmt.Sprintf("part %q: %s", part.Name, what), without)
			f.open(part.Name, short)
		}
	}
	var why string
	switch {
	case part.Material == "":
		note("material", "its strength is not checked", "material not given")
	default:
		if p.material, why = lookup(part.Material, part.Thickness.Value()); why != "" {
			note(why, "its strength is not checked", "material not known")
		}
		p.known = why == ""
	}
	if p.known && part.Welded && len(part.WeldLine) == 0 {
		if p.material, p.known = p.material.beside(); !p.known {
			note(p.material.Name+" must not be welded", "its strength is not checked", "material not to be welded")
		}
	}
	if p.known && len(part.WeldLine) > 0 && p.material.weldProof == 0 {
		p.known = false
		note(p.material.Name+" must not be welded", "its strength is not checked", "material not to be welded")
	}
	if !part.Thickness.Known() {
		note("thickness", "its strength is not checked", "thickness not given")
	}
	if part.Outline == nil {
		note("outline", "edge distances, tear-out and its sections are not checked", "outline not given")
		return p, nil
	}
	if part.BorderLike() && !wing {
		f.missing(fmt.Sprintf("part %q: outline", part.Name), "it is a rectangle far around all holes, as the border of a drawing is; give the part's own")
		f.open(part.Name, "its outline looks like a drawing's border")
	}
	p.area, p.middle = part.Area()
	switch {
	case wing || p.area < 1:
	case i > 0:
		p.cut(f.Car)
		p.metal = newMetal(part, sheet.NoFloor)
	default:
		p.held = part.Held.Value()
		floor := p.held
		switch {
		case len(f.chassisHoles) > 0:
			p.held, floor = plane.Centroid(f.chassisPlaces()).Z, sheet.NoFloor
		case math.IsNaN(p.held):
			lo, _ := plane.Box(part.Outline)
			p.held, floor = lo.Z, lo.Z
			f.Assumed = append(f.Assumed, model.Assumption{What: "part " + part.Name + " held by the car", Value: "at its lower edge",
				Note: "worst case; set by held, the height up to which the car supports it"})
		}
		p.frame = plane.Level
		p.slice()
		p.metal = newMetal(part, floor)
	}
	return p, nil
}

// farHole is how many diameters away a hole no longer weakens another: bearing asks
// for 3.75 at most.
const farHole = 4

// neighbours lists for each hole the others within farHole diameters, and the nearest
// in any case. Positions of the hole's own slot are none.
func neighbours(hs []holes.Hole) [][]int {
	order := make([]int, len(hs))
	widest := 0.0
	for i, h := range hs {
		order[i] = i
		widest = max(widest, h.D)
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Compare(hs[a].X, hs[b].X) })
	near := make([][]int, len(hs))
	for n, i := range order {
		h := hs[i]
		nearest, at := math.Inf(1), -1
		look := func(k int) (further bool) {
			o := hs[k]
			if math.Abs(o.X-h.X) > max(farHole*widest, nearest) {
				return false
			}
			if o.Slot != "" && o.Slot == h.Slot {
				return true
			}
			apart := o.At().Distance(h.At())
			if apart <= farHole*max(o.D, h.D) {
				near[i] = append(near[i], k)
			}
			if apart < nearest {
				nearest, at = apart, k
			}
			return true
		}
		for k := n + 1; k < len(order) && look(order[k]); k++ {
		}
		for k := n - 1; k >= 0 && look(order[k]); k-- {
		}
		if at >= 0 && !slices.Contains(near[i], at) {
			near[i] = append(near[i], at)
		}
		slices.Sort(near[i])
	}
	return near
}

// plateChecks reports what a part below the wing bears between its two ends: the
// bolts at its head, and those at its foot or, of the fixed part, the line up to
// which the car holds it.
// The plates above have bent sideways by out mm, by which the load in its plane bends it too; it returns
// by how much it bends sideways itself.
func (f *Analysis) plateChecks(part int, bodies []Body, out float64, report func(Check)) (way float64) {
	e, ok := f.ends(part, bodies)
	if !ok {
		return 0
	}
	p := &f.plates[part]
	m := p.material
	check := func(what string, at, demand, capacity float64, unit, source string) {
		report(Check{What: what, Part: p.part.Name, Station: at, Demand: demand, Capacity: capacity, Unit: unit, Source: source})
	}
	pressed := max(0, -e.load.along)
	column, lateral := p.columnCapacity(e), p.lateralLoad(e)
	unstable := pressed/column + lateral
	check(columnBuckling, math.NaN(), pressed, column/m.factor, "N", "Timoshenko and Gere 2.1: π²EI/(2L)², foot fixed, head free")
	check(lateralBuckling, math.NaN(), lateral, 1/m.factor, "",
		"Timoshenko and Gere 6.2, 6.3: 4.013 √(EI·GJ)/L² and π √(EI·GJ)/(2L), foot fixed, head free")
	// What acts along the plate bends it by as much as its place has moved out: by the plates above, and by
	// this one's own bending, which grows by 1/(1 - part of the buckling load).
	side, unsafe := math.Abs(p.bend(&e).way), 0.0
	if unstable < 1 {
		side /= 1 - unstable
	} else {
		side, unsafe = 0, 1
	}
	var worst Check
	for i := range p.sections {
		s := &p.sections[i]
		row := e.hasRow(s.at)
		for _, own := range [2]bool{true, false} { // with and without the bolts of this row
			if !own && !row {
				continue
			}
			in, ok := s.internal(&e, own)
			if !ok {
				continue
			}
			if s.at < e.head && s.at >= e.foot-1e-6 {
				in.tilt += math.Copysign(pressed*(out+side), in.tilt)
			}
			m := p.across(s)
			limit := m.Proof / m.factor
			if s.width < s.gross {
				limit = min(limit, netShare*m.Ultimate/boltFactor)
			}
			c := Check{What: sectionStress, Part: p.part.Name, Station: s.at, Demand: s.stress(in, p.t, unsafe), Capacity: limit,
				Unit: "MPa", Source: stressSource}
			if worst.What == "" || c.Utilisation() > worst.Utilisation() {
				worst = c
			}
		}
	}
	if worst.What != "" {
		report(worst)
	}
	if unsafe > 0 {
		return math.Inf(1)
	}
	return side
}

// netShare is of the net section in tension. Source: EN 1993-1-1:2005 6.2.3, EN
// 1999-1-1:2007 6.2.3: 0.9 fu/γM2.
const netShare = 0.9

// What the checks by formulas of beams are called.
const (
	sectionStress   = "net-section stress"
	columnBuckling  = "column buckling"
	lateralBuckling = "lateral-torsional buckling"
)

const stressSource = "EN 1999-1-1 6.2.1(5) and 6.2.3, EN 1993-1-1 6.2.1(5): elastic, bending both ways, along, shear and twist as one stress"

// slender is what a plate's buckling hangs on.
func (p *plate) slender(e ends) (ei, gj float64) {
	b, t := e.least, p.t
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
func (p *plate) columnCapacity(e ends) float64 {
	ei, _ := p.slender(e)
	return math.Pi * math.Pi * ei / (4 * e.length * e.length)
}

// lateralLoad is the load across the plate over what turns it over sideways: a
// force at the tip of a narrow cantilever, 4.013 √(EI·GJ)/L², and a moment there,
// π √(EI·GJ)/(2L), added up. The narrowest width counts all along,
// and the length is that of the whole mounting: plates that are bolted to one
// another buckle as one.
// Source: as columnCapacity, art. 6.2 and 6.3.
func (p *plate) lateralLoad(e ends) float64 {
	ei, gj := p.slender(e)
	root := math.Sqrt(ei * gj)
	return math.Abs(e.load.across)/(tipCoefficient*root/(e.length*e.length)) + math.Abs(e.load.turn)/(math.Pi*root/(2*e.length))
}

// tipCoefficient is twice the first zero of the Bessel function J(-1/4).
// Source: Timoshenko and Gere (1961), art. 6.3: 4.013.
const tipCoefficient = 4.0126

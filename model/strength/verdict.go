package strength

import (
	"math"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
)

// Verdict is what may be said of a setting's strength.
type Verdict int

// The verdicts. Passes is said only when every part, joint and load path of the
// setting was checked.
const (
	NotChecked Verdict = iota
	Passes
	DoesNotHold
)

// String spells the verdict as files and programs know it.
func (v Verdict) String() string {
	return map[Verdict]string{NotChecked: "not checked", Passes: "passes", DoesNotHold: "does not hold"}[v]
}

// Open is something that a verdict hangs on and that was not checked.
type Open struct {
	What string // "upright", `joint "foot"`
	Why  string // "material not known"
}

func (o Open) String() string { return o.What + " (" + o.Why + ")" }

// Verdict says how the setting stands: it does not hold as soon as one load is more
// than is allowed; it passes when nothing is open and all rules about where holes are
// cover it.
func (r Result) Verdict() Verdict {
	worst, ok := r.Governing()
	switch {
	case ok && !worst.Layout && worst.Utilisation() > 1:
		return DoesNotHold
	case !ok || len(r.Open) > 0 || r.Broken() > 0:
		return NotChecked
	}
	return Passes
}

// Solvable reports whether solving the plates as they are drawn would check all that is open.
func (r Result) Solvable() bool {
	for _, o := range r.Open {
		if !isAsDrawn(o) {
			return false
		}
	}
	return len(r.Open) > 0 && r.Broken() == 0
}

// Used is the largest part of any strength that is used, of loads; ok is false when no
// load was checked.
func (r Result) Used() (c Check, ok bool) {
	for _, k := range r.Checks {
		if !k.Layout && (!ok || k.Utilisation() > c.Utilisation()) {
			c, ok = k, true
		}
	}
	return c, ok
}

// maxSlant is how far the way of the load may lean from the direction that a plate is
// cut across, rad: beyond it straight cuts no longer follow the load.
// Common practice, no source.
const maxSlant = 30 * plane.Deg

// openOf lists what of a setting is not checked: what the file does not say, and plates
// that straight cuts and the formulas of beams do not describe.
func (f *Analysis) openOf(st stance) []Open {
	all := append([]Open(nil), f.Open...)
	for part, why := range st.unlike {
		switch {
		case why == "":
		case blocked(why):
			all = append(all, Open{f.Car.Parts[part].Name, why})
		default:
			all = append(all, Open{f.Car.Parts[part].Name, asDrawn + why})
		}
	}
	return append(all, f.loose(st.row)...)
}

// maxOversize is by how much a hole may be wider than its bolt, mm, for the rules of
// bearing to cover it: an oversize round hole.
// Source: EN 1090-2:2018 Table 11, 3 mm for M12; smaller bolts are not in it.
const maxOversize = 3

// loose lists the holes of a setting that are so wide for their bolts that no rule covers
// them: beyond an oversize hole, or as wide as the bolt's head, which goes through.
func (f *Analysis) loose(r *model.Row) []Open {
	var all []Open
	for j, fit := range r.Fits {
		b := f.bolts[j]
		for _, p := range fit.Pairs {
			for part, hole := range [2]int{p.Lower, p.Upper} {
				q := &f.Car.Parts[j+part]
				h := &q.Holes[hole]
				if why := b.loose(h); why != "" {
					all = append(all, Open{q.Name, why})
				}
			}
		}
	}
	return all
}

// Why a plate is no beam, where that also keeps it from being solved as it is drawn; asDrawn begins
// what is open of the others until they are.
const (
	heldAbove       = "held above its bolts: what supports them is not known"
	enclosesNothing = "its outline encloses nothing"
	asDrawn         = "not solved as it is drawn: "
)

// loose says why no rule covers a hole with its bolt; "" where one does.
func (b bolt) loose(h *holes.Hole) string {
	switch {
	case b.Flats > 0 && h.D >= b.Flats-1e-9:
		return "its hole " + h.ID + " is as wide as the bolt's head"
	case h.D > b.D+maxOversize+1e-9:
		return "its hole " + h.ID + " is too wide for the bolt"
	}
	return ""
}

// unlike says why a plate is no beam between its two ends in a setting; "" when it is,
// or when the file does not say enough of it to tell.
func (f *Analysis) unlike(part int, bodies []Body) string {
	p := &f.plates[part]
	if !p.sound() || p.part.Outline == nil {
		return "" // which is listed as missing
	}
	above := &bodies[len(bodies)-part-1]
	head := above.Lower.Inverse().Apply(above.centre())
	headAt, _ := p.frame.In(head)
	foot, low := p.support(), p.held
	if part > 0 {
		below := &bodies[len(bodies)-part]
		foot = below.Upper.Inverse().Apply(below.centre())
		low, _ = p.frame.In(foot)
	}
	if headAt <= low+1 {
		if part == 0 && len(f.chassisHoles) == 0 {
			return heldAbove
		}
		return "its upper bolts are not beyond its lower ones"
	}
	if len(p.sections) == 0 {
		return enclosesNothing
	}
	way := head.Sub(foot)
	if along, _ := p.frame.Resolve(way); along/way.Length() < math.Cos(maxSlant) {
		return "the load does not run along it"
	}
	for i := range p.sections {
		if s := &p.sections[i]; s.pieces > 1 && s.at > low && s.at < headAt {
			return "a straight cut meets it in more than one piece"
		}
	}
	for _, slot := range p.part.Slots {
		a, _ := p.frame.In(slot.Along(0))
		b, _ := p.frame.In(slot.Along(slot.Length()))
		if min(max(a, b), headAt)-max(min(a, b), low) > 2*slot.D {
			return "a slot runs along it between its bolts"
		}
	}
	if !inMetal(p.part.Outline, foot, head) {
		return "the straight line between its bolts runs outside the plate"
	}
	return ""
}

// Slower reports whether the design speed lies below a speed in m/s, so that no verdict
// says anything of it.
func (f *Analysis) Slower(speed float64) bool { return f.Table.Speed < speed*(1-1e-9) }

// support returns the middle of what holds the fixed part, in its own frame: of the
// cut at the height up to which the car holds it.
func (p *plate) support() plane.Point {
	at := p.held
	s, ok := p.section(at, false)
	if !ok { // at its lower edge there is no width yet
		at += 1e-3
		s, _ = p.section(at, false)
	}
	return p.frame.Point(at, s.middle)
}

// inMetal reports whether a straight line from a to b stays within an outline; its very
// ends may lie on the edge.
func inMetal(outline []plane.Point, a, b plane.Point) bool {
	const steps = 200
	for i := 1; i < steps; i++ {
		t := float64(i) / steps
		if !plane.Inside(outline, a.Add(b.Sub(a).Times(t))) {
			return false
		}
	}
	return true
}

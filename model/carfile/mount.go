package carfile

import (
	"fmt"
	"math"
	"slices"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/toml"
)

// maxUprights is how many uprights may share a wing.
const maxUprights = 6

// mounting takes what strength is checked with.
func (r *reader) mounting(root *table, c *model.Car) {
	r.chassis(root, c)
	t := root.child("strength", "strength")
	if t == nil {
		return
	}
	c.Mounting = model.Mounting{
		Uprights: t.maybe("uprights", plain,
			rule{func(x float64) bool { return x >= 1 && x <= maxUprights && x == math.Trunc(x) }, "a whole number from 1 to 6", from(1).to(maxUprights).whole()}),
		LoadFactor: t.maybe("load_factor", plain, between(1, 5)),
		Vertical:   t.maybe("vertical", unit{"g", 1}, between(1, 20)),
		Cornering:  t.maybe("cornering", unit{"g", 1}, between(0, 10)),
		Yaw:        t.maybe("yaw", degrees, between(0, 30)),
		Braking:    t.maybe("braking", unit{"g", 1}, between(0, 10)),
		Uneven:     t.maybe("uneven", unit{"%", 0.01}, between(1, 100)),
		Push:       t.maybe("push", unit{"N", 1}, between(0, 5000)),
		PushAt:     t.maybe("push_at", t.lengths(), anything),
	}
	r.uprightPlaces(t, c)
	t.close()
}

// uprightPlaces takes where the uprights stand across the car.
func (r *reader) uprightPlaces(t *table, c *model.Car) {
	list := t.list("upright_at")
	t.noteItems("upright_at", false, Number)
	if list == nil {
		return
	}
	if len(list) < 1 || len(list) > maxUprights {
		t.fault("upright_at", "upright_at has %d places", fmt.Sprintf("give 1 to %d, one for each upright", maxUprights), len(list))
		return
	}
	var at []float64
	for i, v := range list {
		x, ok := v.(float64)
		if n, whole := v.(int64); whole {
			x, ok = float64(n), true
		}
		if !ok || math.IsNaN(x) || math.Abs(x) > 1e4 {
			r.at(fmt.Sprintf("%s[%d]", toml.Join(t.path, "upright_at"), i), "upright_at %d is %s", "give places across the car in "+r.units.lengthName+" from its middle",
				i+1, kind(v))
			return
		}
		at = append(at, x*r.units.length)
	}
	slices.Sort(at)
	for i := range at[1:] {
		if at[i+1]-at[i] < 1 {
			t.fault("upright_at", "two uprights stand in one place", "give each its own")
			return
		}
	}
	if n, ok := c.Mounting.Uprights.Get(); ok && int(n) != len(at) {
		t.fault("upright_at", "upright_at has %d places, uprights is %.0f", "make them agree, or leave uprights out", len(at), n)
		return
	}
	if len(at) == 1 && math.Abs(at[0]) > c.Wing.Span/20 {
		t.fault("upright_at", "a single upright stands %s%s off the middle", "give a place near the middle of the wing, or all uprights", r.coordinate(math.Abs(at[0])), spaced(r.units.lengthName))
		return
	}
	if half := c.Wing.Span / 2; at[0] < -half-1e-9 || at[len(at)-1] > half+1e-9 {
		t.fault("upright_at", "an upright stands beyond the wing's end", "give places within half the span of the middle")
		return
	}
	c.Mounting.UprightAt = at
}

// chassis takes the bolts that hold the fixed part on the car: those of its holes that are kept for them.
func (r *reader) chassis(root *table, c *model.Car) {
	kept := r.chassisHoles(c)
	t := root.child("chassis", "chassis")
	if t == nil {
		if kept > 0 {
			r.faults = append(r.faults, Fault{r.file, 1, 1, fmt.Sprintf("no [chassis], and %s kept for it", map[bool]string{true: "a hole is", false: fmt.Sprintf("%d holes are", kept)}[kept == 1]),
				`add [chassis] with bolt, "M8", and grade, "8.8"`, MissingKey})
		}
		return
	}
	k := &c.Chassis
	k.Bolt, k.Shank, k.Grade = bolt(t)
	switch kept {
	case 0:
		t.fault("bolt", "no hole of the fixed part is kept for the chassis", `give its chassis holes joint = "chassis"`)
	case 1:
		t.fault("bolt", "one hole of the fixed part is kept for the chassis", `keep two or more: a part turns about a single bolt`)
	}
	for _, p := range c.Parts {
		for _, h := range p.Holes {
			if h.Joint == model.ChassisJoint && k.Shank > 0 && !h.Takes(k.Shank) {
				t.fault("bolt", "the chassis bolt does not go through hole %s", "give a smaller bolt or the hole as drilled", h.ID)
			}
		}
	}
	t.close()
}

// chassisHoles counts the holes that are kept for the chassis; a joint of that name has them itself.
func (r *reader) chassisHoles(c *model.Car) int {
	n := 0
	for i, p := range c.Parts {
		for _, h := range p.Holes {
			if r.isChassis(i, h.Joint) && h.Distance == 0 {
				n++
			}
		}
	}
	return n
}

// isChassis reports whether a hole of a part is kept for the chassis.
func (r *reader) isChassis(part int, kept string) bool {
	if kept != model.ChassisJoint || part != r.fixed {
		return false
	}
	for _, j := range r.joints {
		if j.Name == model.ChassisJoint {
			return false
		}
	}
	return true
}

// weld takes the line along which a part is welded.
func (r *reader) weld(t *table) []plane.Point {
	list := t.list("weld")
	t.noteItems("weld", true, List, Number)
	if list == nil {
		return nil
	}
	if len(list) < 2 || len(list) > maxPoly {
		t.fault("weld", "weld is %s", "give a line of two points or more, [ [x, z], [x, z] ]", map[bool]string{true: "a single point", false: fmt.Sprintf("of %d points", len(list))}[len(list) == 1])
		return nil
	}
	line, _ := r.corners(list, toml.Join(t.path, "weld"), t.label()+"weld")
	return line
}

// nuts are what the bolts of a joint can be screwed into.
var nuts = map[string]model.Nut{"nut": model.PlainNut, "tapped": model.TappedHole, "rivet nut": model.RivetNut, "insert": model.Insert}

// nut takes what the bolts of a joint are screwed into.
func (r *reader) nut(t *table) model.Nut {
	text := t.text("nut", false, `"nut", "tapped", "rivet nut" or "insert"`)
	t.noteTexts("nut", sortedTexts(nuts)...)
	n, ok := nuts[text]
	if !ok && text != "" {
		t.fault("nut", "nut is %q", `it must be "nut", "tapped", "rivet nut" or "insert"`, text)
	}
	return n
}

// shape looks whether an outline is one, and whether what lies on it does.
func (r *reader) shape(t *table, p *model.Part) {
	if len(p.Outline) < 3 {
		return
	}
	if at, ok := plane.Knot(plane.Corners(p.Outline)); ok {
		t.fault("outline", "the outline crosses or touches itself at %s, %s", "give its corners once around, in order", r.coordinate(at.X), r.coordinate(at.Z))
		return
	}
	lo, hi := plane.Box(p.Outline)
	if z, ok := p.Held.Get(); ok && (z < lo.Z-1e-9 || z >= hi.Z) {
		t.fault("held", "held is %s%s, the part runs from %s to %s", "give a height of the part's own frame within it", r.coordinate(z), spaced(r.units.lengthName),
			r.coordinate(lo.Z), r.coordinate(hi.Z))
	}
	for i, w := range p.WeldLine {
		if d, inside := plane.EdgeDistance(p.Outline, w); !inside && d > weldReach {
			r.at(fmt.Sprintf("%s[%d]", toml.Join(t.path, "weld"), i), "%sweld point %d lies %s%s beside the part", "give the line of the weld on the part, in its own frame",
				t.label(), i+1, r.coordinate(d), spaced(r.units.lengthName))
		}
	}
}

// weldReach is how far beside a part a point of its weld may lie, mm: a weld at an edge is drawn by eye.
const weldReach = 10

// coordinate spells a length in the file's unit.
func (r *reader) coordinate(mm float64) string { return fmt.Sprintf("%.4g", mm/r.units.length) }

// mountings looks at what strength is checked with beside the parts.
func (r *reader) mountings(c *model.Car) {
	m := &c.Mounting
	n := m.Uprights.Or(2)
	if len(m.UprightAt) > 0 {
		n = float64(len(m.UprightAt))
	}
	if u, ok := m.Uneven.Get(); ok && u < 1/n-1e-9 {
		r.at("strength.uneven", "uneven is %.0f %%, and %.0f uprights take %.0f %% each when all bear alike", "give more than that, up to 100", 100*u, n, 100/n)
	}
	if x, ok := m.PushAt.Get(); ok && (x < -c.Wing.Chord/2 || x > 1.5*c.Wing.Chord) {
		r.at("strength.push_at", "push_at is %s%s, the chord is %s", "give a place on the wing, along the chord from its leading edge", r.coordinate(x), spaced(r.units.lengthName),
			r.coordinate(c.Wing.Chord))
	}
	for i := range c.Joints {
		j := &c.Joints[i]
		e, ok := j.Engaged.Get()
		if !ok {
			continue
		}
		path := ""
		for _, k := range r.joints {
			if k.Name == j.Name {
				path = k.path + ".engaged"
			}
		}
		switch t, known := c.Parts[i].Thickness.Get(); {
		case j.Nut != model.TappedHole:
			r.at(path, "joint %q: engaged without a tapped hole", `add nut = "tapped", or remove engaged`, j.Name)
		case known && e > t+1e-9:
			r.at(path, "joint %q: engaged is %s%s, part %q is %s thick", "give no more than the part's thickness", j.Name, r.coordinate(e), spaced(r.units.lengthName),
				c.Parts[i].Name, r.coordinate(t))
		}
	}
}

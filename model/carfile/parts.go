package carfile

import (
	"fmt"
	"math"
	"strings"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/fastener"
	"stanchion/model/toml"
)

// Limits on sizes, so that a file made by mistake ends in a line and not in a
// wait.
const (
	maxParts = 12
	maxHoles = 10_000 // in one part
	maxPoly  = 10_000 // corners of an outline
)

// defaultTurn is the largest turn of a joint when the file gives none, degrees.
const defaultTurn = 30

// parts takes the parts and joints, in the order of the file.
func (r *reader) parts(root *table, c *model.Car) {
	rows := root.children("part")
	root.note(Key{Must: true}, "part")
	if len(rows) > maxParts {
		r.at("part", "%d parts", fmt.Sprintf("use at most %d", maxParts), len(rows))
		return
	}
	if !root.has("part") {
		r.faults = append(r.faults, Fault{r.file, 1, 1, "no [[part]]", "add at least two parts: one fixed to the car, and the wing last", MissingKey})
	}
	r.fixed = -1
	for i, t := range rows {
		c.Parts = append(c.Parts, r.part(t, i, c))
	}
	if !root.has("joint") && root.has("part") {
		r.faults = append(r.faults, Fault{r.file, 1, 1, "no [[joint]]", "add one joint between each part and the next", MissingKey})
	}
	joints := root.children("joint")
	root.note(Key{Must: true}, "joint")
	for i, t := range joints {
		r.joints = append(r.joints, r.joint(t, i))
	}
}

func (r *reader) part(t *table, i int, c *model.Car) model.Part {
	t.name = fmt.Sprintf("part %d", i+1)
	p := model.Part{}
	p.Name = t.text("name", true, "a name for the part")
	if p.Name != "" {
		t.name = fmt.Sprintf("part %q", p.Name)
	}
	if f := t.child("fixed", t.name+": fixed"); f != nil {
		pose := plane.Pose{X: f.number("x", f.lengths(), anything), Z: f.number("z", f.lengths(), anything),
			Turn: f.number("angle", degrees, between(-180, 180))}
		f.close()
		if r.fixed >= 0 {
			t.fault("fixed", "fixed to the car, as part %q is", "give fixed on exactly one part", c.Parts[r.fixed].Name)
		} else {
			c.Fixed, r.fixed = pose, i
		}
	}
	p.Thickness = t.maybe("thickness", t.lengths(), positive)
	p.Material = t.text("material", false, "the material's name")
	p.Welded = t.flag("welded", false)
	if p.WeldLine = r.weld(t); p.WeldLine != nil {
		p.Welded = true
	}
	p.Held = t.maybe("held", t.lengths(), anything)
	if t.has("held") && !t.has("fixed") {
		t.fault("held", "held on a part that is not fixed to the car", "move held to the part with fixed")
	}
	faults := len(r.faults)
	p.Outline = r.outline(t, 3)
	r.shape(t, &p)
	sound := len(r.faults) == faults
	list := t.children("holes")
	t.note(Key{Must: true}, "holes")
	switch {
	case !t.has("holes"):
		t.missing("holes", "give a list of holes, { id, x, z, d }")
	case len(list) > maxHoles:
		t.fault("holes", "%d holes", fmt.Sprintf("use at most %d", maxHoles), len(list))
		list = nil
	}
	first := map[string]int{}
	for n, h := range list {
		hole, slot, built := r.hole(h, p.Name, n)
		if built != nil {
			if p.Built == nil {
				p.Built = map[string]model.AsBuilt{}
			}
			p.Built[hole.ID] = *built
		}
		if k, twice := first[hole.ID]; twice && hole.ID != "" {
			h.fault("id", "hole %d has this id already", "use each id once in a part", k+1)
		} else {
			first[hole.ID] = n
		}
		r.index[len(c.Parts)] = append(r.index[len(c.Parts)], n)
		if slot == nil {
			p.Holes = append(p.Holes, hole)
			continue
		}
		p.Slots = append(p.Slots, *slot)
		positions := slot.Positions()
		for range positions[1:] {
			r.index[len(c.Parts)] = append(r.index[len(c.Parts)], n)
		}
		p.Holes = append(p.Holes, positions...)
	}
	r.cutouts(t, &p, sound)
	t.close()
	return p
}

// outline takes an outline, a list of at least so many corners.
func (r *reader) outline(t *table, least int) []plane.Point {
	list := t.list("outline")
	t.noteItems("outline", true, List, Number)
	if list == nil {
		return nil
	}
	if len(list) < least || len(list) > maxPoly {
		t.fault("outline", "outline has %d corners", fmt.Sprintf("use %d to %d", least, maxPoly), len(list))
		return nil
	}
	points, _ := r.corners(list, toml.Join(t.path, "outline"), t.label()+"outline")
	return points
}

// corners takes a list of points that stands at a path; what names it in faults, and ok says
// that all of it could be used.
func (r *reader) corners(list []any, path, what string) (points []plane.Point, ok bool) {
	sound := true
	for i, v := range list {
		pair, ok := v.([]any)
		var xz [2]float64
		if ok = ok && len(pair) == 2; ok {
			for k, e := range pair {
				switch n := e.(type) {
				case int64:
					xz[k] = float64(n)
				case float64:
					xz[k] = n
				default:
					ok = false
				}
				ok = ok && math.Abs(xz[k]) < 1e6
			}
		}
		if !ok {
			sound = false
			r.at(fmt.Sprintf("%s[%d]", path, i), "%s corner %d is not a point", "give [x, z] in "+r.units.lengthName, what, i+1)
			continue
		}
		points = append(points, plane.Point{X: xz[0] * r.units.length, Z: xz[1] * r.units.length})
	}
	return points, sound
}

// gradeExample says how a grade is written.
const gradeExample = `a property class such as "8.8" or "A2-70", or "SAE 5" or "SAE 8"`

// joint is a joint as the file has it: between parts by name.
type joint struct {
	model.Joint
	lower, upper string
	path         string
}

// bolt takes a size of bolt, with its shank in mm, and a grade.
func bolt(t *table) (size string, shank float64, grade string) {
	size = t.text("bolt", true, "one of "+fastener.Names())
	t.noteExamples("bolt", fastener.Common()...)
	if s, ok := fastener.Lookup(size); ok {
		size, shank = s.Name, s.D
	} else if size != "" {
		t.fault("bolt", "bolt is %q", "use one of "+fastener.Names(), size)
	}
	grade = t.text("grade", false, gradeExample)
	t.noteExamples("grade", strings.Split(fastener.GradeNames(), ", ")...)
	if name, ok := fastener.GradeName(grade); ok {
		grade = name
	} else if grade != "" {
		t.fault("grade", "grade is %q", "give "+gradeExample, grade)
	}
	return size, shank, grade
}

func (r *reader) joint(t *table, i int) joint {
	t.name = fmt.Sprintf("joint %d", i+1)
	j := joint{path: t.path}
	j.Name = t.text("name", true, "a name for the joint")
	if j.Name != "" {
		t.name = fmt.Sprintf("joint %q", j.Name)
	}
	j.lower = t.text("lower", true, "the name of the part on the car's side")
	j.upper = t.text("upper", true, "the name of the part on the wing's side")
	j.Bolt, j.Shank, j.Grade = bolt(t)
	j.PlainShank = !t.flag("threads_in_shear", true)
	j.Nut = r.nut(t)
	j.Engaged = t.maybe("engaged", t.lengths(), positive)
	j.NutTension = t.maybe("nut_tension", unit{"N", 1}, positive)
	j.NutShear = t.maybe("nut_shear", unit{"N", 1}, positive)
	n := t.optional("min_bolts", plain, rule{func(x float64) bool { return x >= 2 && x <= 20 && x == math.Trunc(x) },
		"a whole number from 2 to 20", from(2).to(20).whole()}, 2)
	if !math.IsNaN(n) {
		j.MinBolts = int(n)
	}
	j.MaxTurn = t.optional("max_turn", degrees, between(0, 180), defaultTurn*plane.Deg)
	t.close()
	return j
}

package model

import (
	"fmt"
	"math"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model/units"
)

// Lid is a boot lid, tailgate or cover that swings about a hinge.
type Lid struct {
	Hinge   plane.Point   // mm on the car as it was measured
	Outline []plane.Point // mm, shut; nil when there is none
	Open    float64       // rad that it opens by, positive when its rear edge rises
	Slotted bool          // the uprights pass through slots in it
}

// Panel is a sheet of bodywork that uprights pass through, a line in the side
// view.
type Panel struct {
	Name      string
	X, Z      float64 // mm, a place on its upper face, on the car as it was measured
	Slope     float64 // rad, positive when it rises to the rear
	Thickness float64 // mm
	Clearance float64 // mm wanted around the upright
}

// Gap is the least distance of a setting's wing, end plates and uprights from the
// body and from the lid on its way.
type Gap struct {
	plane.Contact
	From string   // what of the setting is nearest: "wing", "end plate" or a part
	To   string   // "body" or "lid"; "" when the file has neither
	Cuts []string // parts that pass through the body, and so are not held to its gap

	Still Nearest // to the body and to the shut lid, as far as less than wanted
	Lid   Opening
}

// Nearest is a least distance, and what is nearest to what.
type Nearest struct {
	plane.Contact
	From, To string // "" when there is nothing
}

// Opening is how far the lid opens with a setting.
type Opening struct {
	To   float64 // rad, up to which it keeps the gap wanted, or does not touch where none is
	Of   float64 // rad, that it could open by
	Stop string  // what stops it: "wing", "end plate" or a part; "" when it opens all the way
}

// Known reports whether there is anything to keep clear of.
func (g Gap) Known() bool { return g.To != "" }

// hasBody reports whether there is anything that a setting could touch.
func (c *Car) hasBody() bool { return c.Body != nil || c.Lid.Outline != nil }

// surroundings are body and lid where they are now, turned with the car.
type surroundings struct {
	body, lid []plane.Point
	hinge     plane.Point
}

func (c *Car) surroundings() surroundings {
	rake := plane.About(plane.Point{}, c.RakeChange)
	return surroundings{rake.ApplyAll(c.Body), rake.ApplyAll(c.Lid.Outline), rake.Apply(c.Lid.Hinge)}
}

// Surroundings returns the body's outline, the lid's when it is opened by open rad,
// and its hinge, mm on the car as it stands.
func (c *Car) Surroundings(open float64) (body, lid []plane.Point, hinge plane.Point) {
	s := c.surroundings()
	return s.body, plane.About(s.hinge, open).ApplyAll(s.lid), s.hinge
}

// PartPoses returns where each part of a setting lies on the car, the wing last.
func (c *Car) PartPoses(s *holes.Setting) []plane.Pose {
	poses := []plane.Pose{c.Ground()}
	for j, f := range s.Fits {
		poses = append(poses, poses[j].Then(f.Pose))
	}
	return poses
}

// solids are the wing's shapes in its own frame. A section that lies within the end
// plates is left out: nothing comes nearer to it than to them.
type solids struct{ section, plate []plane.Point }

func (w Wing) solids() solids {
	section, _ := w.Outline()
	s := solids{section, w.PlateOutline()}
	if plane.Within(s.plate, s.section) {
		s.section = nil
	}
	return s
}

// gap finds the least distance of one setting. The fixed part is held to the lid
// alone, since it is bolted to the body; a part that passes through the body is
// named.
func (c *Car) gap(p *Place, w solids, s surroundings) Gap {
	g := Gap{Contact: plane.Contact{Distance: math.Inf(1)}, Still: Nearest{Contact: plane.Contact{Distance: math.Inf(1)}}}
	g.Lid = Opening{To: math.Abs(c.Lid.Open), Of: math.Abs(c.Lid.Open)}
	wanted := 0.0
	if c.Limits.Gap > 0 {
		wanted = c.Limits.Gap
	}
	still := func(k plane.Contact, from, to string) {
		if k.Distance < g.Still.Distance {
			g.Still = Nearest{k, from, to}
		}
	}
	take := func(k plane.Contact, from, to string) {
		if k.Distance < g.Distance || k.Distance == g.Distance && math.Abs(k.Turn) < math.Abs(g.Turn) {
			g.Contact, g.From, g.To = k, from, to
		}
	}
	look := func(points []plane.Point, from string, part, held bool) {
		if len(points) == 0 {
			return
		}
		if s.body != nil && !held {
			if k := plane.Distance(points, s.body); part && k.Distance == 0 {
				g.Cuts = append(g.Cuts, from)
			} else {
				take(k, from, "body")
				still(k, from, "body")
			}
		}
		if s.lid != nil && !(part && c.Lid.Slotted) {
			k := plane.DistanceTurning(points, s.lid, s.hinge, c.Lid.Open)
			take(k, from, "lid")
			if k.Distance > 0 && k.Distance >= wanted {
				return
			}
			still(plane.Distance(points, s.lid), from, "lid")
			if to := c.opensTo(points, s, wanted, k); to < g.Lid.To {
				g.Lid.To, g.Lid.Stop = to, from
			}
		}
	}
	look(p.Pose.ApplyAll(w.plate), "end plate", false, false)
	look(p.Pose.ApplyAll(w.section), "wing", false, false)
	poses := c.PartPoses(p.Setting)
	for i, part := range c.Parts {
		last := i == len(c.Parts)-1
		look(poses[i].ApplyAll(part.Outline), part.Name, !last, i == 0)
	}
	return g
}

// opensTo returns how far, rad, the lid opens with at least the wanted gap, mm, to some
// points; k is the nearest on all of its way. The least distance up to an angle never
// grows with the angle, so the angle is found by halving.
func (c *Car) opensTo(points []plane.Point, s surroundings, wanted float64, k plane.Contact) float64 {
	if wanted == 0 {
		return math.Abs(k.Turn)
	}
	lo, hi := 0.0, math.Abs(c.Lid.Open)
	for range 30 { // to a millionth of a degree
		mid := (lo + hi) / 2
		if plane.DistanceTurning(points, s.lid, s.hinge, math.Copysign(mid, c.Lid.Open)).Distance >= wanted {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}

// Text says how far the lid opens; "" when there is none.
func (o Opening) Text() string {
	switch {
	case o.Of == 0:
		return ""
	case o.Stop == "":
		return fmt.Sprintf("the lid opens fully, %s°", units.Fixed(o.Of/Deg, 0))
	}
	return fmt.Sprintf("the lid opens to %s° of %s°, stopped by the %s", units.Fixed(math.Floor(o.To/Deg), 0), units.Fixed(o.Of/Deg, 0), o.Stop)
}

// Text spells a gap.
func (g Gap) Text(u units.System) string {
	switch {
	case !g.Known():
		return units.NotGiven
	case g.Distance == 0 && g.To == "lid" && g.Turn == 0:
		return "the " + g.From + " TOUCHES the shut lid"
	case g.Distance == 0 && g.To == "lid":
		return fmt.Sprintf("the %s TOUCHES the lid at %s° of %s°", g.From, units.Fixed(math.Abs(g.Turn)/Deg, 0), units.Fixed(g.Lid.Of/Deg, 0))
	case g.Distance == 0:
		return "the " + g.From + " TOUCHES the " + g.To
	case g.To == "lid":
		return fmt.Sprintf("%s from %s to lid, %s° open", u.Length(g.Distance), g.From, units.Fixed(math.Abs(g.Turn)/Deg, 0))
	}
	return fmt.Sprintf("%s from %s to %s", u.Length(g.Distance), g.From, g.To)
}

// Unseen lists the parts whose distances are not known, since they have no outline.
func (c *Car) Unseen() []string {
	var all []string
	for _, p := range c.Parts[:len(c.Parts)-1] {
		if p.Outline == nil {
			all = append(all, p.Name)
		}
	}
	return all
}

// Package clearance answers: how near do a setting's wing, end plates and uprights come to
// the body, and to the boot lid on its way; how far does the lid open; and which slots do
// panels need for uprights to pass through?
//
// Lengths are in mm, angles in rad, in the side view of package plane: what lies beside one
// another across the car counts as if it could meet. It knows shapes, not cars.
package clearance

import (
	"math"

	"stanchion/holes/plane"
)

// Lid is a boot lid, tailgate or cover that swings about a hinge.
type Lid struct {
	Hinge   plane.Point   // mm
	Outline []plane.Point // mm, shut; nil when there is none
	Open    float64       // rad that it opens by, positive when its rear edge rises
	Slotted bool          // the uprights pass through slots in it
}

// Car is what a setting must keep clear of.
type Car struct {
	Body []plane.Point // its side profile; nil when not given
	Lid  Lid
}

// Known reports whether there is anything to keep clear of.
func (c Car) Known() bool { return c.Body != nil || c.Lid.Outline != nil }

// Placed returns body and lid moved by a pose.
func (c Car) Placed(at plane.Pose) Car {
	c.Body, c.Lid.Outline, c.Lid.Hinge = at.ApplyAll(c.Body), at.ApplyAll(c.Lid.Outline), at.Apply(c.Lid.Hinge)
	return c
}

// Opened returns the lid's outline when it is opened by turn rad.
func (l Lid) Opened(turn float64) []plane.Point {
	return plane.About(l.Hinge, turn).ApplyAll(l.Outline)
}

// Kind is what a shape of a setting is.
type Kind int

// The kinds of shapes: uprights may pass through the body and a slotted lid, and the fixed
// part is bolted to the body, so that only the lid can come near it.
const (
	Wing Kind = iota
	Upright
	FixedPart
)

// Shape is one shape of a setting, where it is on the car.
type Shape struct {
	Name    string
	Kind    Kind
	Outline []plane.Point // mm; nil when not known
}

// Nearest is a least distance, and what is nearest to what.
type Nearest struct {
	plane.Contact
	From string // name of the shape: "wing", "end plate" or a part
	To   string // "body" or "lid"; "" when there is nothing
}

// Gap is the least distance of a setting from the body and from the lid on its way.
type Gap struct {
	Nearest
	Through []string // parts that pass through the body, and so are not held to its gap
	Shut    Nearest  // to the body and to the shut lid, as far as less than wanted
	Lid     Opening
}

// Opening is how far the lid opens with a setting.
type Opening struct {
	To   float64 // rad, up to which it keeps the gap wanted, or does not touch where none is
	Of   float64 // rad, that it could open by
	Stop string  // name of the shape that stops it; "" when it opens all the way
}

// Known reports whether there is anything to keep clear of.
func (g Gap) Known() bool { return g.To != "" }

// Gap finds the least distance of the shapes of one setting, where a gap of wanted mm is
// asked for; 0 asks only that nothing touches.
func (c Car) Gap(shapes []Shape, wanted float64) Gap {
	none := Nearest{Contact: plane.Contact{Distance: math.Inf(1)}}
	full := math.Abs(c.Lid.Open)
	g := Gap{Nearest: none, Shut: none, Lid: Opening{To: full, Of: full}}
	for _, s := range shapes {
		if len(s.Outline) == 0 {
			continue
		}
		if c.Body != nil && s.Kind != FixedPart {
			g.body(s, c.Body)
		}
		if c.Lid.Outline != nil && (s.Kind == Wing || !c.Lid.Slotted) {
			g.lid(s, c.Lid, wanted)
		}
	}
	return g
}

// body takes a shape's distance from the body.
func (g *Gap) body(s Shape, body []plane.Point) {
	k := plane.Distance(s.Outline, body)
	if s.Kind == Upright && k.Distance == 0 {
		g.Through = append(g.Through, s.Name)
		return
	}
	g.Nearest.take(k, s.Name, "body")
	g.Shut.take(k, s.Name, "body")
}

// lid takes a shape's distance from the lid on its way.
func (g *Gap) lid(s Shape, lid Lid, wanted float64) {
	k := plane.DistanceTurning(s.Outline, lid.Outline, lid.Hinge, lid.Open)
	g.Nearest.take(k, s.Name, "lid")
	if k.Distance > 0 && k.Distance >= wanted {
		return
	}
	g.Shut.take(plane.Distance(s.Outline, lid.Outline), s.Name, "lid")
	if to := lid.opensTo(s.Outline, wanted, k); to < g.Lid.To {
		g.Lid.To, g.Lid.Stop = to, s.Name
	}
}

// take keeps the smaller distance; of equal ones that at the smaller turn.
func (n *Nearest) take(k plane.Contact, from, to string) {
	if k.Distance < n.Distance || k.Distance == n.Distance && math.Abs(k.Turn) < math.Abs(n.Turn) {
		*n = Nearest{k, from, to}
	}
}

// opensTo returns how far, rad, the lid opens with at least the wanted gap, mm, to some
// points; k is the nearest on all of its way, and nearer than that.
func (l Lid) opensTo(points []plane.Point, wanted float64, k plane.Contact) float64 {
	if wanted == 0 {
		return math.Abs(k.Turn)
	}
	return plane.TurnsApart(points, l.Outline, l.Hinge, l.Open, wanted)
}

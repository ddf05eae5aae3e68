package carfile

import (
	"fmt"

	"stanchion/aero"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/clearance"
)

// maxBody is the most corners of body and lid: each setting is compared with each.
const maxBody = 500

// body takes what the wing must keep clear of, and what its uprights pass through.
func (r *reader) body(root *table, c *model.Car) {
	if t := root.child("body", "body"); t != nil {
		c.Body = r.profile(t, 3)
		c.BodyWidth = t.maybe("width", t.lengths(), t.within(500, 3000))
		const shapes = `"notchback", "fastback" or "squareback"`
		shape := t.text("shape", false, shapes)
		t.noteTexts("shape", "notchback", "fastback", "squareback")
		if shape != "" {
			var err error
			if c.BodyShape, err = model.ParseBodyShape(shape); err != nil {
				t.fault("shape", "shape is %v", "it must be "+shapes, err)
			}
		}
		if c.BodyWidth.Known() && c.Body != nil && c.Wing.Span > 0 && c.Wing.Chord > 0 {
			r.deck(t, c)
		}
		t.close()
		r.flowByShape(c)
	}
	if t := root.child("lid", "lid"); t != nil {
		c.Lid.Outline = r.profile(t, 2)
		if h := t.child("hinge", "lid: hinge"); h != nil {
			c.Lid.Hinge = plane.Point{X: h.number("x", h.lengths(), anything), Z: h.number("z", h.lengths(), anything)}
			h.close()
		} else if !t.has("hinge") {
			t.missing("hinge", "give hinge = { x, z }, the point it turns about")
		}
		c.Lid.Open = t.number("open", degrees,
			rule{func(x float64) bool { return x != 0 && x >= -180 && x <= 180 }, "-180 to 180, not 0; positive when its rear edge rises", from(-180).to(180)})
		c.Lid.Slotted = t.flag("slotted", false)
		t.close()
	}
	for i, t := range r.panels(root) {
		t.name = fmt.Sprintf("panel %d", i+1)
		p := clearance.Panel{Name: t.text("name", false, "a name for the panel")}
		if p.Name == "" {
			p.Name = t.name
		}
		p.X = t.optional("x", t.lengths(), anything, 0)
		p.Z = t.number("z", t.lengths(), anything)
		p.Slope = t.optional("slope", degrees, between(-80, 80), 0)
		p.Thickness = t.optional("thickness", t.lengths(), notNegative, 1)
		p.Clearance = t.optional("clearance", t.lengths(), notNegative, 3)
		t.close()
		c.Panels = append(c.Panels, p)
	}
}

// deck looks whether the lift of the wing on the body can be worked out of outline and width.
func (r *reader) deck(t *table, c *model.Car) {
	if at, crosses := plane.Knot(plane.Corners(c.Body)); crosses {
		u := c.System()
		t.fault("outline", "outline crosses itself at x %s, z %s", "give its corners once around", u.Length(at.X), u.Length(at.Z))
		return
	}
	if err := c.DeckFault(); err != nil {
		t.fault("outline", "with a width, its lift under the wing cannot be worked out: %v", "", err)
	}
}

// flowByShape takes the flow that belongs to the body's shape, where none was measured.
func (r *reader) flowByShape(c *model.Car) {
	if c.Flow.Known() || c.BodyShape == model.ShapeNotSaid {
		return
	}
	point := c.BodyShape.Flow()
	if !c.Uncertainty.Default["flow_angle"] {
		point.AngleStdUnc = 0
	}
	if !c.Uncertainty.Default["speed_ratio"] {
		point.RatioStdUnc = 0
	}
	flow, err := aero.NewFlow([]aero.FlowPoint{point})
	if err != nil {
		return // one point is at no height twice
	}
	c.Flow, c.FlowGuessed = flow, true
	for i, a := range c.Assumed {
		switch a.What {
		case assumedFlowAngle:
			c.Assumed[i].Value = fmt.Sprintf("%.0f° ± %.1f°", point.Angle/plane.Deg, c.BodyShape.Flow().AngleStdUnc/plane.Deg)
			c.Assumed[i].Note = "for a " + c.BodyShape.String() + "; measure it with tufts and a level: [[flow]]"
		case assumedSpeedRatio:
			c.Assumed[i].Value = fmt.Sprintf("%.2f ± %.2f", point.Ratio, c.BodyShape.Flow().RatioStdUnc)
			c.Assumed[i].Note = "for a " + c.BodyShape.String() + "; measure it beside the wing: [[flow]]"
		}
	}
}

// panels takes one table [panel] or several [[panel]].
func (r *reader) panels(root *table) []*table {
	if _, one := root.values["panel"].(map[string]any); one {
		return []*table{root.child("panel", "panel")}
	}
	return root.children("panel")
}

// profile takes an outline of body or lid; nil when it cannot be used.
func (r *reader) profile(t *table, least int) []plane.Point {
	points := r.outline(t, least)
	switch {
	case !t.has("outline"):
		t.missing("outline", "give a list of corners, [x, z] on the car")
	case len(points) > maxBody:
		t.fault("outline", "outline has %d corners", fmt.Sprintf("use at most %d", maxBody), len(points))
		return nil
	}
	return points
}

package model

import (
	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model/clearance"
)

// Surroundings returns body and lid where they are now, turned with the car.
func (c *Car) Surroundings() clearance.Car {
	return clearance.Car{Body: c.Body, Lid: c.Lid}.Placed(c.raked())
}

// raked is the pose of the car as it stands on the car as it was measured: turned about
// the ground point below the rear axle.
func (c *Car) raked() plane.Pose { return plane.About(plane.Point{}, c.RakeChange) }

// PartPoses returns where each part of a setting lies on the car, the wing last.
func (c *Car) PartPoses(s *holes.Setting) []plane.Pose {
	poses := []plane.Pose{c.Ground()}
	for j, f := range s.Fits {
		poses = append(poses, poses[j].Then(f.Pose))
	}
	return poses
}

// shapes are the wing's own shapes in its own frame. A section that lies within the end
// plates is left out: nothing comes nearer to it than to them.
func (w Wing) shapes() []clearance.Shape {
	section, _ := w.Outline()
	plate := w.PlateOutline()
	all := []clearance.Shape{{Name: "end plate", Outline: plate}, {Name: "wing", Outline: section}}
	if plane.Within(plate, section) {
		all = all[:1]
	}
	return all
}

// gap finds the least distance of one setting from what is around it.
func (on site) gap(p *Position) clearance.Gap {
	c := on.car
	var shapes []clearance.Shape
	for _, s := range on.wing {
		s.Outline = p.Pose.ApplyAll(s.Outline)
		shapes = append(shapes, s)
	}
	poses := c.PartPoses(p.Setting)
	for i, part := range c.Parts {
		s := clearance.Shape{Name: part.Name, Kind: clearance.Upright, Outline: poses[i].ApplyAll(part.Outline)}
		switch i {
		case 0:
			s.Kind = clearance.FixedPart
		case len(c.Parts) - 1:
			s.Kind = clearance.Wing
		}
		shapes = append(shapes, s)
	}
	return on.around.Gap(shapes, c.Limits.Gap.Or(0))
}

// WithoutOutline lists the parts whose distances are not known, since they have no
// outline.
func (c *Car) WithoutOutline() []string {
	var all []string
	for _, p := range c.Parts[:len(c.Parts)-1] {
		if p.Outline == nil {
			all = append(all, p.Name)
		}
	}
	return all
}

// Slots lists the slots that panels need for the settings of rows, for each part that
// passes through one.
func (t *Table) Slots(rows []*Row) []clearance.Slot {
	var all []clearance.Slot
	for _, panel := range t.Car.Panels {
		for i, part := range t.Car.Parts[:len(t.Car.Parts)-1] {
			if part.Outline == nil {
				continue
			}
			var outlines [][]plane.Point
			for _, r := range rows {
				outlines = append(outlines, t.Car.PartPoses(r.Setting)[i].ApplyAll(part.Outline))
			}
			if s, ok := panel.Slot(part.Name, part.Thickness.Value(), outlines, t.Car.raked()); ok {
				all = append(all, s)
			}
		}
	}
	return all
}

package tui

import (
	"slices"

	"github.com/charmbracelet/x/ansi"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/design"
	"stanchion/tui/widgets"
)

// signs of the holes of a plate that is proposed: those for the bracket, those for the wing's front bolt and its rear one.
const (
	signFoot  = "┼"
	signFront = "○"
	signRear  = "●"
)

// plateTitle says what the picture shows, as far as there is room.
func (m Model) plateTitle(w int) string {
	key := signFoot + " foot " + signFront + " front " + signRear + " rear"
	dotted := ""
	if m.presentPlate() != nil {
		dotted = " · dotted: now"
	}
	return fitting(w, "plate "+key+dotted, key+dotted, key)
}

// presentPlate is the plate that is on the car now, nil where there is none.
func (m Model) presentPlate() *model.Part {
	if len(m.base.Parts) < 3 || m.row() == nil {
		return nil
	}
	return plateOf(m.base)
}

// plateView draws the marked proposal as it stands on the bracket at the first height, to scale, with its holes, and the present plate dotted,
// as it is bolted in the setting that is shown.
func (m Model) plateView(w, h int) []string {
	c := widgets.NewCanvas(w, h, looks, m.glyphs)
	one := m.marked()
	if one == nil || w < 8 || h < 4 {
		return c.Lines()
	}
	first := firstWanted(one)
	if first == nil {
		return c.Lines()
	}
	bracket, pose := standsAt(one.Car, first)
	outline := pose.ApplyAll(one.Plate().Outline)
	var ghost []plane.Point
	if now := m.presentPlate(); now != nil {
		line := now.Outline
		if line == nil {
			line = aroundHoles(*now)
		}
		_, at := standsAt(m.base, m.row())
		ghost = at.ApplyAll(line)
	}
	s := m.plateScene(c, outline, ghost)
	s.bracket(one.Car, bracket)
	s.solid(pose, one.Plate().Outline, inkUpright, one.Plate().Cutouts...)
	s.polygon(plane.Pose{}, outline, inkHole, 1)
	if ghost != nil {
		s.polygon(plane.Pose{}, ghost, inkKept, 3)
	}
	lo, hi := plane.Box(append(slices.Clip(outline), ghost...))
	middle := (lo.X + hi.X) / 2
	for _, named := range [2]bool{false, true} { // all holes first, then as many names as there is room for
		for i, hole := range one.Plate().Holes {
			at := pose.Apply(hole.At())
			s.plateHole(at, hole.ID, signOf(one.RoleOf(i)), at.X >= middle, named)
		}
	}
	s.ruler()
	return c.Lines()
}

// firstWanted is the first setting of a proposal that is wanted; nil where none is there.
func firstWanted(one *design.Proposal) *model.Row {
	for _, l := range one.Levels {
		if len(l.Rows) > 0 {
			return &one.Table.Rows[l.Rows[0]]
		}
	}
	return nil
}

// plateScene is a picture in which some outlines are whole.
func (m Model) plateScene(c *widgets.Canvas, outlines ...[]plane.Point) *scene {
	lo, hi := plane.Box(slices.Concat(outlines...))
	const margin = 12 // mm
	s := &scene{Canvas: c, m: m, sight: seeParts}
	s.scale = max((hi.X-lo.X+2*margin)/float64(2*c.W), (hi.Z-lo.Z+2*margin)/float64(4*c.H))
	s.x0 = (lo.X+hi.X)/2 - s.scale*float64(c.W)
	s.z1 = (lo.Z+hi.Z)/2 + s.scale*float64(2*c.H)
	return s
}

// plateOf is the part below a car's wing.
func plateOf(car *model.Car) *model.Part { return &car.Parts[len(car.Parts)-2] }

// standsAt returns where the plate of a car is at a setting, and the part that it is bolted to, on the ground.
func standsAt(car *model.Car, r *model.Row) (bracket, plate plane.Pose) {
	poses := car.PartPoses(r.Setting)
	return poses[len(poses)-3], poses[len(poses)-2]
}

// bracket draws the part that a car's plate is bolted to.
func (s *scene) bracket(car *model.Car, at plane.Pose) {
	part := car.Parts[len(car.Parts)-3]
	line := part.Outline
	if line == nil {
		line = aroundHoles(part)
	}
	s.solid(at, line, inkBracket)
}

// signOf is how a hole is drawn.
func signOf(r design.Role) string {
	return map[design.Role]string{design.AtFoot: signFoot, design.AtFront: signFront, design.AtRear: signRear}[r]
}

// plateHole draws a hole, or its name beside it where there is room for all of it.
func (s *scene) plateHole(at plane.Point, name, sign string, right, named bool) {
	x, y := s.cellAt(at)
	if !named {
		s.Label(x, y, sign, inkBolt)
		return
	}
	if s.scale > 8 { // too small for anyone to tell which hole a name is of
		return
	}
	wide := ansi.StringWidth(name)
	for _, to := range [2]bool{right, !right} {
		from := x + 1
		if !to {
			from = x - wide
		}
		before, after := from-1, from+wide
		if to {
			before = from
		} else {
			after = from + wide - 1
		}
		if s.Free(from, y, wide) && (before < 0 || before >= s.W || s.Free(before, y, 1)) && (after < 0 || after >= s.W || s.Free(after, y, 1)) {
			s.Label(from, y, name, inkHole)
			return
		}
	}
}

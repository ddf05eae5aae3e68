package tui

import (
	"math"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/holes/plane"
	"stanchion/tui/widgets"
)

// scene is the picture's, so large that the plate as it was and as it is now are in it.
func (d redrawMode) scene(m Model, w, h int) (s *scene, pose plane.Pose, ok bool) {
	row := firstWanted(d.from)
	if row == nil || w < 8 || h < 4 {
		return nil, pose, false
	}
	_, pose = standsAt(d.from.Car, row)
	return m.plateScene(widgets.NewCanvas(w, h, looks, m.glyphs), pose.ApplyAll(d.one.Plate().Outline), pose.ApplyAll(d.from.Plate().Outline)), pose, true
}

func (d redrawMode) picture(m Model, w, h int) []string {
	s, pose, ok := d.scene(m, w, h)
	if !ok {
		return nil
	}
	bracket, _ := standsAt(d.from.Car, firstWanted(d.from))
	s.bracket(d.one.Car, bracket)
	s.solid(pose, d.one.Plate().Outline, inkUpright, d.one.Plate().Cutouts...)
	s.polygon(pose, d.one.Plate().Outline, inkHole, 1)
	if d.changed() {
		s.polygon(pose, d.from.Plate().Outline, inkKept, 3)
	}
	if d.about >= 0 {
		s.circle(pose.Apply(d.drawn.holes[d.about].At()), d.from.Pitch, inkAngle)
	}
	lo, hi := plane.Box(pose.ApplyAll(d.one.Plate().Outline))
	order := []int{d.at}
	for i := range d.drawn.holes {
		if i != d.at {
			order = append(order, i)
		}
	}
	for _, named := range [2]bool{false, true} {
		for _, i := range order {
			hole := d.drawn.holes[i]
			at, sign := pose.Apply(hole.At()), signOf(d.from.RoleOf(i))
			if i == d.at {
				sign = signTrial
			}
			s.plateHole(at, hole.ID, sign, at.X >= (lo.X+hi.X)/2, named)
		}
	}
	s.ruler()
	return s.Lines()
}

// mouse takes the hole nearest to a click on the picture.
func (d redrawMode) mouse(m Model, msg tea.MouseMsg) (Model, tea.Cmd) {
	picture, _, _, _ := d.panes(m)
	x, y, ok := inside(picture, msg.X, msg.Y)
	if !ok || msg.Button != tea.MouseButtonLeft {
		return m, nil
	}
	s, pose, ok := d.scene(m, picture.W, picture.H-1)
	if !ok {
		return m, nil
	}
	best, nearest := d.at, math.Inf(1)
	for i, h := range d.drawn.holes {
		hx, hy := s.cellAt(pose.Apply(h.At()))
		if off := math.Hypot(float64(hx-x), 2*float64(hy-y)); off < nearest {
			best, nearest = i, off
		}
	}
	m.message = ""
	return d.choose(m, best), nil
}

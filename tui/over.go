package tui

import (
	"fmt"
	"math"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model"
	"stanchion/model/speeds"
	"stanchion/model/units"
)

// sweptMsg answers how settings go over speed.
type sweptMsg struct {
	asked int
	sweep speeds.Sweep
	err   error
}

// overSpeed asks for the current and the kept setting over speed. It solves the
// wing at many speeds, so it is done in the background.
func (m Model) overSpeed() (Model, tea.Cmd) {
	m.sweeps++
	m.message = "working it out over speed…"
	car, asked, vs := m.car, m.sweeps, speeds.SweepSpeeds(m.car)
	return m, func() tea.Msg {
		s, err := speeds.Over(car, vs)
		return sweptMsg{asked, s, err}
	}
}

// take opens the page with the answer.
func (msg sweptMsg) take(m Model) (Model, tea.Cmd) {
	if msg.asked != m.sweeps || m.mode != walking && (m.mode != reading || m.shown == "") || m.row() == nil {
		return m, nil
	}
	m.message = ""
	if msg.err != nil {
		m.message = msg.err.Error()
		return m, nil
	}
	s := msg.sweep
	m, _ = m.read(func(m Model) []string { return m.overText(s) })
	m.shown = "o"
	return m, nil
}

// overText is the page: the curves of the current and the kept setting, and the
// figures of the current one.
func (m Model) overText(s speeds.Sweep) []string {
	u := m.units
	lines := []string{titleStyle.Render("over speed"), ""}
	marks := []struct {
		mark rune
		row  *model.Row
	}{{'A', m.row()}}
	if k := m.keptRow(); k != nil && k != m.row() {
		marks = append(marks, struct {
			mark rune
			row  *model.Row
		}{'B', k})
	}
	var curves []Curve
	for _, s2 := range marks {
		c := Curve{Mark: s2.mark}
		for k, t := range s.Tables {
			if r, ok := t.Find(s2.row.ID); ok {
				c.X, c.Y = append(c.X, u.SpeedFigure(s.Speeds[k])), append(c.Y, r.Downforce/u.ForceSize())
			}
		}
		curves = append(curves, c)
		lines = append(lines, fmt.Sprintf("%c  %s", s2.mark, s2.row.ID))
	}
	lines = append(lines, "")
	if !m.words { // which has the table below
		lines = append(lines, Plot(min(m.width-2, 100), max(10, m.height-18), curves, "downforce, "+u.ForceUnit(), u.SpeedUnit())...)
		lines = append(lines, "")
	}
	lines = append(lines, fmt.Sprintf("%10s %10s %8s %11s %11s %8s", "speed", "downforce", "drag", "front load", "rear load", "share"),
		fmt.Sprintf("%10s %10s %8s %11s %11s %8s", "", u.ForceUnit(), u.ForceUnit(), u.ForceUnit(), u.ForceUnit(), "%"))
	for k, t := range s.Tables {
		if r, ok := t.Find(m.row().ID); ok {
			lines = append(lines, fmt.Sprintf("%10s %10s %8s %11s %11s %8s", u.Speed(s.Speeds[k]), u.ForceFigure(r.Downforce), u.ForceFigure(r.Drag),
				u.ForceFigure(r.Load.Front), u.ForceFigure(r.Load.Rear), units.Fixed(100*r.Share, 1)))
		}
	}
	last := s.Tables[len(s.Tables)-1]
	if r, ok := last.Find(m.row().ID); ok {
		if v, ok := speeds.TopSpeed(last, r); ok && !math.IsNaN(v) {
			bare, _ := speeds.BareTopSpeed(m.car)
			lines = append(lines, "", fmt.Sprintf("drag-limited top speed %s, without the wing's drag %s (no rolling resistance, no gearing)", u.Speed(v), u.Speed(bare)))
		}
	}
	return lines
}

package tui

import (
	"context"
	"fmt"
	"math"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model"
	"stanchion/model/figures"
	"stanchion/model/speeds"
	"stanchion/tui/widgets"
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
	if m.stop != nil {
		m.stop() // the question before
	}
	var ctx context.Context
	ctx, m.stop = context.WithCancel(context.Background())
	m.sweeps++
	m.message = "working it out over speed…"
	car, asked, vs := m.car, m.sweeps, append(speeds.SweepSpeeds(m.car), m.speed)
	return m, func() tea.Msg {
		s, err := speeds.Over(ctx, car, vs)
		return sweptMsg{asked, s, err}
	}
}

// take opens the page with the answer.
func (msg sweptMsg) take(m Model) (Model, tea.Cmd) {
	if page, reading := in[pageMode](m); msg.asked != m.sweeps || !m.walking() && (!reading || page.sheet == "") || m.row() == nil {
		return m, nil
	}
	m.message = ""
	if msg.err != nil {
		m.message = msg.err.Error()
		return m, nil
	}
	s := msg.sweep
	return m.with(pageMode{lines: func(m Model) []string { return m.overText(s) }, sheet: "o"}), nil
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
	var curves []widgets.Curve
	for _, s2 := range marks {
		c := widgets.Curve{Mark: s2.mark}
		for k, t := range s.Tables {
			if r, ok := t.Find(s2.row.ID); ok {
				c.X, c.Y = append(c.X, u.SpeedFigure(s.Speeds[k])), append(c.Y, r.Downforce/u.ForceSize())
			}
		}
		curves = append(curves, c)
		lines = append(lines, fmt.Sprintf("%c  %s", s2.mark, m.table.Name(s2.row.Setting)))
	}
	lines = append(lines, "")
	if !m.words { // which has the table below
		lines = append(lines, widgets.Plot(min(m.width-2, 100), max(10, m.height-18), curves, "downforce, "+u.ForceUnit(), u.SpeedUnit(), m.glyphs)...)
		lines = append(lines, "")
	}
	swept := figures.Swept(m.car)
	if m.width < 80 && !m.words { // there is room for what matters most
		swept = figures.Pick(figures.Downforce, figures.Drag, figures.FrontShare)
	}
	row := func(first string, cell func(figures.Figure) string) {
		line := fmt.Sprintf("%10s", first)
		for _, f := range swept {
			line += fmt.Sprintf(" %*s", max(8, len(f.Heading())), cell(f))
		}
		lines = append(lines, line)
	}
	row("speed", figures.Figure.Heading)
	row("", func(f figures.Figure) string { return f.Unit(u) })
	for k, t := range s.Tables {
		if r, ok := t.Find(m.row().ID); ok {
			row(u.Speed(s.Speeds[k]), func(f figures.Figure) string { return f.Spell(f.Of(t, r), u) })
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

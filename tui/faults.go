package tui

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model"
	"stanchion/model/units"
	"stanchion/tui/widgets"
)

// listFaults opens the page on the car file: its faults, what is assumed, what is odd.
func (m Model) listFaults() (Model, tea.Cmd) { return m.read(Model.fileText) }

func needsFaults(m Model) string {
	if len(m.faults)+len(m.car.Assumed)+len(m.car.Warnings) == 0 {
		return "the car file has no faults, and nothing is assumed"
	}
	return ""
}

// fileText is the page on the car file as it now is.
func (m Model) fileText() []string {
	var lines []string
	if len(m.faults) > 0 {
		lines = append(append(lines, titleStyle.Render("what is wrong with the car file as it now is"), ""), m.faults...)
		lines = append(lines, "")
	}
	var said, left []model.Assumption
	for _, a := range m.car.Assumed {
		if a.Said {
			said = append(said, a)
		} else {
			left = append(left, a)
		}
	}
	list := func(title, how string, all []model.Assumption) {
		if len(all) == 0 {
			return
		}
		lines = append(lines, titleStyle.Render(title), how, "")
		for _, a := range all {
			lines = append(lines, assumedStyle.Render(units.Printable(a.What))+": "+units.Printable(a.Value))
			lines = append(lines, mapLines(widgets.Wrap(touched(a), max(m.width-5, 20)), func(s ...string) string { return "  " + strings.Join(s, "") })...)
		}
		lines = append(lines, "")
	}
	list(units.Count(len(said), "value")+" assumed in the file", "Measure each, change it, and take its line out of assumed = [ ... ]; E opens the file.", said)
	list(units.Count(len(left), "value")+" assumed where the file says nothing", "Each can be given in the file.", left)
	if len(m.car.Warnings) > 0 {
		lines = append(lines, titleStyle.Render("usable, but check these"), "")
		lines = append(lines, units.AllIn(m.car.Warnings, m.units)...)
		lines = append(lines, "")
	}
	if m.car.AssumedOn(model.OnAll) || !m.car.FlowMeasured() {
		lines = append(lines, fmt.Sprintf("A figure with %s behind its name rests on one of these.", markAssumed))
	}
	return lines
}

// touched says what an assumption weighs on, and what to do about it.
func touched(a model.Assumption) string {
	var on []string
	for _, t := range []struct {
		touch model.Touch
		name  string
	}{{model.OnAngle, "angle"}, {model.OnHeight, "height"}, {model.OnAir, "forces of the air"}, {model.OnAxles, "axle loads"},
		{model.OnAxles | model.OnShare, "front share"}, {model.OnPlay, "play"}} {
		if a.On&t.touch != 0 {
			on = append(on, t.name)
		}
	}
	switch {
	case len(on) == 0:
		return a.Note
	case a.Said:
		return "weighs on " + strings.Join(on, ", ")
	}
	return a.Note + "; weighs on " + strings.Join(on, ", ")
}

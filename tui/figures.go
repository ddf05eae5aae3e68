package tui

import (
	"fmt"
	"math"
	"strings"

	"stanchion/model"
	"stanchion/model/figures"
	"stanchion/model/units"
	"stanchion/model/words"
	"stanchion/tui/widgets"
)

// figureLines is how many lines the figures take with their title and limits.
const figureLines = 18

// tightBody is the height of the body up to which less pressing figures are
// left out, so that the bolts have room.
const tightBody = 26

// markAssumed stands behind the name of a figure that rests on a value which
// nobody gave.
const markAssumed = "*"

// paneLine is one line of the figures pane: a figure, and the system that it is shown in.
type paneLine struct {
	figures.Figure
	name   string // "" for a line that goes on with the one above
	units  units.System
	beside *figures.Figure // a second figure on the line; nil for none
}

// paneLines lists the lines of the figures pane.
func (m Model) paneLines(whole bool) []paneLine {
	var all []paneLine
	for _, k := range []figures.Key{figures.Height, figures.GroundAngle, figures.Play, figures.Attack, figures.StallMargin, figures.CL,
		figures.Downforce,
		figures.Drag, figures.OwnDrag, figures.FrontChange, figures.RearChange, figures.FrontShare, figures.BalanceShift, figures.Top} {
		f := figures.Get(k)
		line := paneLine{Figure: f, name: f.Name, units: m.units}
		switch k {
		case figures.OwnDrag:
			lean := figures.Get(figures.Lean)
			line.name, line.beside = " own, lean", &lean
		case figures.Top:
			if !whole { // the limits say when it is too high
				continue
			}
		}
		all = append(all, line)
		if k == figures.Downforce && !m.units.Pounds() {
			all = append(all, paneLine{Figure: f, units: m.units.InKGF()})
		}
	}
	return all
}

// figuresView draws the figures of the current setting with their uncertainty, or
// beside those of the kept one with the difference.
func (m Model) figuresView(w, h int) []string {
	r, k := m.row(), m.keptRow()
	if r == nil {
		return nil
	}
	const name, column = 18, 7
	budget := m.table.Budget(r)
	var lines []string
	if k != nil {
		lines = append(lines, quietStyle.Render(fmt.Sprintf("%*s%*s%*s", name+column, "now", column, "kept", column+1, "change")))
	}
	for _, l := range m.paneLines(m.height-2 > tightBody) {
		label, assumed := l.name, l.ByFlow && !m.car.Flow.Known() // all that the air does then rests on an assumed flow
		if assumed && label != "" {
			label += markAssumed
		}
		left := fmt.Sprintf("%-*s%*s", name-3, label, 3, l.Unit(l.units))
		if assumed {
			left = assumedStyle.Render(left)
		}
		line := left + figureStyle.Render(widgets.Pad(" "+m.spell(l, r), column))
		std, known := l.StdUncOf(budget.Contribution)
		switch {
		case k != nil:
			line += keptStyle.Render(widgets.Pad(" "+m.spell(l, k), column)) + widgets.Pad(" "+m.change(l, r, k), column+1)
			if change, ok := l.StdUncOf(m.differenceStdUnc(r, k)); ok && math.Abs(l.Of(m.table, r)-l.Of(m.table, k)) < change {
				line += " ≈"
			}
		case known && !math.IsNaN(l.Of(m.table, r)):
			line += " ± " + l.SpellStdUnc(std, l.units)
		}
		lines = append(lines, line)
	}
	lines = append(lines, m.limitLine(r, budget))
	return lines[:min(len(lines), h)]
}

// change spells how a figure changes from a kept row to this one.
func (m Model) change(l paneLine, r, k *model.Row) string {
	return l.Change(l.Of(m.table, r), l.Of(m.table, k), l.units)
}

// differenceStdUnc is how uncertain the difference of two rows is.
func (m Model) differenceStdUnc(r, k *model.Row) model.Contribution {
	return model.DifferenceStdUnc(m.table.Budget(r), m.table.Budget(k))
}

// spell spells a row's figure, with the second one beside it.
func (m Model) spell(l paneLine, r *model.Row) string {
	text := l.Spell(l.Of(m.table, r), l.units)
	if l.beside != nil {
		text += "," + l.beside.Spell(l.beside.Of(m.table, r), l.units)
	}
	return text
}

// limitLine says at a glance whether the setting can be run: limits, and strength.
func (m Model) limitLine(r *model.Row, b model.Budget) string {
	text, bad := m.holdText()
	style := quietStyle
	if bad {
		style, text = outsideStyle, "× "+text
	}
	hold := style.Render(text)
	switch {
	case !math.IsNaN(r.StallMargin) && r.Stalled:
		return outsideStyle.Render("× STALLED, ± rough") + "  " + hold
	case !r.Within():
		return outsideStyle.Render("× breaks a limit") + "  " + hold
	}
	if b.Rough != model.NotRough {
		return withinStyle.Render("• allowed, ± rough") + "  " + hold
	}
	return withinStyle.Render("• keeps all limits") + "  " + hold
}

// boltsView says in words which bolts go where, what is outside the limits, and
// what was assumed.
func (m Model) boltsView(w, h int) []string {
	r := m.row()
	if r == nil {
		return nil
	}
	var lines []string
	if n := len(m.faults); n > 0 {
		what := fmt.Sprintf("The car file has %d faults: e lists them. Shown is the car as it last was.", n)
		if n == 1 {
			what = "The car file has a fault: e says which. Shown is the car as it last was."
		}
		for _, l := range widgets.Wrap(what, w) {
			lines = append(lines, faultStyle.Render(l))
		}
	}
	for _, l := range words.BoltLines(m.car, r.Setting) {
		lines = append(lines, widgets.Wrap(l, w)...)
	}
	for _, o := range words.Outside(r, m.units) {
		for _, l := range widgets.Wrap("× "+o, w) {
			lines = append(lines, outsideStyle.Render(l))
		}
	}
	if ran := m.ranLine(r); ran != "" {
		lines = append(lines, widgets.Wrap(ran, w)...)
	}
	if ids := r.AlternativeIDs(); len(ids) > 0 {
		lines = append(lines, widgets.Wrap(fmt.Sprintf("the same place (; bolts it so): %s", strings.Join(ids, ", ")), w)...)
	}
	if r.Gap.Known() && r.Within() {
		lines = append(lines, widgets.Wrap("clear: "+words.Gap(r.Gap, m.units), w)...)
	}
	for _, a := range m.car.Assumed {
		for _, l := range widgets.Wrap(markAssumed+" assumed: "+a.What+": "+a.Value, w) {
			lines = append(lines, assumedStyle.Render(l))
		}
	}
	for _, l := range widgets.Wrap("wing: "+m.table.Wing.From, w) {
		lines = append(lines, quietStyle.Render(l))
	}
	if room := h - len(lines); room >= minMore {
		lines = append(lines, m.moreLines(w, room)...)
	}
	if len(lines) > h && h > 0 {
		lines = append(lines[:h-1], quietStyle.Render("… enter shows all"))
	}
	return lines
}

// wrapped is wrap, but for the walk in words, which says a text in one piece.
func (m Model) wrapped(text string, w int) []string {
	if m.words {
		return []string{text}
	}
	return widgets.Wrap(text, w)
}

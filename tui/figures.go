package tui

import (
	"fmt"
	"math"
	"strings"

	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"

	"stanchion/model"
	"stanchion/model/choose"
	"stanchion/model/figures"
	"stanchion/model/units"
	"stanchion/model/words"
	"stanchion/tui/widgets"
)

// figureLines is how many lines the figures take at most with their title.
const figureLines = 18

// markAssumed stands behind the name of a figure that rests on a value which
// nobody gave.
const markAssumed = "*"

// paneLine is one line of the figures pane: a figure, and the system that it is shown in.
type paneLine struct {
	figures.Figure
	name   string // "" for a line that goes on with the one above
	units  units.System
	beside *figures.Figure // a second figure on the line; nil for none
	rank   int             // lines of a low rank stay where there is little room
}

// stdUnc is one standard uncertainty of the figure, and whether it is known.
func (l paneLine) stdUnc(b model.Budget) (float64, bool) {
	if l.Key == figures.StallMargin {
		return b.Margin, b.Margin > 0
	}
	return l.StdUncOf(b.Contribution)
}

// paneLines lists the lines of the figures pane, what matters most first.
func (m Model) paneLines() []paneLine {
	var all []paneLine
	for _, k := range []struct {
		key  figures.Key
		rank int
	}{{figures.Downforce, 0}, {figures.OnCar, 0}, {figures.Drag, 0}, {figures.OwnDrag, 3}, {figures.UprightsDrag, 3}, {figures.FrontShare, 0}, {figures.BalanceShift, 2},
		{figures.FrontChange, 1}, {figures.RearChange, 1}, {figures.CL, 2}, {figures.GroundAngle, 0}, {figures.Play, 3},
		{figures.Attack, 1}, {figures.StallMargin, 0}, {figures.Height, 0}, {figures.Top, 3}} {
		r := m.row()
		if k.key == figures.OnCar && !m.car.HasDeck() || k.key == figures.UprightsDrag && (r == nil || !r.Struts.Known) {
			continue
		}
		f := figures.Get(k.key)
		line := paneLine{Figure: f, name: f.Name, units: m.units, rank: k.rank}
		if k.key == figures.Attack {
			line.name = "attack"
		}
		if k.key == figures.UprightsDrag {
			line.name = " uprights"
		}
		if k.key == figures.OwnDrag {
			lean := figures.Get(figures.LeanCounted)
			line.name, line.beside = " own, lean", &lean
		}
		all = append(all, line)
		if k.key == figures.Downforce && !m.units.Pounds() {
			all = append(all, paneLine{Figure: f, units: m.units.InKGF(), rank: 4})
		}
	}
	return all
}

// shown leaves out the lines that matter least until what is left fits.
func shown(all []paneLine, room int) []paneLine {
	for rank := 4; len(all) > room && rank >= 0; rank-- {
		for i := len(all) - 1; i >= 0 && len(all) > room; i-- {
			if all[i].rank == rank {
				all = append(all[:i:i], all[i+1:]...)
			}
		}
	}
	return all[:min(len(all), max(room, 0))]
}

// columns of the figures pane: name and unit, the figure with its ±, the change with its own.
const (
	figureName   = 15
	figureColumn = 11
	changeColumn = 11
)

// columns are how wide a figure and its ± are: in ASCII the ± sign is two.
func (m Model) columns() (figure, band int) {
	if m.glyphs == widgets.ASCII {
		return 5, 6
	}
	return 6, 5
}

// banded is a figure with its ±, each in its column.
func (m Model) banded(figure, band string, style lipgloss.Style) string {
	wide, narrow := m.columns()
	return style.Render(widgets.Pad(m.glyphs.Spell(figure), wide)) + fmt.Sprintf("%-*s", narrow, m.glyphs.Spell(band))
}

// figuresView draws the figures of the current setting with their uncertainty, and the change to the
// setting that is compared with. A change that is not clear is marked, and grey where
// there is no clear difference.
func (m Model) figuresView(w, h int) []string {
	r := m.row()
	if r == nil {
		return nil
	}
	k, name := m.reference()
	if k != nil && k.ID == r.ID {
		k = nil
	}
	budget := m.sure().budget
	var lines []string
	if k != nil {
		lines = append(lines, quietBrush.Paint(fmt.Sprintf("%*s%*s", figureName+figureColumn, "now", changeColumn+1, "from "+name)))
	}
	var difference model.Contribution
	if k != nil {
		difference = model.DifferenceStdUnc(budget, m.table.Budget(k))
	}
	room := h - len(lines) - 2
	for _, l := range shown(m.paneLines(), room) {
		lines = append(lines, m.figureLine(l, r, k, budget, difference))
	}
	lines = append(lines, m.strengthLine(r, k), m.gapLine(r, k))
	return lines[:min(len(lines), h)]
}

// figureLine is one line of the pane.
func (m Model) figureLine(l paneLine, r, k *model.Row, budget model.Budget, difference model.Contribution) string {
	label, assumed := l.name, l.Assumed(m.car)
	if assumed && label != "" {
		label += markAssumed
	}
	unit := l.Unit(l.units)
	left := label + strings.Repeat(" ", max(1, figureName-ansi.StringWidth(label)-ansi.StringWidth(unit))) + unit
	if assumed {
		left = assumedStyle.Render(left)
	}
	std, known := l.stdUnc(budget)
	figure := m.spell(l, r)
	band := ""
	if known && !math.IsNaN(l.Of(m.table, r)) && !math.IsNaN(std) {
		band = "±" + l.SpellStdUnc(std, l.units)
	}
	line := left + m.banded(figure, band, figureStyle)
	if l.beside != nil {
		line = left + figureStyle.Render(widgets.Pad(figure, 8)) + "   "
	}
	if k == nil {
		return line
	}
	return line + " " + m.changeColumns(l, r, k, difference)
}

// What stands before a change that is not clear.
const (
	markAlike   = "≈" // no clear difference
	markNotSure = "?" // not sure
)

// changeColumns spells the change of a figure, with its own uncertainty.
func (m Model) changeColumns(l paneLine, r, k *model.Row, difference model.Contribution) string {
	change, band := m.change(l, r, k), ""
	std, known := l.StdUncOf(difference)
	by := l.Of(m.table, r) - l.Of(m.table, k)
	if l.beside != nil {
		return "  " + change + "," + l.beside.Change(l.beside.Of(m.table, r), l.beside.Of(m.table, k), l.units)
	}
	if known && !math.IsNaN(by) && !math.IsNaN(std) {
		change, band = m.changeWithStdUnc(l, r, k, std)
		change = markOf(by, std) + change
	}
	if strings.HasPrefix(change, markAlike) {
		return quietStyle.Render(m.banded(change, band, lipgloss.NewStyle()))
	}
	return m.banded(change, band, lipgloss.NewStyle())
}

// markOf is what stands before a change with its standard uncertainty; "" where it is clear.
func markOf(by, std float64) string {
	switch choose.ClarityOf(by, std) {
	case choose.NoClearDifference:
		return markAlike
	case choose.NotSure:
		return markNotSure
	}
	return ""
}

// changeWithStdUnc spells a change and its ±, with a further digit where rounding would belie the mark and there is
// room for it in the columns.
func (m Model) changeWithStdUnc(l paneLine, r, k *model.Row, std float64) (change, band string) {
	now, before := l.Of(m.table, r), l.Of(m.table, k)
	change, band = l.ChangeWithStdUnc(now, before, std, l.units)
	if ansi.StringWidth(m.glyphs.Spell(markNotSure+change+"±"+band)) > changeColumn {
		return l.Change(now, before, l.units), "±" + l.SpellStdUnc(std, l.units)
	}
	return change, "±" + band
}

// change spells how a figure changes from another row to this one.
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
	if l.beside != nil && !math.IsNaN(l.Of(m.table, r)) {
		text += "," + l.beside.Spell(l.beside.Of(m.table, r), l.units)
	}
	return text
}

// ownLine is a line about something that is not in the list of figures.
func ownLine(name, unit, figure, change string) string {
	line := name + strings.Repeat(" ", max(1, figureName-len([]rune(name))-len([]rune(unit)))) + unit + figureStyle.Render(widgets.Pad(figure, 6))
	if change != "" {
		line += strings.Repeat(" ", 6) + widgets.Pad(change, 6)
	}
	return line
}

// strengthLine says how much of its strength the setting uses, and what of it is not checked.
func (m Model) strengthLine(r, k *model.Row) string {
	text, bad := m.holdShort()
	if text == "" {
		return ownLine("strength used", "%", units.NotGiven, "")
	}
	if bad {
		return "strength used" + "  " + outsideStyle.Render(text)
	}
	change := ""
	if k != nil {
		was, ok := m.usedAt(k)
		ok = ok && m.solvedAlike(r, k)
		is, ok2 := m.usedAt(r)
		if ok && ok2 {
			change = units.Signed(100*(is-was), 0)
		}
	}
	return ownLine("strength used", "%", text, change)
}

// gapLine says how near the setting comes to body and lid.
func (m Model) gapLine(r, k *model.Row) string {
	if !r.Gap.Known() || r.Gap.To == "" {
		return ""
	}
	change := ""
	if k != nil && k.Gap.To != "" {
		change = m.units.SignedLength(r.Gap.Distance - k.Gap.Distance)
	}
	return ownLine("gap to "+r.Gap.To, m.units.LengthUnit(), m.units.LengthFigure(r.Gap.Distance), change)
}

// pairText says the two figures that a setting is chosen by.
func (m Model) pairText(r *model.Row) string {
	f := func(k figures.Key) string { return words.LongFigure(m.table, r, figures.Get(k), m.units) }
	return "downforce " + f(figures.Downforce) + ", front share " + f(figures.FrontShare)
}

// changeText says how the downforce changes, and whether the change is clear.
func (m Model) changeText(r, k *model.Row) string {
	text := m.changeOf(figures.Get(figures.Downforce), r, k)
	if choose.Apart(r, k, m.differenceStdUnc(r, k)) != choose.Clear {
		text += ", " + words.Apart(m.table, r, k)
	}
	return text
}

// changeOf says how a figure changes, with its mark.
func (m Model) changeOf(f figures.Figure, r, k *model.Row) string {
	std, ok := f.StdUncOf(m.differenceStdUnc(r, k))
	text := f.Change(f.Of(m.table, r), f.Of(m.table, k), m.units)
	if ok {
		change, band := f.ChangeWithStdUnc(f.Of(m.table, r), f.Of(m.table, k), std, m.units)
		text = change + " ± " + band
	}
	unit := f.ChangeUnit(m.units)
	if unit == "°" {
		return text + unit
	}
	return text + " " + unit
}

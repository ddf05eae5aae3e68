package tui

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/bolting"
	"stanchion/model/units"
	"stanchion/tui/widgets"
)

// tableLegend says what the marks stand for, and where a hole would help.
func (m Model) tableLegend(w int) []string {
	parts := m.markLegend(true, w)
	if r, ok := bolting.InSlot(m.table, m.row()); ok {
		return widgets.Wrap("bolt in slot "+r.Slot.ID+": "+units.Fixed(r.Angle/plane.Deg, 1)+"° at "+r.Slot.Where(r.Distance)+
			"; 1 mm is "+units.Fixed(math.Abs(r.PerMM)/plane.Deg, 2)+"°", w)
	}
	if step := m.widestStep(); m.added == nil && step != "" {
		parts = append(parts, step)
	}
	return widgets.Flow(parts, w)
}

// narrowLegend is the width below which a legend is brief.
const narrowLegend = 50

// markLegend says what the marks of both maps stand for: brackets about figures, or signs. What breaks a limit comes
// first, as small panes show the first line alone.
func (m Model) markLegend(brackets bool, w int) []string {
	here, kept, car, breaks := "◆ here", "◇ kept", "▷ on the car", "× breaks a limit"
	if brackets {
		here, kept, car = "[ ] here", "( ) kept", "< > on the car"
		if paintings()[m.paint].key == "0" {
			breaks = "–× breaks a limit" // it has no chance
		}
	}
	if w < narrowLegend {
		car = strings.Replace(car, "on the car", "car", 1)
	}
	parts := []string{breaks}
	if m.keptRow() != nil {
		parts = append(parts, kept)
	}
	if m.onCar != "" && m.onCar != m.keptID {
		parts = append(parts, car)
	}
	parts = append(parts, here)
	if m.anyStalled() {
		parts = append(parts, "~ stalled")
	}
	if paintings()[m.paint].key == "5" {
		parts = append(parts, "– not checked, above 100 does not hold; by formulas until solved")
	}
	if paintings()[m.paint].key == "9" {
		parts = append(parts, ranLegend)
	}
	return parts
}

func (m Model) anyStalled() bool { return m.memo.about(m.table).stalled }

// widestStep says between which columns the widest step of angle is, of those that some setting within the limits
// stands in; "" where there is none to speak of, and where a column is not one angle.
func (m Model) widestStep() string {
	if k := &m.memo.step; k.grid != m.grid || k.table != m.table {
		*k = stepOf{m.grid, m.table, m.workOutWidestStep()}
	}
	return m.memo.step.text
}

// stepOf is the widest step of a table, remembered.
type stepOf struct {
	grid  *bolting.Grid
	table *model.Table
	text  string
}

func (m Model) workOutWidestStep() string {
	g := m.grid
	if g == nil || !g.Even || g.Slotted || m.order != bolting.ByAngle {
		return ""
	}
	last, from, to, widest := -1, -1, -1, 0.0
	for k := range g.Columns {
		within := false
		for i := range g.Lines {
			s, ok := g.Setting(bolting.Cell{Line: i, Column: k})
			within = within || ok && m.table.Rows[s.Row].Within() && !m.table.Rows[s.Row].Stalled
		}
		if !within {
			continue
		}
		if last >= 0 && g.Columns[k].Angle-g.Columns[last].Angle > widest+1e-6 {
			from, to, widest = last, k, g.Columns[k].Angle-g.Columns[last].Angle
		}
		last = k
	}
	if from < 0 || widest < plane.Deg {
		return ""
	}
	name := func(k int) string {
		_, head := m.table.NameParts(&holes.Setting{Fits: append(slices.Clone(m.row().Fits[:len(m.row().Fits)-1]), g.Columns[k].Fits[0])})
		return head
	}
	return fmt.Sprintf("widest step %s°, %s to %s; d looks for a hole", units.Fixed(widest/plane.Deg, 1), name(from), name(to))
}

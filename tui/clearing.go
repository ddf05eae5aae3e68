package tui

import (
	"fmt"
	"math"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/holes/plane"
	"stanchion/model/units"
	"stanchion/model/words"
)

func needsBody(m Model) string {
	if m.car.Body == nil && m.car.Lid.Outline == nil && len(m.car.Panels) == 0 {
		return "nothing to keep clear of: the car file may give [body], [lid] and [[panel]]"
	}
	return needsRows(m)
}

func needsLid(m Model) string {
	if m.car.Lid.Outline == nil {
		return "the car file gives no [lid]"
	}
	return needsRows(m)
}

// lidStep is how far a key swings the lid.
const lidStep = 5 * plane.Deg

// swing opens or shuts the lid in the side view, a step at a time, with a stop
// where the setting is nearest to it.
func swing(way float64) func(Model) (Model, tea.Cmd) {
	return func(m Model) (Model, tea.Cmd) {
		most := math.Abs(m.car.Lid.Open)
		next := m.lid + way*lidStep
		g := m.row().Gap
		if stop := math.Abs(g.Turn); g.To == "lid" && (stop-m.lid)*way > 1e-6 && (next-stop)*way > 0 {
			next = stop
		}
		next = min(max(next, 0), most)
		if next == m.lid {
			m.message = "the lid is shut"
			if way > 0 {
				m.message = fmt.Sprintf("the lid opens no further than %s°", units.Fixed(most/plane.Deg, 0))
			}
			return m, nil
		}
		m.lid = next
		m.message = m.lidText()
		return m, nil
	}
}

// lidText says how far the lid is open, and how near it then comes.
func (m Model) lidText() string {
	text := fmt.Sprintf("lid %s° open", units.Fixed(m.lid/plane.Deg, 1))
	if g := m.row().Gap; g.To == "lid" {
		text += "; nearest is " + words.Gap(g, m.units)
	}
	return text
}

// lidAtNearest draws the lid where the setting is nearest to it.
func (m Model) lidAtNearest() Model {
	if g := m.row().Gap; g.To == "lid" {
		m.lid = math.Abs(g.Turn)
	}
	return m
}

// clearanceText is the page on clearance.
func (m Model) clearanceText() []string {
	r := m.row()
	return append([]string{titleStyle.Render("clearance of setting " + m.table.Name(r.Setting)), ""}, words.Clearance(m.table, r, m.units)...)
}

package tui

import (
	"math"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/figures"
	"stanchion/model/units"
	"stanchion/model/words"
)

// underLarge says the setting's main figures under a large map.
func (m Model) underLarge() []string {
	r := m.row()
	if r == nil {
		return nil
	}
	text := m.units.Length(r.Height) + ", " + units.Fixed(r.Angle/plane.Deg, 1) + "°: " + m.pairText(r)
	brief := words.LongFigure(m.table, r, figures.Get(figures.Downforce), m.units)
	painted := m.paintedText(r)
	if painted != "" {
		text, brief = text+", "+painted, painted
	}
	if m.width < 80 || ansi.StringWidth(text) > m.width {
		text = brief
	}
	if k, name := m.reference(); k != nil && k.ID != r.ID {
		change := "; from " + name + " " + m.changeText(r, k)
		if painted != "" {
			change = ""
			if by := paintings()[m.paint].figure; by != "" {
				f := figures.Get(by)
				std, _ := f.StdUncOf(m.differenceStdUnc(r, k))
				change = "; from " + name + " " + markOf(f.Of(m.table, r)-f.Of(m.table, k), std) + m.changeOf(f, r, k)
			}
		}
		if ansi.StringWidth(text+change) > m.width {
			text = brief
		}
		text += change
	}
	return []string{ansi.Truncate(text, m.width, "…")}
}

// paintedText is a row's figure that the maps are painted by, where that is not the downforce or the front share.
func (m Model) paintedText(r *model.Row) string {
	by := paintings()[m.paint]
	if by.figure == figures.Downforce || by.figure == figures.FrontShare {
		return ""
	}
	switch f, ok := figures.Find(by.figure); {
	case ok && m.width < 80:
		name := by.name
		if by.short != "" {
			name = by.short
		}
		return name + " " + words.Figure(m.table, r, f, m.units)
	case ok:
		return by.name + " " + words.LongFigure(m.table, r, f, m.units)
	}
	v := m.paintedNow().values[m.current]
	if math.IsNaN(v) {
		return by.name + " " + units.NotGiven
	}
	return strings.TrimSpace(by.name + " " + by.cell(m, r, v) + " " + by.unit(m.units))
}

package tui

import (
	"stanchion/model/bolting"
)

// digitsOn writes a digit for each setting, 0 to 9 of the range; what matters more goes over what
// matters less.
func (m Model) digitsOn(p *plot, values *painted) {
	m.bandsOn(p, values)
	for _, within := range [2]bool{false, true} {
		for i := range m.table.Rows {
			if m.inBand(i) {
				continue
			}
			r := &m.table.Rows[i]
			if r.Within() != within {
				continue
			}
			x, y := p.cell(r)
			k := values.step(values.values[i], 10)
			switch {
			case !within:
				p.put(x, y, "×", outsideBrush)
			case r.Stalled:
				p.put(x, y, "~", outsideBrush)
			case k < 0:
				p.put(x, y, "–", plainBrush)
			default:
				p.put(x, y, string(rune('0'+k)), shadeBrushes[k/2])
			}
		}
	}
}

// hereOn marks the kept setting and the one that is shown.
func (m Model) hereOn(p *plot) {
	if m.onCar != "" {
		if r, ok := m.memo.onCarIn(m.table, m.onCar); ok {
			x, y := p.cell(r)
			p.put(x, y, string(signOnCar), keptBrush)
		}
	}
	if k := m.keptRow(); k != nil {
		x, y := p.cell(k)
		p.put(x, y, string(signKept), keptBrush)
	}
	x, y := p.cell(m.row())
	p.put(x, y, string(signCurrent), selectedBrush)
}

// inBand reports whether a row is a place in a slot, which is part of its band.
func (m Model) inBand(i int) bool {
	if !m.grid.Slotted {
		return false
	}
	at, ok := m.grid.Cell(m.table.Rows[i].ID)
	return ok && m.grid.Columns[at.Column].Slot != ""
}

// bandsOn draws the places of each slot as one band, in the shades of its figure, crossed out where it breaks a
// limit.
func (m Model) bandsOn(p *plot, values *painted) {
	for line := range m.grid.Lines {
		for col := range m.grid.Columns {
			c := &m.grid.Columns[col]
			if c.Slot == "" {
				continue
			}
			before := -1
			for place := range c.Fits {
				s, ok := m.grid.Setting(bolting.Cell{Line: line, Column: col, Place: place})
				if !ok {
					before = -1
					continue
				}
				x, y := p.cell(&m.table.Rows[s.Row])
				from := x
				if before >= 0 {
					from = min(before+1, x)
				}
				sign, brush := "═", m.shadeOf(values, s.Row)
				if !m.table.Rows[s.Row].Within() {
					sign, brush = "×", outsideBrush
				}
				for ; from <= x; from++ {
					p.put(from, y, sign, brush)
				}
				before = x
			}
		}
	}
}

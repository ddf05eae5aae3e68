package tui

import (
	"math"
	"strings"

	"stanchion/holes/plane"
	"stanchion/model/units"
)

// heightLabels returns the labels of the height axis by line: with levels one each, else the
// current setting's, the ends, and round heights between them where there is room.
func (m Model) heightLabels(c chart) map[int]string {
	labels := map[int]string{}
	if c.levels != nil {
		for i, h := range c.levels {
			labels[i*c.every] = m.units.LengthFigure(h)
		}
		return labels
	}
	write := func(height float64) {
		y := c.line(height)
		for d := -1; d <= 1; d++ {
			if labels[y+d] != "" {
				return
			}
		}
		labels[y] = m.units.LengthFigure(height)
	}
	write(m.row().Height)
	write(c.high)
	write(c.low)
	unit := m.units.LengthSize()
	step := niceStep((c.high-c.low)/unit, c.h/3) * unit
	for at := math.Ceil(c.low/step) * step; at < c.high; at += step {
		write(at)
	}
	return labels
}

// niceStep returns the least of 1, 2, 5, 10, 20 … that divides a range into at
// most n parts.
func niceStep(span float64, n int) float64 {
	step := 1.0
	for i := 0; span/step > float64(max(n, 1)); i++ {
		step *= [3]float64{2, 2.5, 2}[i%3]
	}
	return step
}

// angleAxis labels the angle axis: with levels at each angle that settings have, else at its ends,
// below the current setting and at round angles.
func (m Model) angleAxis(c chart) string {
	line := []rune(strings.Repeat(" ", c.left+1+c.w))
	write := func(angle float64, text string) {
		t := []rune(text)
		from := min(max(c.left+1+c.column(angle)-len(t)/2, c.left+1), len(line)-len(t))
		for i := max(0, from-1); i < min(len(line), from+len(t)+1); i++ {
			if line[i] != ' ' {
				return // no room
			}
		}
		copy(line[from:], t)
	}
	here := m.row().Angle / plane.Deg
	write(here, units.Fixed(here, 1)+"°")
	if c.levels != nil {
		for i := range m.table.Rows {
			a := m.table.Rows[i].Angle / plane.Deg
			write(a, units.Fixed(a, 1))
		}
		return quietBrush.Paint(string(line))
	}
	write(c.lo, units.Fixed(c.lo, 1)+"°")
	write(c.hi, units.Fixed(c.hi, 1)+"°")
	step := niceStep(c.hi-c.lo, c.w/10)
	for at := math.Ceil(c.lo/step) * step; at < c.hi; at += step {
		write(at, units.Fixed(at, 0)+"°")
	}
	return quietBrush.Paint(string(line))
}

package tui

import (
	"math"
	"strings"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/choose"
)

// contours are the lines of equal values of a map: which value passes through which cell.
type contours struct {
	chart  chart
	values []float64
	at     [][]int // by value and line of the map: the column; -1 for none
}

// mostContours is how many lines of equal values are drawn at most.
const mostContours = 5

// sameChart reports whether contours were worked out for a chart.
func (k *contours) sameChart(c chart) bool {
	return k.chart.w == c.w && k.chart.h == c.h && k.chart.lo == c.lo && k.chart.hi == c.hi && k.chart.low == c.low && k.chart.high == c.high &&
		k.chart.every == c.every
}

// contourLines draws the lines of equal values that the painting asks for, at round values, and
// returns the line below the plot with the value of each. None runs past the wing's data or the
// stall.
func (m Model) contourLines(p *plot, values *painted) (below string) {
	axis := []rune(strings.Repeat("─", p.w))
	if paintings()[m.paint].lines && values.hi > values.lo {
		if values.contour == nil || !values.contour.sameChart(p.chart) {
			values.contour = m.workOutContours(p.chart, values)
		}
		for i, v := range values.contour.values {
			lowest := -1
			for y, x := range values.contour.at[i] {
				if x >= 0 {
					p.put(x, y, string(signEqual), limitBrush)
					lowest = x
				}
			}
			if lowest < 0 {
				continue
			}
			label := []rune(strings.TrimSpace(paintings()[m.paint].cell(m, m.row(), v)))
			from := min(max(lowest-len(label)/2, 0), p.w-len(label))
			clear := from >= 0
			for x := max(from-1, 0); clear && x < min(from+len(label)+1, p.w); x++ {
				clear = axis[x] == '─'
			}
			if clear {
				copy(axis[from:], label)
			}
		}
	}
	return string(axis)
}

// workOutContours finds where round values of the figure lie in a chart.
func (m Model) workOutContours(c chart, values *painted) *contours {
	by := paintings()[m.paint]
	k := &contours{chart: c}
	scale := m.shownScale(by)
	step := niceStep((values.hi-values.lo)*scale*1000, mostContours) / 1000 / scale
	for v := math.Ceil(values.lo/step) * step; v <= values.hi && len(k.values) < mostContours; v += step {
		k.values = append(k.values, v)
		k.at = append(k.at, make([]int, c.h))
	}
	row := model.Row{Position: &model.Position{Setting: &holes.Setting{}}}
	line := make([]float64, c.w)
	for y := range c.h {
		height := c.heightAt(y)
		for x := range line {
			angle := c.angleAt(x) * plane.Deg
			line[x] = math.NaN()
			if a := c.angleAt(x); a < c.lo || a > c.hi {
				continue
			}
			row.Position.Angle, row.Position.Height = angle, height
			row.Position.X = m.table.Rows[0].X // near enough with many settings: only moments hang on it
			near := &m.table.Rows[0]
			if len(m.table.Rows) <= fewSettings {
				near = &m.table.Rows[choose.Nearest(m.table, angle, height)]
				row.Position.X = near.X
			}
			m.table.Around(row.Position, near)
			row.Outcome = m.table.OutcomeAt(row.Position, height-m.car.RoofHeight)
			if row.Attack > m.table.StallAt(row.Position) {
				continue
			}
			line[x] = by.value(m, &row)
		}
		for i, v := range k.values {
			k.at[i][y] = -1
			for x := 1; x < c.w; x++ {
				a, b := line[x-1], line[x]
				if a <= v && v < b || b < v && v <= a {
					k.at[i][y] = x
					break
				}
			}
		}
	}
	return k
}

// shownScale is how much larger a painting's figure is on the screen than in the rows, so that round
// values are round on the screen.
func (m Model) shownScale(by painting) float64 {
	switch by.key {
	case "2":
		return 100
	case "1", "3":
		return 1 / m.units.ForceSize()
	}
	return 1
}

// wantedMargin is the stall margin that the car file wants; 0 when it wants none.
func (m Model) wantedMargin() float64 { return m.car.Limits.StallMargin.Or(0) }

// limitLines draws the top limit and the wanted stall margin.
func (m Model) limitLines(p *plot) {
	if margin := m.wantedMargin(); !math.IsNaN(m.table.Wing.Stall) {
		for y := range p.h {
			flow, ok := m.car.Flow.At((p.heightAt(y) - m.car.RoofHeight) / 1000)
			if !ok {
				continue
			}
			at := model.Position{X: m.table.Rows[0].X, Height: p.heightAt(y)}
			m.table.Around(&at, &m.table.Rows[0])
			angle := (m.table.StallAt(&at) - margin - flow.Angle) / plane.Deg
			if angle >= p.lo && angle <= p.hi {
				p.put(p.column(angle), y, string(signStall), limitBrush)
			}
		}
	}
	if top, ok := m.car.Limits.Top.Get(); ok {
		m.topLine(p, top)
	}
}

// topLine draws where the highest point of the wing reaches the top limit.
func (m Model) topLine(p *plot, top float64) {
	outline, _ := m.car.Wing.Outline()
	outline = plane.Hull(append(outline, m.car.Wing.PlateOutline()...))
	quarter := m.car.Wing.QuarterChord()
	for x := range p.w {
		angle := p.angleAt(x)
		if angle < p.lo || angle > p.hi {
			continue
		}
		sin, cos := math.Sincos(angle * plane.Deg)
		above := math.Inf(-1) // the highest point over the quarter chord
		for _, u := range outline {
			above = max(above, sin*(u.X-quarter.X)+cos*(u.Z-quarter.Z))
		}
		height := top - above
		if p.levels == nil {
			if height >= p.low && height <= p.high && p.free(x, p.line(height), 1) {
				p.put(x, p.line(height), string(signTop), limitBrush)
			}
			continue
		}
		for y := range p.h - 1 {
			if p.heightAt(y) >= height && height > p.heightAt(y+1) && p.free(x, y, 1) {
				p.put(x, y, string(signTop), limitBrush)
			}
		}
	}
}
